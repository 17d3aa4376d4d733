// Makes a counterexample smaller and rounder by hand, after shrinking: faults and openings that are not needed go,
// times become nominal, instants and lengths become round, the timeline ends soon after. Greedy, and so quick; each
// step taken makes the trial strictly simpler, and so it ends.

import { dayMs, greatestOf, invariant, minuteMs } from '../base/index.js';
import { mostSimplified } from '../model/index.js';
import { plainerTimes, timesCost } from './plainer-times.js';
import type { HuntQuestion } from './question.js';
import { roughness, rounderTrials } from './rounder.js';
import { breachOf } from './run-trial.js';
import { clipped, type Stretch, type Trial } from './trial.js';

/** Simplification ends by itself long before; reaching this means that it does not. */
const mostSteps = 10_000;

/** Of a step in making a trial smaller, against limits on their number: a long timeline takes longer to run. */
export function effortOf({ lengthMs }: Trial): number {
  return 1 + Math.floor(lengthMs / (4 * dayMs));
}

/** A trial that breaks the same property, and that no single step makes simpler. */
export function simplest(question: HuntQuestion, found: Trial): Trial {
  const property = breachOf(question, found)?.property;
  let trial = found;
  let tried = 0;
  for (let steps = 0; tried < mostSimplified; steps += 1) {
    invariant(steps < mostSteps, 'simplification has an end', { steps });
    const better = firstBetter(trial);
    if (better === null) return trial;
    trial = better;
  }
  return trial;

  function firstBetter(from: Trial): Trial | null {
    const costs = costOf(question, from);
    for (const candidate of candidatesOf(question, from)) {
      if (!isLess(costOf(question, candidate), costs)) continue;
      tried += effortOf(candidate);
      if (breachOf(question, candidate)?.property === property) return candidate;
      if (tried >= mostSimplified) return null;
    }
    return null;
  }
}

/** As much of the timeline as the same breach needs, and no more of it. */
export function shortest(question: HuntQuestion, found: Trial): Trial {
  const property = breachOf(question, found)?.property;
  for (const lengthMs of niceLengthsMs) {
    if (lengthMs >= found.lengthMs) break;
    const candidate = clipped({ ...found, lengthMs });
    if (breachOf(question, candidate)?.property === property) return candidate;
  }
  return found;
}

function* candidatesOf(question: HuntQuestion, trial: Trial): Generator<Trial> {
  // A shorter timeline first: it makes every further try quicker.
  yield* shorter(trial);
  yield* fewerParts(trial);
  for (const timing of plainerTimes(trial.timing, question.timing)) yield { ...trial, timing };
  yield* rounderTrials(trial);
}

/** Least first: what a reader has to take in, then how odd the numbers are, then how long it all lasts. */
function costOf(question: HuntQuestion, trial: Trial): readonly number[] {
  const { door, outages, powerCuts, resetsMs, misreads, lengthMs } = trial;
  const faults = outages.length + powerCuts.length + resetsMs.length + misreads.length;
  const times = timesCost(trial.timing, question.timing);
  return [
    faults,
    door.length,
    times,
    roughness(trial),
    lengthMs,
    lastMoveMs(trial),
    totalMs(trial),
  ];
}

/** Of all stretches together. */
function totalMs({ door, outages, powerCuts, misreads }: Trial): number {
  const stretches = [...door, ...outages, ...powerCuts];
  const lengths = [
    ...stretches.map(([fromMs, toMs]) => (Number.isFinite(toMs) ? toMs - fromMs : 0)),
    ...misreads.map(({ fromMs, toMs }) => toMs - fromMs),
  ];
  return lengths.reduce((sum, ms) => sum + ms, 0);
}

function isLess(one: readonly number[], other: readonly number[]): boolean {
  for (const [index, cost] of one.entries()) {
    const against = other[index] ?? 0;
    if (cost !== against) return cost < against;
  }
  return false;
}

function lastMoveMs({ door, outages, powerCuts, resetsMs, misreads }: Trial): number {
  const ends = [...door, ...outages, ...powerCuts].map(([fromMs, toMs]) =>
    Number.isFinite(toMs) ? toMs : fromMs,
  );
  return Math.max(0, greatestOf([...ends, ...resetsMs, ...misreads.map(({ toMs }) => toMs)]));
}

function without<T>(list: readonly T[], index: number): T[] {
  return list.filter((_, other) => other !== index);
}

function* fewerParts(trial: Trial): Generator<Trial> {
  const { door, outages, powerCuts, resetsMs, misreads } = trial;
  for (const index of misreads.keys()) yield { ...trial, misreads: without(misreads, index) };
  for (const index of powerCuts.keys()) yield { ...trial, powerCuts: without(powerCuts, index) };
  for (const index of resetsMs.keys()) yield { ...trial, resetsMs: without(resetsMs, index) };
  for (const index of outages.keys()) yield { ...trial, outages: without(outages, index) };
  // Of many openings first a half, then a quarter, and so on.
  for (let size = Math.floor(door.length / 2); size > 1; size = Math.floor(size / 2)) {
    for (let at = 0; at < door.length; at += size) {
      yield { ...trial, door: [...door.slice(0, at), ...door.slice(at + size)] };
    }
  }
  for (const index of door.keys()) yield { ...trial, door: without(door, index) };
  for (const index of door.keys()) {
    const merged = joined(door, index);
    if (merged !== null) yield { ...trial, door: merged };
  }
}

/** One opening for two that follow each other. */
function joined(door: readonly Stretch[], index: number): Stretch[] | null {
  const one = door[index];
  const next = door[index + 1];
  if (one === undefined || next === undefined) return null;
  return [...door.slice(0, index), [one[0], next[1]], ...door.slice(index + 2)];
}

/** Lengths that a person would give a timeline. */
const niceLengthsMs = [
  ...[10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720].map(
    (minutes) => minutes * minuteMs,
  ),
  ...[1, 2, 3, 4, 5, 6, 7, 10, 14, 21, 28, 42, 60, 90, 120, 180, 270].map((days) => days * dayMs),
];

function* shorter(trial: Trial): Generator<Trial> {
  const lastMs = lastMoveMs(trial);
  const days = Math.ceil((lastMs + 1) / dayMs);
  for (const lengthMs of [...niceLengthsMs, days * dayMs, (days + 1) * dayMs]) {
    if (lengthMs > lastMs && lengthMs < trial.lengthMs) yield { ...trial, lengthMs };
  }
}
