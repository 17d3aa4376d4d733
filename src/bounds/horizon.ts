// How long a door can stay open without an alert before a run must have repeated itself.
import { greatestOf } from '../base/index.js';
import { effectBit, inputCode, inputCodes, type LogicTable } from '../machine/index.js';
import type { Checked } from './checks.js';
import type { Model } from './track.js';

/** What the logic does while the door stays open and nothing goes wrong. */
export interface Outlook {
  /** Beyond this reading of the opening's clock no run without a decision and a delivery is finite. */
  readonly horizonMs: number;
  /** After this check nothing is ever decided, or delivered, in the opening, even if nothing goes wrong. */
  isHopeless(at: Checked): boolean;
}

/**
 * Whether messages are so far apart that of any two at most one matters to an opening: from a moment before it at which no
 * clock runs (`normalize`), over all cooldowns and outages, to the latest end of the search no whole interval passes.
 */
export function areSeldom(model: Model, apartMs: number): boolean {
  const { times, environment } = model;
  const { longestOutageMs, outagesApartMs, longestPowerLossMs } = environment;
  const outages = longestOutageMs > 0 ? environment.outages : 0;
  const { longestWakeMs, slowClock } = pacesOf(times);
  const fastClock = Math.max(
    1,
    greatestOf(times.sleeps.map(({ leastMs, countedMs }) => countedMs / leastMs)),
  );
  const wakeMs = longestWakeMs + longestPowerLossMs;
  const beforeMs =
    outages * (longestOutageMs + outagesApartMs + 2 * wakeMs) +
    (outages + 1) * (times.cooldownMs * slowClock + 2 * wakeMs);
  const { horizonMs } = outlookOf(model);
  return apartMs > fastClock * (beforeMs + horizonMs + 3 * wakeMs);
}

const openAndOver = inputCode.check + inputCode.checkReadsOpen + inputCode.checkCooldownOver;

/**
 * Undisturbed, with the door open, every cooldown over and every send delivered, the logic takes one run from
 * each state. An opening without a report is made of disturbed stretches, each limited, and of undisturbed ones between
 * them, each shorter than the slowest of these runs.
 */
export function outlookOf({ table, times, environment }: Model): Outlook {
  const { toDecision, toDelivery, slowest } = undisturbedRuns(table);
  const { longestWakeMs, slowClock } = pacesOf(times);
  const cooldownMs = Math.ceil(times.cooldownMs * slowClock) + longestWakeMs;
  const faults = environment.powerLosses + environment.resets;
  // The cooldown that ran as the door opened, and that of an alert which was pending then.
  const cooldowns = 2;
  const stretches =
    faults +
    cooldowns +
    (environment.longestOutageMs > 0 ? environment.outages : 0) +
    (environment.longestChatterMs > 0 ? 1 : 0);
  return {
    horizonMs:
      environment.outages * environment.longestOutageMs +
      environment.longestChatterMs +
      faults * (environment.longestPowerLossMs + longestWakeMs) +
      cooldowns * cooldownMs +
      (stretches + 1) * (slowest + 1) * longestWakeMs,
    isHopeless: (at) =>
      (at.phase === 'during' && at.cooldownOver && toDecision[at.state] === forEver) ||
      (at.phase === 'decided' && toDelivery[at.state] === forEver),
  };
}

/** How long a wake and its sleep take at most, and how much longer a sleep is than the device's clock counts it. */
function pacesOf({ sleeps, bootMs, connectMs, joinWaitMs }: Model['times']) {
  const longestSleepMs = greatestOf(sleeps.map(({ mostMs }) => mostMs));
  return {
    longestWakeMs: longestSleepMs + bootMs.most + connectMs.most + joinWaitMs,
    slowClock: Math.max(1, greatestOf(sleeps.map(({ mostMs, countedMs }) => mostMs / countedMs))),
  };
}

interface Undisturbed {
  /** For each state, how many wakes. */
  readonly toDecision: Int32Array;
  readonly toDelivery: Int32Array;
  readonly slowest: number;
}

/** Of each table once: what would help is sought by many searches of the same. */
const known = new WeakMap<LogicTable, Undisturbed>();

function undisturbedRuns(table: LogicTable): Undisturbed {
  const before = known.get(table);
  if (before !== undefined) return before;
  const toDecision = wakesUntil(table, effectBit.decideAlert);
  const toDelivery = wakesUntil(table, 'delivery');
  const slowest = longestFinite(toDecision) + longestFinite(toDelivery) + 1;
  const found: Undisturbed = { toDecision, toDelivery, slowest };
  known.set(table, found);
  return found;
}

const forEver = -1;
const unknown = -2;
/** Passed on a run that delivers something else first: its cooldown has its own say. */
const delivers = -3;

/** For each state: wakes until the goal; `forEver` where there is none and nothing else is delivered on the way. */
function wakesUntil(table: LogicTable, goal: number | 'delivery'): Int32Array {
  const wakes = new Int32Array(table.phases.length).fill(unknown);
  for (let start = 0; start < wakes.length; start += 1) {
    const path: number[] = [];
    const onPath = new Set<number>();
    let state = start;
    let found = wakes[state] ?? unknown;
    while (found === unknown) {
      if (onPath.has(state)) {
        found = forEver;
        break;
      }
      path.push(state);
      onPath.add(state);
      const { next, reached } = undisturbed(table, state, goal);
      if (reached) {
        found = 0;
        break;
      }
      if (next === null) {
        found = forEver;
        break;
      }
      state = next;
      found = wakes[state] ?? unknown;
    }
    for (const passed of path.reverse()) {
      const sends = goal !== 'delivery' && table.phases[passed] === 'sendingAlert';
      found = found === forEver && sends ? delivers : found < 0 ? found : found + 1;
      wakes[passed] = found;
    }
  }
  return wakes;
}

function longestFinite(wakes: Int32Array): number {
  return (
    wakes.reduce((most, count) => Math.max(most, count), 0) +
    (wakes.includes(delivers) ? wakes.length : 0)
  );
}

/** What an undisturbed device does from a state on, up to the next check; null: nothing, ever. */
function undisturbed(
  table: LogicTable,
  state: number,
  goal: number | 'delivery',
): { readonly next: number | null; readonly reached: boolean } {
  const step = (from: number, code: number) => ({
    to: table.next[from * inputCodes + code] ?? 0,
    effects: table.effects[from * inputCodes + code] ?? 0,
  });
  const phase = table.phases[state] ?? 'holding';
  switch (phase) {
    case 'sendingAlert': {
      const { to } = step(state, inputCode.alertDelivered);
      return { next: to, reached: goal === 'delivery' };
    }
    case 'sendingHeartbeat':
      return { next: step(state, inputCode.heartbeatDelivered).to, reached: false };
    case 'sendingLowBattery':
      return { next: step(state, inputCode.lowBatteryDelivered).to, reached: false };
    case 'asleep':
      return { next: step(state, inputCode.wake.timer).to, reached: false };
    case 'off':
      return { next: step(state, inputCode.wake['power-on']).to, reached: false };
    case 'awake': {
      const { to, effects } = step(state, openAndOver);
      return { next: to, reached: goal !== 'delivery' && (effects & goal) !== 0 };
    }
    case 'holding':
      return { next: null, reached: false };
  }
}
