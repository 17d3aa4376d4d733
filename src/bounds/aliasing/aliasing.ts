// Brief openings that together look like one left open: the fewest, with a run that shows the false alarm.
import { durationText, minuteMs, numberText, roundedDurationText } from '../../base/index.js';
import {
  calmEnvironment,
  type Environment,
  mostAliasingStates,
  mostTimedStates,
} from '../../model/index.js';
import type { Scene, Span } from '../../timeline/index.js';
import type { Aliasing, Unknown, Witness } from '../answer.js';
import { modelOf } from '../bounds.js';
import { replay } from '../evidence/replay.js';
import { simplified, worldOf } from '../evidence/scene.js';
import type { BoundsQuestion } from '../question.js';
import { timingOf } from '../run-world.js';
import { type Model, type Step, stepsOf } from '../track.js';
import { unlessOutgrown } from '../visited.js';
import { type Run, runAlong } from '../witness.js';
import { type Chain, type Fewest, fewestOpenings } from './fewest.js';

export interface AliasingAnswer {
  readonly aliasing: Aliasing | null;
  readonly proof: string | null;
  readonly witness: Witness | null;
  /** Set where the fewest were found and no run shows that they are enough. */
  readonly isShown: boolean;
  readonly unknown: Unknown | null;
  readonly states: number;
}

const nothing: AliasingAnswer = {
  aliasing: null,
  proof: null,
  witness: null,
  isShown: true,
  unknown: null,
  states: 0,
};

/** @param mostStates the most states of its search; default: the usual limit. */
export function aliasingOf(
  question: BoundsQuestion,
  mostStates = mostAliasingStates,
): AliasingAnswer {
  const { leaveOpenAfterMs } = question.judge;
  if (leaveOpenAfterMs <= 1) {
    const proof = 'no brief opening exists: even one of a millisecond counts as left open';
    return { ...nothing, proof };
  }
  // Without faults: those that the environment allows can make fewer or sooner openings enough.
  const model = modelOf({ ...question, environment: calmEnvironment });
  const found = fewestIn(model, leaveOpenAfterMs, mostStates);
  if (found === null) {
    const sentence =
      'the search for false alarms met more states than its limit, so it is not known how many brief openings can look like one left open';
    return {
      ...nothing,
      unknown: { bounds: ['aliasing'], mostStates, sentence },
    };
  }
  const { states } = found.fewest;
  if (found.fewest.alarm === null) {
    const proof =
      `the search followed every way to open the door for less than ${durationText(leaveOpenAfterMs)} at a time ` +
      `through all ${numberText(states)} states that this can reach: none decides an alert`;
    return { ...nothing, proof, states };
  }
  const { openings, chain } = found.fewest.alarm;
  return { ...shown(question, found.model, { openings, chain }), states };
}

function fewestIn(
  model: Model,
  leaveOpenAfterMs: number,
  mostStates: number,
): { readonly model: Model; readonly fewest: Fewest } | null {
  // A low-battery message only makes a gap between two checks longer, which no brief opening has a use for.
  const timed: Model = { ...model, warnings: 'never' };
  const free: Model = { ...timed, heartbeats: 'free' };
  const beats = model.times.heartbeatMs !== Number.POSITIVE_INFINITY;
  const ways = beats
    ? ([
        [timed, Math.min(mostTimedStates, mostStates)],
        [free, mostStates],
      ] as const)
    : ([[timed, mostStates]] as const);
  for (const [way, most] of ways) {
    const fewest = unlessOutgrown(
      () => fewestOpenings(way, leaveOpenAfterMs, most),
      () => null,
    );
    if (fewest !== null) return { model: way, fewest };
  }
  return null;
}

function shown(
  question: BoundsQuestion,
  model: Model,
  { openings, chain }: { readonly openings: number; readonly chain: Chain },
): AliasingAnswer {
  const run = runAlong(model, stepsAlong(chain), 'least');
  const scene = run === null ? null : sceneOf(question, model, run);
  const shows = (candidate: Scene): boolean => isFalseAlarm(question, candidate, openings);
  if (scene === null || !shows(scene)) {
    const withinMs = run === null ? 0 : run.endMs - (doorOf(run)[0]?.[0] ?? 0);
    const sentence = sentenceFor(openings, withinMs, question.environment);
    const aliasing = { openings, withinMs, sentence };
    return { ...nothing, aliasing, isShown: false };
  }
  const experiment = worldOf(simplified(question, scene, shows));
  const { alerts, opening, decidedAfterMs, deliveredAfterMs } = replay(question, experiment);
  const firstMs = experiment.world.openings.fromMs[0] ?? 0;
  const withinMs = (alerts[0]?.decidedMs ?? 0) - firstMs;
  const sentence = sentenceFor(openings, withinMs, question.environment);
  const witness: Witness = {
    bound: 'aliasing',
    sentence,
    experiment,
    opening,
    decidedAfterMs,
    deliveredAfterMs,
  };
  return { ...nothing, aliasing: { openings, withinMs, sentence }, witness };
}

function sentenceFor(openings: number, withinMs: number, environment: Environment): string {
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = environment;
  const faults = [longestOutageMs, powerLosses, resets, longestChatterMs];
  const isCalm = faults.every((some) => some === 0);
  const calmly =
    isCalm || (openings === 1 && withinMs === 0) ? '' : 'even when nothing goes wrong, ';
  if (openings > 1) {
    const within = roundedDurationText(withinMs, 'at most');
    return `${calmly}${numberText(openings)} brief openings within ${within} are enough for a false alarm`;
  }
  const soonest = roundedDurationText(withinMs, 'at least');
  const when =
    withinMs === 0 ? 'as soon as the door opens' : `at the soonest ${soonest} after the door opens`;
  return `${calmly}a single brief opening is enough for a false alarm, ${when}`;
}

function stepsAlong(chain: Chain): readonly Step[] {
  const links: (readonly Step[])[] = [];
  for (let link: Chain | null = chain; link !== null; link = link.earlier) {
    links.push(stepsOf(link.steps));
  }
  return links.reverse().flat();
}

/** The openings of a run; the last one ends as soon as it has been seen. */
function doorOf({ moments, endMs }: Run): readonly Span[] {
  const spans: Span[] = [];
  let sinceMs: number | null = null;
  const shut = (atMs: number): void => {
    if (sinceMs !== null) spans.push([sinceMs, atMs]);
    sinceMs = null;
  };
  for (const { atMs, moment } of moments) {
    if (moment === 'door shuts') shut(atMs);
    if (moment === 'door shuts next') shut(atMs + 1);
    if (moment === 'door opens') sinceMs = atMs;
  }
  shut(endMs + 1);
  return spans;
}

const noFaults: readonly never[] = [];

function sceneOf(question: BoundsQuestion, model: Model, run: Run): Scene | null {
  const door = doorOf(run);
  const firstMs = door[0]?.[0];
  if (firstMs === undefined) return null;
  // The first opening begins on a whole minute.
  const powerOnAtMs = Math.ceil(firstMs / minuteMs) * minuteMs - firstMs;
  const endMs = run.endMs + powerOnAtMs + model.times.connectMs.most + 1_000;
  return {
    lengthMs: Math.ceil(endMs / minuteMs) * minuteMs,
    powerOnAtMs,
    openings: door.map(([from, to]): Span => [from + powerOnAtMs, to + powerOnAtMs]),
    networkDown: noFaults,
    powerLost: noFaults,
    batteryLow: noFaults,
    resets: noFaults,
    contactFaults: noFaults,
    timing: timingOf(model, run, question.timing),
  };
}

/** The first alert is false, and belongs to the last of these brief openings. */
function isFalseAlarm(question: BoundsQuestion, scene: Scene, openings: number): boolean {
  const { leaveOpenAfterMs } = question.judge;
  const { length } = scene.openings;
  if (length !== openings) return false;
  if (scene.openings.some(([from, to]) => to - from >= leaveOpenAfterMs)) return false;
  const { world } = worldOf(scene);
  if (world.openings.fromMs.length !== openings) return false;
  const [first] = replay(question, worldOf(scene)).alerts;
  return first?.kind === 'false' && first.opening === openings - 1;
}
