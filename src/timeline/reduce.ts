// Makes a timeline that shows something smaller and rounder: faults and openings that are not needed go, times become nominal,
// instants and lengths become round, it all ends soon after. Greedy, and so quick; each step taken makes the timeline strictly
// simpler, so that it ends. One more run for each try is what it costs: candidates are made one at a time, and their number has a limit.
import { dayMs, greatestOf, invariant, minuteMs } from '../base/index.js';
import { mostReductionSteps, type TimingRanges } from '../model/index.js';
import { plainerTimes, type Steady, timesCost } from './plainer-times.js';
import { type RoundedPart, roughness, rounderScenes } from './rounder.js';
import { type Scene, type Span, sceneParts, spansIn } from './scene.js';

/** What a timeline is to show, and what may be changed in it. */
export interface Reduction {
  /** Runs it: whether it still shows it. */
  readonly shows: (scene: Scene) => boolean;
  /** Whether it is within what may happen and leaves alone what must stay; asked before any run. */
  readonly allows: (scene: Scene) => boolean;
  /** What the device's times are chosen from. */
  readonly ranges: TimingRanges;
  readonly steady: Steady;
  /** Parts whose instants may become round one by one. */
  readonly rounded: readonly RoundedPart[];
  /** Of one run, in tries: a long timeline takes longer. */
  readonly effortOf?: (scene: Scene) => number;
  /** The most tries. */
  readonly mostTries: number;
}

/** What is left when no single step makes the timeline simpler, or when the tries are used up. */
export function reduced(scene: Scene, on: Reduction): Scene {
  let best = scene;
  let tries = 0;
  let steps = 0;
  const improve = (family: Family): boolean => {
    const costs = costOf(best, on);
    for (const candidate of family(best, on)) {
      if (tries >= on.mostTries) return false;
      if (!isLess(costOf(candidate, on), costs) || !on.allows(candidate)) continue;
      tries += on.effortOf?.(candidate) ?? 1;
      if (!on.shows(candidate)) continue;
      best = candidate;
      return true;
    }
    return false;
  };
  for (let isBetter = true; isBetter; ) {
    isBetter = false;
    for (const family of families) {
      for (; improve(family); steps += 1) {
        invariant(steps < mostReductionSteps, 'reduction has an end', { steps });
        isBetter = true;
      }
    }
  }
  return best;
}

type Family = (scene: Scene, on: Reduction) => Generator<Scene>;

/** A shorter timeline first: it makes every further try quicker. */
const families: readonly Family[] = [
  shorter,
  fewerParts,
  function* plainer(scene, { ranges, steady }) {
    for (const timing of plainerTimes(scene.timing, ranges, steady)) yield { ...scene, timing };
  },
  (scene, { rounded }) => rounderScenes(scene, rounded),
];

/** Least first: what a reader has to take in, then how odd the numbers are, then how long it all lasts. */
function costOf(scene: Scene, { ranges }: Reduction): readonly number[] {
  const { openings, lengthMs } = scene;
  const parts = sceneParts.reduce((sum, part) => sum + scene[part].length, 0);
  return [
    parts - openings.length,
    openings.length,
    timesCost(scene.timing, ranges),
    roughness(scene),
    lengthMs,
    lastMoveMs(scene),
    totalMs(scene),
  ];
}

/** Of all spans together. */
function totalMs(scene: Scene): number {
  const lengths = spansIn(scene).map(([from, to]) => (Number.isFinite(to) ? to - from : 0));
  return lengths.reduce((sum, ms) => sum + ms, 0);
}

function isLess(one: readonly number[], other: readonly number[]): boolean {
  for (const [index, cost] of one.entries()) {
    const against = other[index] ?? 0;
    if (cost !== against) return cost < against;
  }
  return false;
}

function lastMoveMs(scene: Scene): number {
  const ends = spansIn(scene).map(([from, to]) => (Number.isFinite(to) ? to : from));
  return Math.max(0, greatestOf([...ends, ...scene.resets.map(({ atMs }) => atMs)]));
}

/** Of many openings first a half, then a quarter, and so on; of the others the last one first. */
function* fewerParts(scene: Scene): Generator<Scene> {
  for (const part of sceneParts) {
    if (part === 'openings') continue;
    for (let index = scene[part].length - 1; index >= 0; index -= 1) {
      yield { ...scene, [part]: scene[part].toSpliced(index, 1) };
    }
  }
  const { openings } = scene;
  for (let size = Math.floor(openings.length / 2); size > 0; size = Math.floor(size / 2)) {
    for (let at = 0; at < openings.length; at += size) {
      yield { ...scene, openings: openings.toSpliced(at, size) };
    }
  }
  for (const [index, [fromMs]] of openings.entries()) {
    const next = openings[index + 1];
    if (next === undefined) break;
    // One opening for two that follow each other.
    const merged: Span = [fromMs, next[1]];
    yield { ...scene, openings: openings.toSpliced(index, 2, merged) };
  }
}

/** Lengths that a person would give a timeline. */
export const niceLengthsMs = [
  ...[10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720].map(
    (minutes) => minutes * minuteMs,
  ),
  ...[1, 2, 3, 4, 5, 6, 7, 10, 14, 21, 28, 42, 60, 90, 120, 180, 270].map((days) => days * dayMs),
];

function* shorter(scene: Scene): Generator<Scene> {
  const lastMs = lastMoveMs(scene);
  const days = Math.ceil((lastMs + 1) / dayMs);
  for (const lengthMs of [...niceLengthsMs, days * dayMs, (days + 1) * dayMs]) {
    if (lengthMs > lastMs && lengthMs < scene.lengthMs) yield { ...scene, lengthMs };
  }
}
