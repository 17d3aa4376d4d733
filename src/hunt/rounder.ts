// Counterexamples with rounder numbers: each instant and each length moved to whole hours, minutes or seconds.
import { trueMs } from '../base/index.js';
import type { Stretch, Trial } from './trial.js';

/** What a round number of milliseconds is a multiple of, the roundest first: a whole minute is round enough. */
const grainsMs = [60_000, 30_000, 10_000, 5_000, 1_000, 100, 10, 1];

/** A start at 0 is no rounder than one at a whole second: that the door opens with power-on is odd. */
const zeroRoughness = grainsMs.indexOf(1_000);

function roughnessOf(ms: number): number {
  if (ms === 0) return zeroRoughness;
  if (!Number.isFinite(ms)) return 0;
  return grainsMs.findIndex((grainMs) => ms % grainMs === 0);
}

/** How odd the numbers of a trial are: the sum over its instants and lengths. */
export function roughness(trial: Trial): number {
  const { door, outages, powerCuts, resetsMs, misreads } = trial;
  const stretches = [
    ...[...door, ...outages, ...powerCuts],
    ...misreads.map(({ fromMs, toMs }): Stretch => [fromMs, toMs]),
  ];
  const numbers = [...resetsMs, ...stretches.flatMap(([from, to]) => [from, to - from])];
  return numbers.reduce((sum, ms) => sum + roughnessOf(ms), 0);
}

/** Numbers nearby that are rounder, the roundest first, and lesser ones that are as round. */
function rounder(ms: number, leastMs: number): readonly number[] {
  if (!Number.isFinite(ms)) return [];
  const now = roughnessOf(ms);
  const neighbours = grainsMs.slice(0, now).flatMap((grainMs) => {
    const below = Math.floor(ms / grainMs) * grainMs;
    return [below, below + grainMs];
  });
  const grainMs = grainsMs[now] ?? 1;
  const half = Math.floor(ms / 2 / grainMs) * grainMs;
  const lesser = [grainMs, half, ms - 60 * grainMs, ms - 5 * grainMs, ms - grainMs];
  return [...neighbours, ...lesser].filter((candidate) => candidate >= leastMs && candidate !== ms);
}

/** Trials with one number rounder than it was. Only those that still are in order, and inside the timeline. */
export function* rounderTrials(trial: Trial): Generator<Trial> {
  yield* moved(trial);
  for (const key of ['door', 'outages', 'powerCuts'] as const) {
    for (const stretches of rounderStretches(trial[key])) {
      const ends = stretches.every(([from, to]) => from < trial.lengthMs && isInside(to, trial));
      if (ends) yield { ...trial, [key]: stretches };
    }
  }
  for (const [index, atMs] of trial.resetsMs.entries()) {
    for (const candidate of rounder(atMs, 0)) {
      const resetsMs = trial.resetsMs.with(index, candidate).toSorted((a, b) => a - b);
      if (new Set(resetsMs).size === resetsMs.length) yield { ...trial, resetsMs };
    }
  }
  const misreads = trial.misreads.map(({ fromMs, toMs }): Stretch => [fromMs, toMs]);
  for (const stretches of rounderStretches(misreads)) {
    yield {
      ...trial,
      misreads: trial.misreads.map((fault, index) => {
        const [fromMs, toMs] = stretches[index] ?? [fault.fromMs, fault.toMs];
        return { ...fault, fromMs: trueMs(fromMs), toMs: trueMs(toMs) };
      }),
    };
  }
}

function isInside(toMs: number, { lengthMs }: Trial): boolean {
  return !Number.isFinite(toMs) || toMs <= lengthMs;
}

function* rounderStretches(stretches: readonly Stretch[]): Generator<readonly Stretch[]> {
  for (const [index, [fromMs, toMs]] of stretches.entries()) {
    const lengthMs = toMs - fromMs;
    const rounded: Stretch[] = [
      ...rounder(fromMs, 0).map((from): Stretch => [from, from + lengthMs]),
      ...rounder(fromMs, 0).map((from): Stretch => [from, toMs]),
      ...rounder(lengthMs, 1).map((forMs): Stretch => [fromMs, fromMs + forMs]),
      ...rounder(fromMs, 0).flatMap((from) =>
        rounder(lengthMs, 1).map((forMs): Stretch => [from, from + forMs]),
      ),
    ];
    for (const candidate of rounded) {
      const changed = stretches.with(index, candidate);
      if (isInOrder(changed)) yield changed;
    }
  }
}

function isInOrder(stretches: readonly Stretch[]): boolean {
  return stretches.every(([fromMs, toMs], index) => {
    const nextMs = stretches[index + 1]?.[0] ?? Number.POSITIVE_INFINITY;
    return fromMs >= 0 && fromMs < toMs && (toMs < nextMs || index === stretches.length - 1);
  });
}

/** The whole course at another time, so that its first event comes a round time after power-on. */
function* moved(trial: Trial): Generator<Trial> {
  const { door, outages, powerCuts, resetsMs, misreads } = trial;
  const starts = [...door, ...outages, ...powerCuts].map(([fromMs]) => fromMs);
  const firstMs = Math.min(...starts, ...resetsMs, ...misreads.map(({ fromMs }) => fromMs));
  for (const targetMs of [60_000, 300_000, 600_000, 3_600_000]) {
    const byMs = firstMs - targetMs;
    if (byMs === 0) continue;
    const shift = ([fromMs, toMs]: Stretch): Stretch => [fromMs - byMs, toMs - byMs];
    yield {
      ...trial,
      door: door.map(shift),
      outages: outages.map(shift),
      powerCuts: powerCuts.map(shift),
      resetsMs: resetsMs.map((atMs) => atMs - byMs),
      misreads: misreads.map((fault) => ({
        ...fault,
        fromMs: trueMs(fault.fromMs - byMs),
        toMs: trueMs(fault.toMs - byMs),
      })),
    };
  }
}
