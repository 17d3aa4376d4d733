// A timer-woken watch with fixed times, written down once more as plainly as can be: check after check, millisecond by
// millisecond, in plain memory, with every reading of the door and every outage tried in every state that can be reached.
import type { WatchSettings } from '../../src/machine/index.js';
import type { Environment } from '../../src/model/index.js';

export interface Tried {
  readonly watch: WatchSettings;
  readonly bootMs: number;
  readonly connectMs: number;
  readonly outages: Pick<Environment, 'outages' | 'outagesApartMs' | 'longestOutageMs'>;
}

/** At a check. All times count up to it. */
interface State {
  readonly checks: readonly boolean[];
  readonly shutRun: number;
  readonly pending: 'none' | 'another' | 'own';
  readonly failures: number;
  /** Since the last delivery; null: no cooldown. */
  readonly quietMs: number | null;
  readonly outagesLeft: number;
  /** Since the first send that the outage at hand failed; null: there is none. */
  readonly downMs: number | null;
  /** Since the last outage was over, at the earliest; null: there was none. */
  readonly upMs: number | null;
}

interface Step {
  readonly decides: boolean;
  readonly delivers: boolean;
  /** Until the next check; without end for a device that holds. */
  readonly gapMs: number;
  readonly next: State;
}

/** What follows a check, for every way the network may be. */
function* after(tried: Tried, state: State, open: boolean, during: boolean): Generator<Step> {
  const { watch, bootMs, connectMs } = tried;
  let { pending, failures, quietMs } = state;
  let checks = [...state.checks, open].slice(-watch.escalationThreshold.outOf);
  while (checks[0] === false) checks = checks.slice(1);
  const shutRun = open ? 0 : Math.min(state.shutRun + 1, watch.clearThreshold);
  if (shutRun >= watch.clearThreshold) {
    checks = [];
    if (watch.cooldownEndsWhenShut) quietMs = null;
  }
  const escalated = open && checks.filter((one) => one).length >= watch.escalationThreshold.open;
  let decides = false;
  if (pending !== 'none') {
    if (!open && watch.unsentWhenShut === 'drop') [pending, failures] = ['none', 0];
  } else if (escalated && (quietMs === null || quietMs >= watch.alertCooldownMs)) {
    decides = true;
    [pending, failures] = [during ? 'own' : 'another', 0];
  }
  const known = { ...state, checks, shutRun, pending, failures, quietMs };
  const usual = open && !escalated ? watch.recheckIntervalMs : watch.checkIntervalMs;
  if (pending === 'none') {
    const gapMs = usual + bootMs;
    yield { decides, delivers: false, gapMs, next: later(tried, known, gapMs) };
    return;
  }
  const sent = later(tried, known, connectMs);
  const holds = watch.afterAlert === 'hold-until-reset';
  const delivered = { ...sent, pending: 'none', failures: 0, quietMs: 0, downMs: null } as const;
  yield {
    decides,
    delivers: pending === 'own',
    gapMs: holds ? Number.POSITIVE_INFINITY : connectMs + usual + bootMs,
    next: later(tried, delivered, usual + bootMs),
  };
  const again = failures + 1 < watch.retryAttempts;
  const wait = bootMs + (again ? watch.retryIntervalMs : watch.checkIntervalMs);
  for (const failed of outagesAt(tried, sent)) {
    const next = later(tried, { ...failed, failures: again ? failures + 1 : 0 }, wait);
    yield { decides, delivers: false, gapMs: connectMs + wait, next };
  }
}

/** A send fails: the outage at hand still goes on, or another one begins. */
function* outagesAt({ outages }: Tried, state: State): Generator<State> {
  if (state.downMs !== null && state.downMs < outages.longestOutageMs) yield { ...state, upMs: -1 };
  const mayBegin = state.upMs === null || state.upMs >= outages.outagesApartMs;
  if (state.outagesLeft === 0 || !mayBegin || outages.longestOutageMs === 0) return;
  yield { ...state, outagesLeft: state.outagesLeft - 1, downMs: 0, upMs: -1 };
}

/** Time passes. What is beyond all that matters counts no further, so that there are finitely many states. */
function later({ watch, outages }: Tried, state: State, ms: number): State {
  const { quietMs, downMs, upMs } = state;
  const goes = (since: number | null, most: number): number | null =>
    since === null ? null : Math.min(since + ms, most);
  return {
    ...state,
    quietMs: goes(quietMs, watch.alertCooldownMs),
    downMs: goes(downMs, outages.longestOutageMs),
    upMs: goes(upMs, outages.outagesApartMs),
  };
}

/** From a check of an opening that never ends, until its first alert is decided and its own alert delivered. */
interface Remaining {
  readonly decisionMs: number;
  readonly deliveryMs: number;
}

function remainingIn(tried: Tried, extreme: typeof Math.max): (state: State) => Remaining {
  const never = { decisionMs: Number.POSITIVE_INFINITY, deliveryMs: Number.POSITIVE_INFINITY };
  const known = new Map<string, Remaining>();
  const remaining = (state: State): Remaining => {
    const key = JSON.stringify(state);
    const before = known.get(key);
    if (before !== undefined) return before;
    // Whoever comes here again before it is known goes round for ever.
    known.set(key, never);
    const ways = [...after(tried, state, true, true)].map((step): Remaining => {
      const ends = step.delivers || step.gapMs === Number.POSITIVE_INFINITY;
      const then = ends ? never : remaining(step.next);
      return {
        decisionMs: step.decides ? 0 : step.gapMs + then.decisionMs,
        deliveryMs: step.delivers ? tried.connectMs : step.gapMs + then.deliveryMs,
      };
    });
    const found = {
      decisionMs: extreme(...ways.map(({ decisionMs }) => decisionMs)),
      deliveryMs: extreme(...ways.map(({ deliveryMs }) => deliveryMs)),
    };
    known.set(key, found);
    return found;
  };
  return remaining;
}

/** The bounds, by trying all. */
export function boundsByTrying(tried: Tried) {
  const { watch, bootMs, outages } = tried;
  const latest = remainingIn(tried, Math.max);
  const earliest = remainingIn(tried, Math.min);
  const powerOn: State = {
    ...{ checks: [], shutRun: 0, pending: 'none', failures: 0, quietMs: null },
    ...{ outagesLeft: outages.outages, downMs: null, upMs: null },
  };
  const rest = { ...powerOn, shutRun: watch.clearThreshold };
  const restGapMs = watch.checkIntervalMs + bootMs;
  // The opening may begin with the power, right after a check that reads shut, or once an open door has shut.
  const begun = [{ sinceMs: bootMs, at: powerOn }];
  const states = new Map([[JSON.stringify(powerOn), powerOn]]);
  let held = false;
  for (const state of states.values()) {
    for (const open of [false, true]) {
      for (const { gapMs, next } of after(tried, state, open, false)) {
        held ||= gapMs === Number.POSITIVE_INFINITY;
        if (gapMs === Number.POSITIVE_INFINITY) continue;
        if (!states.has(JSON.stringify(next))) states.set(JSON.stringify(next), next);
        const sinceMs = gapMs - (open ? 2 : 1);
        if (sinceMs >= 0) begun.push({ sinceMs, at: next });
      }
    }
  }
  const worst = (what: keyof Remaining): number =>
    begun.reduce((most, { sinceMs, at }) => Math.max(most, sinceMs + latest(at)[what]), 0);
  const finite = (ms: number): number | null => (ms < Number.POSITIVE_INFINITY ? ms : null);
  return {
    alwaysReportedFromMs: {
      atRest: finite(restGapMs - 1 + latest(rest).decisionMs + 1),
      anyState: held ? null : finite(worst('decisionMs') + 1),
    },
    neverAlarmedUpToMs: finite(earliest(rest).decisionMs),
    worstDelayMs: {
      atRest: finite(restGapMs - 1 + latest(rest).deliveryMs),
      anyState: held ? null : finite(worst('deliveryMs')),
    },
    bestDelayMs: finite(earliest(rest).deliveryMs),
    states: states.size,
  };
}
