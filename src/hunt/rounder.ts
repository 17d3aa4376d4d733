// Counterexamples with rounder numbers: each instant and each length moved to whole hours, minutes or seconds.
import { dayMs, hourMs, minuteMs, trueMs } from '../base/index.js';
import type { Stretch, Trial } from './trial.js';

/** What a round number of milliseconds is a multiple of, the roundest first: a whole minute is round enough. */
const grainsMs = [60_000, 30_000, 10_000, 5_000, 1_000, 100, 10, 1];

/** A start at 0 is no rounder than one at a whole second: that the door opens with power-on is odd. */
const zeroRoughness = grainsMs.indexOf(1_000);

/** Of what takes more than a day, whole hours are rounder than whole minutes. */

function roughnessOf(ms: number): number {
  if (ms === 0) return zeroRoughness;
  if (!Number.isFinite(ms)) return 0;
  const grain = grainsMs.findIndex((grainMs) => ms % grainMs === 0);
  return ms > dayMs && ms % hourMs !== 0 ? grain + 1 : grain;
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
  const now = grainsMs.findIndex((grainMs) => ms % grainMs === 0);
  const coarse = ms > dayMs && ms % hourMs !== 0 ? [dayMs, hourMs] : [];
  const neighbours = [...coarse, ...grainsMs.slice(0, now)].flatMap((grainMs) => {
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
  yield* squeezed(trial);
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

/** What a quiet stretch may be cut down to. */
const gapsMs = [
  ...[1, 10, 60, 180, 360, 720].map((minutes) => minutes * minuteMs),
  ...[1, 2, 3, 5, 7, 10, 14, 21, 28, 42, 60, 90].map((days) => days * dayMs),
];

/** The whole course at another time, so that its first event comes a round time after power-on. */
function* moved(trial: Trial): Generator<Trial> {
  const [firstMs] = instantsOf(trial);
  if (firstMs === undefined) return;
  const days = gapsMs.filter((ms) => ms > 60 * minuteMs && ms < firstMs);
  for (const targetMs of [minuteMs, 5 * minuteMs, 10 * minuteMs, 60 * minuteMs, ...days]) {
    if (targetMs !== firstMs) yield earlier(trial, { fromMs: firstMs, byMs: firstMs - targetMs });
  }
}

/** Less time between one event and the next. */
function* squeezed(trial: Trial): Generator<Trial> {
  const instants = instantsOf(trial);
  for (const [index, atMs] of instants.entries()) {
    const gapMs = atMs - (instants[index - 1] ?? atMs);
    const whole = Math.floor(gapMs / minuteMs);
    const cuts = gapsMs.filter((ms) => ms < gapMs).map((ms) => whole - Math.ceil(ms / minuteMs));
    const few = [60, 10, 1];
    const days = whole > 1_440 ? [1_440, 360] : [];
    for (const minutes of new Set([...cuts, Math.floor(whole / 2), ...days, ...few])) {
      if (minutes < 1 || minutes >= whole) continue;
      yield earlier(trial, { fromMs: atMs, byMs: minutes * minuteMs });
    }
  }
}

/** Every instant at which something changes, ascending. */
function instantsOf({ door, outages, powerCuts, resetsMs, misreads }: Trial): readonly number[] {
  const stretches = [...door, ...outages, ...powerCuts].flat().filter(Number.isFinite);
  const faults = misreads.flatMap(({ fromMs, toMs }) => [fromMs, toMs]);
  return [...new Set([...stretches, ...resetsMs, ...faults])].sort((a, b) => a - b);
}

/** Everything from an instant on happens sooner. */
function earlier(
  trial: Trial,
  { fromMs, byMs }: { readonly fromMs: number; readonly byMs: number },
): Trial {
  const at = (ms: number): number => (ms >= fromMs ? ms - byMs : ms);
  const both = ([from, to]: Stretch): Stretch => [at(from), at(to)];
  return {
    ...trial,
    door: trial.door.map(both),
    outages: trial.outages.map(both),
    powerCuts: trial.powerCuts.map(both),
    resetsMs: trial.resetsMs.map(at),
    misreads: trial.misreads.map((fault) => ({
      ...fault,
      fromMs: trueMs(at(fault.fromMs)),
      toMs: trueMs(at(fault.toMs)),
    })),
  };
}
