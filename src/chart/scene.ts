// What a picture is drawn from: a judged timeline in people's time.
import { cellAt, invariant } from '../base/index.js';
import type { Timeline, WatchFile } from '../scenarios/index.js';
import type { Trace } from '../sim/index.js';
import { type Explanation, type JudgedOpening, openAtEnd, type Verdict } from '../verdict/index.js';
import { spansOf, type World } from '../world/index.js';
import { type Calendar, calendarOf } from './calendar.js';

export interface ChartInput {
  readonly timeline: Timeline;
  readonly trace: Trace;
  readonly verdict: Verdict;
  readonly watchFile: WatchFile;
}

/** The leave-open with the worst detection latency. */
export interface WorstDelay {
  readonly opening: number;
  readonly fromMs: number;
  readonly deliveredMs: number;
  readonly delayMs: number;
}

export interface Scene extends ChartInput {
  readonly calendar: Calendar;
  readonly lengthMs: number;
  readonly worst: WorstDelay | null;
  /** Sentences of the explanations by `opening 3` or `alert 0`. */
  readonly sentences: ReadonlyMap<string, string>;
  /** The explanations by the same names. */
  readonly explained: ReadonlyMap<string, Explanation>;
}

/** @throws InvariantError when the verdict is not one on this trace. */
export function sceneOf(input: ChartInput, explanations: readonly Explanation[]): Scene {
  const { timeline, trace, verdict } = input;
  invariant(
    verdict.alerts.length === trace.alerts.length &&
      verdict.openings.count === timeline.world.openings.fromMs.length,
    'the verdict is on this trace and timeline',
    { alerts: [verdict.alerts.length, trace.alerts.length] },
  );
  return {
    ...input,
    timeline: { ...timeline, world: offWhenFlat(timeline.world, trace) },
    calendar: calendarOf(timeline.start, trace.lengthMs),
    lengthMs: trace.lengthMs,
    worst: worstOf(verdict),
    explained: new Map(
      explanations.map((one) => [`${one.subject.kind} ${one.subject.index}`, one]),
    ),
    sentences: new Map(
      explanations.map(({ subject, sentence }) => [`${subject.kind} ${subject.index}`, sentence]),
    ),
  };
}

/** A device without charge is off: a picture shows that as it shows lost power; and people reset it. */
export function offWhenFlat(given: World, { flat, answers }: Trace): World {
  const resetsMs = Float64Array.from(
    new Set([...given.resetsMs, ...answers.map(({ atMs }) => atMs)]),
  ).sort((a, b) => a - b);
  const world = answers.length === 0 ? given : { ...given, resetsMs };
  if (flat.length === 0) return world;
  const { fromMs, toMs } = world.powerLost;
  const lost = Array.from(fromMs, (from, index): [number, number] => [from, cellAt(toMs, index)]);
  const off = flat.map((span): [number, number] => [span.fromMs, span.toMs]);
  return { ...world, powerLost: spansOf([...lost, ...off]) };
}

function worstOf({ summary, openings }: Verdict): WorstDelay | null {
  for (const opening of openings.leaveOpens) {
    const { delayMs, fromMs } = openings.at(opening);
    if (delayMs !== null && delayMs === summary.worstDelayMs) {
      return { opening, fromMs, deliveredMs: fromMs + delayMs, delayMs };
    }
  }
  return null;
}

/** Indices of the leave-opens, of unknown openings, and of one at the end that may still become a leave-open, ascending. */
export function notableOpenings({
  verdict: { openings },
}: Pick<Scene, 'verdict'>): readonly number[] {
  const { leaveOpens, count } = openings;
  const isLeft = openAtEnd(openings)?.outcome !== 'undecided' || leaveOpens.at(-1) === count - 1;
  const judged = isLeft ? leaveOpens : [...leaveOpens, count - 1];
  if (openings.unknown.length === 0) return judged;
  return [...judged, ...openings.unknown].sort((a, b) => a - b);
}

/** The instant at which an opening, as far as the timeline shows it, ends. */
export function endOf(opening: JudgedOpening): number {
  return opening.fromMs + opening.durationMs;
}
