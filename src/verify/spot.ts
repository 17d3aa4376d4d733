// Where a device stands right after a check, as far as any alert still to come depends on it.
import type { ContactReading } from '../machine/index.js';
import type { Then } from './machine.js';
import { allZero, type ClockName, least, type Readings, zeroed } from './readings.js';
import type { Rules } from './rules.js';

/** A fault of limited length: not begun, going on, or over. */
export type Budget = 'unused' | 'active' | 'spent';

/**
 * Of the opening in question: at `rest` long before it, `before` it, `starting` between two checks, `during` it with no
 * alert of its own to be sent, `decided` with one.
 */
export type Phase = 'rest' | 'before' | 'starting' | 'during' | 'decided';

export interface Spot {
  /** Number of the statechart's state. */
  readonly state: number;
  readonly then: Then;
  /** What the check read. */
  readonly contact: ContactReading;
  readonly phase: Phase;
  /** The opening has had an alert decided, which the environment then took away or is sending. */
  readonly alerted: boolean;
  /** No cooldown is running: its clock does not matter. */
  readonly cooled: boolean;
  /** A heartbeat is due, or there are none: its clock does not matter. */
  readonly due: boolean;
  readonly outage: Budget;
  readonly chatter: Budget;
  readonly lossesLeft: number;
  readonly resetsLeft: number;
  readonly readings: Readings;
}

/** The device without power, for the first time. */
export function offSpot({ machine, environment, watch }: Rules): Spot {
  return {
    state: machine.off,
    then: 'check',
    contact: 'shut',
    phase: 'before',
    alerted: false,
    cooled: true,
    due: !watch.heartbeats,
    outage: 'unused',
    chatter: 'unused',
    lossesLeft: environment.powerLosses,
    resetsLeft: environment.resets,
    readings: allZero(),
  };
}

/** The device at rest: the door shut and seen shut since its power-on; with heartbeats, one is just to be sent. */
export function restSpot(rules: Rules): Spot {
  const { machine, watch } = rules;
  const off = offSpot(rules);
  const awake = machine.react(off.state, { type: 'wake', cause: 'power-on' });
  const heartbeatDue = watch.heartbeats;
  const check = { type: 'check', contact: 'shut', cooldownOver: true, heartbeatDue } as const;
  const { state, then } = machine.react(awake.state, check);
  return { ...off, state, then: then ?? 'check', phase: 'rest', due: true };
}

/** Index numbers of the clocks that matter at a spot, with the zero clock. */
export function activeClocks(spot: Pick<Spot, 'phase' | 'outage' | 'chatter' | 'cooled' | 'due'>) {
  const active = [0];
  if (spot.phase === 'during' || spot.phase === 'decided') active.push(1);
  if (spot.outage === 'active') active.push(2);
  if (spot.chatter === 'active') active.push(3);
  if (!spot.cooled) active.push(4);
  if (!spot.due) active.push(5);
  return active;
}

export function idleClocks(active: readonly number[]): readonly ClockName[] {
  const names = ['opening', 'outage', 'chatter', 'cooldown', 'heartbeat'] as const;
  return names.filter((_, index) => !active.includes(index + 1));
}

/** A spot with timers that must have run out, and faults that must be over, told as such, and their clocks set aside. */
export function settled(rules: Rules, spot: Spot): Spot {
  const { machine, cooldownMs, heartbeatMs, environment } = rules;
  const { readings } = spot;
  const cooled =
    spot.cooled ||
    !machine.memory(spot.state).coolingDown ||
    least(readings, 'cooldown') >= cooldownMs;
  const due = spot.due || least(readings, 'heartbeat') >= heartbeatMs;
  const over = (budget: Budget, name: 'outage' | 'chatter', longestMs: number): Budget =>
    budget === 'active' && least(readings, name) >= longestMs ? 'spent' : budget;
  const outage = over(spot.outage, 'outage', environment.longestOutageMs);
  const chatter = over(spot.chatter, 'chatter', environment.longestChatterMs);
  const next = { ...spot, cooled, due, outage, chatter };
  return { ...next, readings: zeroed(readings, idleClocks(activeClocks(next))) };
}
