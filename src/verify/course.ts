// A bound is reached: one concrete course of the device, replayed by the simulator, within what the environment can do
// and the times that the device can take.
import { ppm, trueMs } from '../base/index.js';
import { simulate, type Trace } from '../sim/index.js';
import {
  type DeviceTiming,
  idealContactEdges,
  spansOf,
  type VaryingMs,
  type World,
  withFaults,
} from '../world/index.js';
import { refuseChanged } from './checksum.js';
import type { Course } from './format.js';
import { refuse } from './refusal.js';
import { longestMs, type Rules } from './rules.js';
import type { Span } from './zone.js';

const endless = Number.POSITIVE_INFINITY;

/** What a course is to come to, in milliseconds from the start of the opening. */
export interface Goal {
  /** `rest`: nothing happens before the opening. */
  readonly from: 'rest' | 'any state';
  /** The opening's first alert decided, its own alert delivered, or the device awake for ever without any. */
  readonly what: 'decision' | 'delivery' | 'hold';
  /** Null for a hold. */
  readonly afterMs: number | null;
}

/** Replays a course. @throws RefusedError when it is impossible, or does not come to its goal. */
export function refuseCourse(rules: Rules, course: Course, goal: Goal, place: string): void {
  refuseChanged(course, place);
  refuseOutside(limitsOf(rules, course), place);
  const { program, sleeps } = rules;
  const timing = timingOf(rules, course);
  const trace = simulate({ program, timing, world: worldOf(course), seed: '' });
  const slept = trace.wakes.flatMap(({ sleep }) => (sleep === null ? [] : [sleep]));
  refuseOutside(
    slept.map(({ lengthMs, interval }) => ['sleepsMs', lengthMs, sleeps[interval]]),
    place,
  );
  if (goal.from === 'rest' && !isAtRest(rules, course, trace)) {
    refuse(place, 'the opening does not meet the device at rest');
  }
  const own = trace.alerts.filter(({ decidedMs }) => decidedMs >= course.opensAtMs);
  const delivered = own.find(({ deliveredMs }) => deliveredMs !== null);
  const atMs = (goal.what === 'delivery' ? delivered?.deliveredMs : own[0]?.decidedMs) ?? null;
  const found = atMs === null ? null : atMs - course.opensAtMs;
  const holds = goal.what !== 'hold' || trace.wakes.at(-1)?.holds === true;
  if (found === goal.afterMs && holds) return;
  refuse(place, 'this course does not come to the bound', { found, expected: goal.afterMs });
}

/** The door moves, the network, the power and the contact fail as the course says. */
function worldOf(course: Course): World {
  const openings = spansOf([...course.doorOpenMs, [course.opensAtMs, endless]]);
  const faults = course.readsShutMs.map(([from, to]) => ({
    fromMs: trueMs(from),
    toMs: trueMs(to),
    reads: { kind: 'stuck', at: 'shut' } as const,
  }));
  return {
    lengthMs: trueMs(course.lengthMs),
    openings,
    contact: withFaults(idealContactEdges(openings), faults, ''),
    networkDown: spansOf(course.networkDownMs),
    powerLost: spansOf(course.powerLostMs),
    resetsMs: Float64Array.from(course.resetsMs),
    powerOnAtMs: trueMs(0),
  };
}

function timingOf({ times }: Rules, { bootsMs, connectsMs, sleepsMs }: Course): DeviceTiming {
  const { least, most } = times.clockErrorPpm;
  const listed = (ms: readonly number[], alwaysMs: number): VaryingMs =>
    ms.length === 0
      ? { kind: 'fixed', ms: trueMs(alwaysMs) }
      : { kind: 'inTurn', ms: ms.map(trueMs) };
  return {
    bootTime: listed(bootsMs, times.bootMs.most),
    connectTime: listed(connectsMs, times.connectMs.most),
    clockError:
      least === most
        ? { kind: 'fixed', ppm: ppm(least) }
        : { kind: 'sleeps', ms: sleepsMs.map(trueMs) },
  };
}

/** Whether the last check before the opening found the device at rest: the door always shut, and nothing gone wrong. */
function isAtRest({ watch }: Rules, course: Course, { wakes }: Trace): boolean {
  const { opensAtMs, doorOpenMs, powerLostMs, resetsMs } = course;
  const before = wakes.filter(({ check }) => check !== null && check.atMs < opensAtMs);
  const last = before.at(-1);
  if (last === undefined || last.check === null) return false;
  const lastMs = last.check.atMs + last.repeats * last.periodMs;
  const stirs = [...doorOpenMs.flat(), ...powerLostMs.flat(), ...resetsMs];
  const beaten = !watch.heartbeats || before.some(({ heartbeatSend }) => heartbeatSend !== null);
  return beaten && stirs.every((atMs) => atMs > lastMs);
}

/** More wakes than any course takes. */
const mostWakes = 1_000_000;

type Limit = readonly [name: string, found: number, within: Span];

/** Instants stand in their order, no two alike, and nothing asks for more than the environment and the device have. */
function limitsOf({ environment, times, sleeps }: Rules, course: Course): readonly Limit[] {
  const { lengthMs, opensAtMs, networkDownMs, powerLostMs, resetsMs, readsShutMs } = course;
  const { longestOutageMs, longestPowerLossMs, longestChatterMs } = environment;
  const shortest = Math.min(...Object.values(sleeps).map(({ least }) => least));
  const upTo = (most: number): Span => ({ least: 0, most });
  const inOrder = (name: string, instants: readonly number[]): readonly Limit[] =>
    instants.map((ms, index) => [
      name,
      ms,
      { least: (instants[index - 1] ?? -1) + 1, most: endless },
    ]);
  return [
    ['lengthMs', lengthMs, upTo(Math.min(longestMs, shortest * mostWakes))],
    ...inOrder('doorOpenMs', [...course.doorOpenMs.flat(), opensAtMs, lengthMs]),
    ...inOrder('networkDownMs', networkDownMs.flat()),
    ...inOrder('powerLostMs', [...powerLostMs.flat(), lengthMs]),
    ...inOrder('resetsMs', [...resetsMs, lengthMs]),
    ...inOrder('readsShutMs', readsShutMs.flat()),
    ['networkDownMs', stretches(networkDownMs, longestOutageMs), upTo(environment.outages)],
    ['readsShutMs', wholeSpanMs(readsShutMs), upTo(longestChatterMs)],
    ['powerLostMs', powerLostMs.length, upTo(environment.powerLosses)],
    ['powerLostMs', stretches(powerLostMs, longestPowerLossMs), upTo(powerLostMs.length)],
    ['resetsMs', resetsMs.length, upTo(environment.resets)],
    ...course.bootsMs.map((ms): Limit => ['bootsMs', ms, times.bootMs]),
    ...course.connectsMs.map((ms): Limit => ['connectsMs', ms, times.connectMs]),
  ];
}

/** @throws RefusedError at the first limit that is not kept. */
function refuseOutside(limits: readonly Limit[], place: string): void {
  for (const [name, found, { least, most }] of limits) {
    if (found >= least && found <= most) continue;
    const expected =
      most === endless ? `${String(least)} or more` : `${String(least)} to ${String(most)}`;
    const message = 'no course can have that in this environment, with this device';
    refuse(`${place}/${name}`, message, { found, expected });
  }
}

/** From the start of the first to the end of the last: in between the contact may well read true. */
function wholeSpanMs(spans: Course['readsShutMs']): number {
  return (spans.at(-1)?.[1] ?? 0) - (spans[0]?.[0] ?? 0);
}

/** How many stretches of at most so long the spans take. */
function stretches(spans: Course['networkDownMs'], longestMs: number): number {
  return spans.reduce((sum, [from, to]) => sum + Math.ceil((to - from) / longestMs), 0);
}
