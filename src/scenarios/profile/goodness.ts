// How far off a fit is (Kolmogorov–Smirnov distance), and how far off chance alone leaves one whose parameters were
// fitted to the same numbers. Fitting shrinks the distance, so the plain limit 1.36/√n would hardly ever reject
// (Lilliefors 1967). The limits here come from a parametric bootstrap: samples of the fitted kind, each fitted again.
// A lognormal only shifts and stretches in the logarithm, an exponential only stretches: one table for each n is enough.
import { cellAt, randomStream } from '../../base/index.js';
import { normalShare } from './normal-share.js';
import { exponential, logarithm } from './portable-math.js';
import { normalsFrom } from './visit-draws.js';

export type FittedKind = 'lognormal' | 'exponential';

const samples = 1_000;
/** From here on the limit falls with 1/√n, as it does for all large samples. */
const mostSampled = 400;

const known = new Map<string, number>();

/** The distance that 95 of 100 samples of the fitted kind stay below, each measured from its own fit. */
export function chanceDistance(kind: FittedKind, count: number, share = 0.95): number {
  const sampled = Math.min(count, mostSampled);
  const key = `${kind} ${String(sampled)} ${String(share)}`;
  const distances = known.get(key) ?? limitOf(kind, sampled, share);
  known.set(key, distances);
  return distances * Math.sqrt(sampled / count);
}

function limitOf(kind: FittedKind, count: number, share: number): number {
  const stream = randomStream('goodness of fit', kind, count);
  const normals = normalsFrom(stream);
  const distances = new Float64Array(samples);
  for (let sample = 0; sample < samples; sample += 1) {
    const values = Float64Array.from({ length: count }, () =>
      kind === 'lognormal' ? normals.next() : -logarithm(1 - stream.unit()),
    ).sort((a, b) => a - b);
    distances[sample] = distanceOf(values, shareOf(kind, values));
  }
  distances.sort((a, b) => a - b);
  return cellAt(distances, Math.ceil(share * samples) - 1);
}

/** The share of the fitted distribution below a value; for a lognormal the values are logarithms. */
export function shareOf(kind: FittedKind, values: Float64Array): (value: number) => number {
  const count = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  if (kind === 'exponential') {
    return (value) => 1 - exponential(Math.max(-700, -value / mean));
  }
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const sigma = Math.sqrt(squares / Math.max(1, count - 1));
  return (value) => normalShare((value - mean) / sigma);
}

/** @param values ascending. */
export function distanceOf(values: Float64Array, share: (value: number) => number): number {
  let worst = 0;
  for (let index = 0; index < values.length; index += 1) {
    const here = share(cellAt(values, index));
    const [before, after] = [index / values.length, (index + 1) / values.length];
    worst = Math.max(worst, here - before, after - here);
  }
  return worst;
}
