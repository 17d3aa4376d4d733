// Draws from the distributions of a usage profile.

import { InvariantError, itemAt, type RandomStream } from '../../base/index.js';
import { monthMs } from '../../model/index.js';
import type { DurationDistribution } from '../types.js';
import { exponential, logarithm } from './portable-math.js';

/** Whole milliseconds, at least one. */
export function drawDuration(distribution: DurationDistribution, stream: RandomStream): number {
  return Math.min(monthMs, Math.max(1, Math.round(drawnMs(distribution, stream))));
}

function drawnMs(distribution: DurationDistribution, stream: RandomStream): number {
  switch (distribution.kind) {
    case 'fixed':
      return distribution.ms;
    case 'drawn':
      return itemAt(distribution.ms, stream.whole(0, distribution.ms.length - 1));
    case 'exponential':
      return distribution.meanMs * -logarithm(1 - stream.unit());
    case 'lognormal': {
      const exponent = distribution.sigma * drawNormal(stream);
      return distribution.medianMs * exponential(Math.min(40, Math.max(-40, exponent)));
    }
  }
}

/** Standard normal, by the polar method: of the points drawn, the first within the unit circle. */
function drawNormal(stream: RandomStream): number {
  for (let tries = 0; tries < 1_000; tries += 1) {
    const x = 2 * stream.unit() - 1;
    const y = 2 * stream.unit() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * logarithm(square)) / square);
  }
  throw new InvariantError('no point fell into the unit circle', {});
}

/** How many of independent events with this mean number happen: Poisson, by walking up its distribution. */
export function drawCount(mean: number, stream: RandomStream): number {
  const most = Math.ceil(mean * 10 + 100);
  const level = stream.unit();
  let probability = exponential(-mean);
  let reached = probability;
  let count = 0;
  while (level >= reached && count < most) {
    count += 1;
    probability *= mean / count;
    reached += probability;
  }
  return count;
}
