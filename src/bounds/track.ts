// One possible course of a device between two moments: where its logic stands, what the environment has left to do,
// the zone of its clocks, and the steps that led here, each of which can be replayed.
import type { LogicTable } from '../machine/index.js';
import type { Environment, SleepRange, Times } from './environment.js';
import {
  advance,
  atLeast,
  atMost,
  type ClockName,
  least,
  restart,
  setWithin,
  sleepThrough,
  type Zone,
} from './zone.js';

/** A budget of the environment: not yet used, being used, or used up. */
export type Budget = 'unused' | 'active' | 'spent';

/**
 * Where the opening under study stands: `before` it is thought of, `starting` before the next check, `during` it
 * without an alert of its own, `decided` with one pending.
 */
export type Phase = 'before' | 'starting' | 'during' | 'decided';

export type Moment =
  | 'power-on'
  | 'reset'
  | 'timer'
  | 'contact'
  | 'power lost'
  | 'reads open'
  | 'reads shut'
  | 'reads shut wrongly'
  | 'asleep, door open'
  | 'asleep, door shut'
  | 'send begins'
  | 'delivered'
  | 'failed';

/** A replayable step. `mark` notes a moment and changes nothing. */
export type Step =
  | {
      readonly op: 'advance';
      readonly what: 'boot' | 'send' | 'part of a sleep' | 'off' | 'held';
      readonly leastMs: number;
      readonly mostMs: number;
      /** The length that a sleep cut short would have had. */
      readonly ofMs?: number;
    }
  | { readonly op: 'sleep'; readonly which: 0 | 1 | 2; readonly range: SleepRange }
  | { readonly op: 'at most'; readonly clock: ClockName; readonly value: number }
  | { readonly op: 'at least'; readonly clock: ClockName; readonly value: number }
  /** Sets clocks to zero. */
  | { readonly op: 'restart'; readonly clocks: readonly ClockName[] }
  | { readonly op: 'begin'; readonly mostMs: number }
  | { readonly op: 'mark'; readonly moment: Moment };

export interface Track {
  readonly state: number;
  readonly phase: Phase;
  /** The opening has had an alert of its own decided, which the environment then took away. */
  readonly decidedOnce: boolean;
  readonly cooldownOver: boolean;
  readonly heartbeatDue: boolean;
  readonly outage: Budget;
  readonly chatter: Budget;
  readonly lossesLeft: number;
  readonly resetsLeft: number;
  readonly zone: Zone;
  /** Since the last check. */
  readonly steps: Steps;
}

/** Steps as a chain, the newest first: courses that part share what they have in common. */
export type Steps = { readonly step: Step; readonly earlier: Steps } | null;

/** What a search runs on. */
export interface Model {
  readonly table: LogicTable;
  readonly times: Times;
  readonly environment: Environment;
  readonly wakeOn: 'timer' | 'opening' | 'any-change';
}

/** Longer ago than any gap between two checks. */
export const longAgoMs = 1e13;

/** Applies one step to a zone; null when no reading is left. */
export function stepZone(zone: Zone, step: Step): Zone | null {
  switch (step.op) {
    case 'advance':
      return advance(zone, step.leastMs, step.mostMs);
    case 'sleep':
      return sleepThrough(zone, step.range);
    case 'at most':
      return atMost(zone, step.clock, step.value);
    case 'at least':
      return atLeast(zone, step.clock, step.value);
    case 'restart':
      return restart(zone, step.clocks);
    case 'begin':
      return setWithin(zone, 'opening', { least: -longAgoMs, most: step.mostMs });
    case 'mark':
      return zone;
  }
}

/** The track after a step; null when the step is impossible. */
export function after(track: Track, step: Step): Track | null {
  const zone = stepZone(track.zone, step);
  return zone === null ? null : { ...track, zone, steps: { step, earlier: track.steps } };
}

/** The track after several steps; null when one of them is impossible. */
export function afterAll(track: Track, steps: readonly Step[]): Track | null {
  let current: Track | null = track;
  for (const step of steps) {
    if (current === null) return null;
    current = after(current, step);
  }
  return current;
}

export function mark(track: Track, moment: Moment): Track {
  return { ...track, steps: { step: { op: 'mark', moment }, earlier: track.steps } };
}

/** Puts clocks that no longer matter to zero, so that tracks alike in all that matters are alike. */
export function normalized(model: Model, track: Track): Track {
  const { table, times, environment } = model;
  const cooling = table.memories[track.state]?.coolingDown === true;
  const cooldownOver =
    !cooling || track.cooldownOver || least(track.zone, 'cooldown') >= times.cooldownMs;
  const heartbeatDue = track.heartbeatDue || least(track.zone, 'heartbeat') >= times.heartbeatMs;
  const outage =
    track.outage === 'active' && least(track.zone, 'outage') >= environment.longestOutageMs
      ? 'spent'
      : track.outage;
  const chatter =
    track.chatter === 'active' && least(track.zone, 'chatter') >= environment.longestChatterMs
      ? 'spent'
      : track.chatter;
  const idle: ClockName[] = [];
  if (track.phase === 'before') idle.push('opening');
  if (cooldownOver) idle.push('cooldown');
  if (heartbeatDue || times.heartbeatMs === Number.POSITIVE_INFINITY) idle.push('heartbeat');
  if (outage !== 'active') idle.push('outage');
  if (chatter !== 'active') idle.push('chatter');
  const next: Track = { ...track, cooldownOver, heartbeatDue, outage, chatter };
  return idle.length === 0 ? next : (after(next, { op: 'restart', clocks: idle }) ?? next);
}

/** The steps of a chain, oldest first. */
export function stepsOf(chain: Steps): readonly Step[] {
  const steps: Step[] = [];
  for (let link = chain; link !== null; link = link.earlier) steps.push(link.step);
  return steps.reverse();
}
