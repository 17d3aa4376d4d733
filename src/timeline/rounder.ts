// Timelines with rounder numbers: each instant and each length moved to whole hours, minutes or seconds.
import { dayMs, hourMs, minuteMs, trueMs } from '../base/index.js';
import { faultSpans, instantsIn, type Scene, type Span, shiftedFrom, spansIn } from './scene.js';

/** What a round number of milliseconds is a multiple of, the roundest first: a whole minute is round enough. */
const grainsMs = [60_000, 30_000, 10_000, 5_000, 1_000, 100, 10, 1];

/** A start at 0 is no rounder than one at a whole second: that the door opens with power-on is odd. */
const zeroRoughness = grainsMs.indexOf(1_000);

function roughnessOf(ms: number): number {
  if (ms === 0) return zeroRoughness;
  if (!Number.isFinite(ms)) return 0;
  const grain = grainsMs.findIndex((grainMs) => ms % grainMs === 0);
  // Of what takes more than a day, whole hours are rounder than whole minutes.
  return ms > dayMs && ms % hourMs !== 0 ? grain + 1 : grain;
}

/** How odd the numbers of a timeline are: the sum over its instants and lengths. */
export function roughness(scene: Scene): number {
  const resets = scene.resets.map(({ atMs }) => atMs);
  const numbers = [...resets, ...spansIn(scene).flatMap(([from, to]) => [from, to - from])];
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

/** What can be moved to round instants one at a time. */
export type RoundedPart = 'openings' | 'networkDown' | 'powerLost' | 'resets' | 'contactFaults';

/** Timelines with one number rounder than it was. Only those that still are in order, and inside the timeline. */
export function* rounderScenes(scene: Scene, parts: readonly RoundedPart[]): Generator<Scene> {
  yield* moved(scene);
  yield* squeezed(scene);
  for (const part of parts) {
    if (part === 'resets') yield* rounderResets(scene);
    else if (part === 'contactFaults') yield* rounderFaults(scene);
    else {
      for (const spans of rounderSpans(scene[part])) {
        const ends = spans.every(([from, to]) => from < scene.lengthMs && isInside(to, scene));
        if (ends) yield { ...scene, [part]: spans };
      }
    }
  }
}

function* rounderResets(scene: Scene): Generator<Scene> {
  for (const [index, reset] of scene.resets.entries()) {
    for (const atMs of rounder(reset.atMs, 0)) {
      const resets = scene.resets
        .with(index, { ...reset, atMs })
        .toSorted((a, b) => a.atMs - b.atMs);
      const instants = new Set(resets.map((one) => one.atMs));
      if (instants.size === resets.length) yield { ...scene, resets };
    }
  }
}

function* rounderFaults(scene: Scene): Generator<Scene> {
  for (const spans of rounderSpans(faultSpans(scene))) {
    const contactFaults = scene.contactFaults.map((fault, index) => {
      const [fromMs, toMs] = spans[index] ?? [fault.fromMs, fault.toMs];
      return { ...fault, fromMs: trueMs(fromMs), toMs: trueMs(toMs) };
    });
    yield { ...scene, contactFaults };
  }
}

function isInside(toMs: number, { lengthMs }: Scene): boolean {
  return !Number.isFinite(toMs) || toMs <= lengthMs;
}

function* rounderSpans(spans: readonly Span[]): Generator<readonly Span[]> {
  for (const [index, span] of spans.entries()) {
    for (const candidate of rounderSpan(span)) {
      const changed = spans.with(index, candidate);
      if (isInOrder(changed)) yield changed;
    }
  }
}

function* rounderSpan([fromMs, toMs]: Span): Generator<Span> {
  const lengthMs = toMs - fromMs;
  const starts = rounder(fromMs, 0);
  const lengths = rounder(lengthMs, 1);
  for (const from of starts) yield [from, from + lengthMs];
  for (const from of starts) yield [from, toMs];
  for (const forMs of lengths) yield [fromMs, fromMs + forMs];
  for (const from of starts) for (const forMs of lengths) yield [from, from + forMs];
}

function isInOrder(spans: readonly Span[]): boolean {
  return spans.every(([fromMs, toMs], index) => {
    const nextMs = spans[index + 1]?.[0] ?? Number.POSITIVE_INFINITY;
    return fromMs >= 0 && fromMs < toMs && (toMs < nextMs || index === spans.length - 1);
  });
}

/** What a quiet stretch may be cut down to. */
const gapsMs = [
  ...[1, 10, 60, 180, 360, 720].map((minutes) => minutes * minuteMs),
  ...[1, 2, 3, 5, 7, 10, 14, 21, 28, 42, 60, 90].map((days) => days * dayMs),
];

/** All of it at another time, so that its first event comes a round time after power-on. */
function* moved(scene: Scene): Generator<Scene> {
  const [firstMs] = instantsIn(scene);
  if (firstMs === undefined) return;
  const days = gapsMs.filter((ms) => ms > 60 * minuteMs && ms < firstMs);
  for (const targetMs of [minuteMs, 5 * minuteMs, 10 * minuteMs, 60 * minuteMs, ...days]) {
    if (targetMs !== firstMs) yield shiftedFrom(scene, firstMs, targetMs - firstMs);
  }
}

/** Less time between one event and the next. */
function* squeezed(scene: Scene): Generator<Scene> {
  const instants = instantsIn(scene);
  for (const [index, atMs] of instants.entries()) {
    const gapMs = atMs - (instants[index - 1] ?? atMs);
    const whole = Math.floor(gapMs / minuteMs);
    const cuts = gapsMs.filter((ms) => ms < gapMs).map((ms) => whole - Math.ceil(ms / minuteMs));
    const few = [60, 10, 1];
    const days = whole > 1_440 ? [1_440, 360] : [];
    for (const minutes of new Set([...cuts, Math.floor(whole / 2), ...days, ...few])) {
      if (minutes < 1 || minutes >= whole) continue;
      yield shiftedFrom(scene, atMs, -minutes * minuteMs);
    }
  }
}
