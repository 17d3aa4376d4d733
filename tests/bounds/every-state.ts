// A timer-woken watch with fixed times, written down once more as plainly as can be: check after check, millisecond by
// millisecond, in plain memory, with every reading of the contact and every fault tried in every state that can be reached.
import type { WatchSettings } from '../../src/machine/index.js';
import type { Environment } from '../../src/model/index.js';

export interface Tried {
  readonly watch: WatchSettings;
  readonly bootMs: number;
  readonly connectMs: number;
  readonly environment: Environment;
  /** What resets may do to retained memory: one of them, or now this and now that. */
  readonly resets: readonly ('keep' | 'clear')[];
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
  /** Since the contact of the open door first read shut; null: it never has. */
  readonly wrongMs: number | null;
  readonly lossesLeft: number;
  readonly resetsLeft: number;
}

interface Step {
  readonly decides: boolean;
  readonly delivers: boolean;
  /** Until the next check; without end for a device that holds. */
  readonly gapMs: number;
  readonly next: State;
}

/** What follows a check, for every way the network may be, and for every fault at every instant. */
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
    yield* onwards(tried, known, { forMs: usual + bootMs, decides, delivers: false, sinceMs: 0 });
    return;
  }
  yield* struck(tried, known, { forMs: connectMs, decides, delivers: false, sinceMs: 0 });
  const sent = later(tried, known, connectMs);
  const delivered = { ...sent, pending: 'none', failures: 0, quietMs: 0, downMs: null } as const;
  const delivers = pending === 'own';
  if (watch.afterAlert === 'hold-until-reset') {
    yield { decides, delivers, gapMs: Number.POSITIVE_INFINITY, next: delivered };
  } else {
    const forMs = usual + bootMs;
    yield* onwards(tried, delivered, { forMs, decides, delivers, sinceMs: connectMs });
  }
  const again = failures + 1 < watch.retryAttempts;
  const wait = bootMs + (again ? watch.retryIntervalMs : watch.checkIntervalMs);
  for (const failed of outagesAt(tried, sent)) {
    const next = { ...failed, failures: again ? failures + 1 : 0 };
    yield* onwards(tried, next, { forMs: wait, decides, delivers: false, sinceMs: connectMs });
  }
}

/** A stretch of time after a check. */
interface Stretch extends Pick<Step, 'decides' | 'delivers'> {
  readonly forMs: number;
  /** How long before it the check was. */
  readonly sinceMs: number;
}

/** Up to the next check, or to what a fault on the way leads to. */
function* onwards(tried: Tried, state: State, stretch: Stretch): Generator<Step> {
  const { forMs, sinceMs, ...step } = stretch;
  yield { ...step, gapMs: sinceMs + forMs, next: later(tried, state, forMs) };
  yield* struck(tried, state, stretch);
}

/** A reset or a power loss at any instant of a stretch, its last included; and perhaps another before the check after it. */
function* struck(tried: Tried, state: State, stretch: Stretch): Generator<Step> {
  const { forMs, sinceMs, ...step } = stretch;
  const { bootMs: boot, environment } = tried;
  if (state.resetsLeft + state.lossesLeft === 0) return;
  for (let atMs = 1; atMs <= forMs; atMs += 1) {
    const cut = later(tried, state, atMs);
    for (const does of cut.resetsLeft > 0 ? tried.resets : []) {
      const memory = does === 'clear' ? emptyMemory : {};
      const reset = { ...cut, ...memory, resetsLeft: cut.resetsLeft - 1 };
      yield* onwards(tried, reset, { ...step, forMs: boot, sinceMs: sinceMs + atMs });
    }
    if (cut.lossesLeft === 0) continue;
    for (let darkMs = 1; darkMs <= environment.longestPowerLossMs; darkMs += 1) {
      const dark = { ...later(tried, cut, darkMs), ...emptyMemory };
      const back = { ...dark, lossesLeft: cut.lossesLeft - 1 };
      yield* onwards(tried, back, { ...step, forMs: boot, sinceMs: sinceMs + atMs + darkMs });
    }
  }
}

const emptyMemory: Pick<State, 'checks' | 'shutRun' | 'pending' | 'failures' | 'quietMs'> = {
  checks: [],
  shutRun: 0,
  pending: 'none',
  failures: 0,
  quietMs: null,
};

/** A send fails: the outage at hand still goes on, or another one begins. */
function* outagesAt({ environment }: Tried, state: State): Generator<State> {
  const { longestOutageMs, outagesApartMs } = environment;
  if (state.downMs !== null && state.downMs < longestOutageMs) yield { ...state, upMs: -1 };
  const mayBegin = state.upMs === null || state.upMs >= outagesApartMs;
  if (state.outagesLeft === 0 || !mayBegin || longestOutageMs === 0) return;
  yield { ...state, outagesLeft: state.outagesLeft - 1, downMs: 0, upMs: -1 };
}

/** Time passes. What is beyond all that matters counts no further, so that there are finitely many states. */
function later({ watch, environment }: Tried, state: State, ms: number): State {
  const { quietMs, downMs, upMs, wrongMs } = state;
  const goes = (since: number | null, most: number): number | null =>
    since === null ? null : Math.min(since + ms, most);
  return {
    ...state,
    quietMs: goes(quietMs, watch.alertCooldownMs),
    downMs: goes(downMs, environment.longestOutageMs),
    upMs: goes(upMs, environment.outagesApartMs),
    wrongMs: goes(wrongMs, environment.longestChatterMs),
  };
}

/** What the contact of an open door may read. */
function* readings(
  { environment }: Tried,
  state: State,
): Generator<{ readonly open: boolean; readonly at: State }> {
  yield { open: true, at: state };
  const { longestChatterMs } = environment;
  if (longestChatterMs === 0 || (state.wrongMs ?? 0) >= longestChatterMs) return;
  yield { open: false, at: { ...state, wrongMs: state.wrongMs ?? 0 } };
}

/** From a check of an opening: for how much longer it can go on until what is sought. */
interface Remaining {
  /** Until its first alert is decided. */
  readonly decisionMs: number;
  /** Until its own alert is delivered. */
  readonly deliveryMs: number;
  /** Until it shuts, and is never reported; −∞: it cannot. */
  readonly unreportedMs: number;
}

function remainingIn(tried: Tried, extreme: typeof Math.max): (state: State) => Remaining {
  const forEver = Number.POSITIVE_INFINITY;
  const never = { decisionMs: forEver, deliveryMs: forEver, unreportedMs: forEver };
  const known = new Map<string, Remaining>();
  const canBeLost = losses(tried);
  const remaining = (state: State): Remaining => {
    const key = JSON.stringify(state);
    const before = known.get(key);
    if (before !== undefined) return before;
    // A path that comes here again before it is known goes round for ever.
    known.set(key, never);
    const ways = [...readings(tried, state)]
      .flatMap(({ open, at }) => [...after(tried, at, open, true)])
      .map((step): Remaining => {
        const ends = step.delivers || step.gapMs === forEver;
        const then = ends ? never : remaining(step.next);
        return {
          decisionMs: step.decides ? 0 : step.gapMs + then.decisionMs,
          deliveryMs: step.delivers ? tried.connectMs : step.gapMs + then.deliveryMs,
          unreportedMs: step.delivers ? -forEver : step.gapMs + then.unreportedMs,
        };
      });
    // It shuts as this check comes, and not before.
    const shutsNow = canBeLost(state) ? 0 : -forEver;
    const found = {
      decisionMs: extreme(...ways.map(({ decisionMs }) => decisionMs)),
      deliveryMs: extreme(...ways.map(({ deliveryMs }) => deliveryMs)),
      unreportedMs: Math.max(shutsNow, ...ways.map(({ unreportedMs }) => unreportedMs)),
    };
    known.set(key, found);
    return found;
  };
  return remaining;
}

/** At a check that finds the door shut, for the first time: whether what comes next can keep the opening unreported. */
function losses(tried: Tried): (state: State) => boolean {
  const known = new Map<string, boolean>();
  const lost = (state: State, doors: readonly boolean[]): boolean => {
    if (state.pending !== 'own') return true;
    const key = JSON.stringify([state, doors]);
    const before = known.get(key);
    if (before !== undefined) return before;
    // A path that comes here again had an attempt fail at the same age of the same outage: there is no such run.
    known.set(key, false);
    const can = doors.some((open) =>
      [...after(tried, state, open, false)].some(
        ({ delivers, next }) => !delivers && lost(next, [false, true]),
      ),
    );
    known.set(key, can);
    return can;
  };
  return (state) => lost(state, [false]);
}

/** The bounds, by trying all. */
export function boundsByTrying(tried: Tried) {
  const { watch, bootMs, environment } = tried;
  const latest = remainingIn(tried, Math.max);
  const earliest = remainingIn(tried, Math.min);
  const off: State = {
    ...emptyMemory,
    ...{ outagesLeft: environment.outages, downMs: null, upMs: null, wrongMs: null },
    ...{ lossesLeft: environment.powerLosses, resetsLeft: environment.resets },
  };
  const boot = { forMs: bootMs, sinceMs: 0, decides: false, delivers: false };
  const firsts = [...onwards(tried, off, boot)];
  const rest = { ...off, shutRun: watch.clearThreshold };
  const afterRest = [...after(tried, rest, false, false)];
  // The opening may begin with the power, right after a check that reads shut, or once an open door has shut.
  const begun = firsts.map(({ gapMs, next }) => ({ sinceMs: gapMs, at: next }));
  const states = new Map(firsts.map(({ next }) => [JSON.stringify(next), next]));
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
  const fromRest = afterRest.map(({ gapMs, next }) => ({ sinceMs: gapMs - 1, at: next }));
  const worst = (of: typeof begun, what: keyof Remaining): number =>
    of.reduce((most, { sinceMs, at }) => Math.max(most, sinceMs + latest(at)[what]), 0);
  const soonest = (what: keyof Remaining): number =>
    fromRest.reduce(
      (least, { at }) => Math.min(least, earliest(at)[what]),
      Number.POSITIVE_INFINITY,
    );
  const finite = (ms: number): number | null => (ms < Number.POSITIVE_INFINITY ? ms : null);
  const both = (what: keyof Remaining, more: number) => ({
    atRest: finite(worst(fromRest, what) + more),
    anyState: held ? null : finite(worst(begun, what) + more),
  });
  return {
    alwaysReportedFromMs: both('unreportedMs', 1),
    alwaysDecidedFromMs: both('decisionMs', 1),
    neverAlarmedUpToMs: finite(soonest('decisionMs')),
    worstDelayMs: both('deliveryMs', 0),
    bestDelayMs: finite(soonest('deliveryMs')),
    states: states.size,
  };
}
