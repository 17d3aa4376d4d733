// A naive interpreter of the timer-woken watch, wake by wake: the rules in the order in which they are told to
// people, with plain lists, whole numbers and exact fractions. It shares no code with the machine or the kernel; only the names
// of the random streams are common, because they belong to the experiment.
import type {
  AlertRecord,
  Decision,
  Experiment,
  SendRecord,
  Tally,
  Trace,
} from '../../src/sim/index.js';
import { oracleClock, oracleDurations } from './oracle-device.js';
import { type OracleStretch, oracleSupply } from './oracle-supply.js';

export interface OracleWake {
  readonly cause: 'power-on' | 'reset' | 'timer' | 'contact';
  readonly wakeMs: number;
  readonly checkMs: number | null;
  readonly contact: 'open' | 'shut' | null;
  readonly escalated: boolean;
  readonly decision: Decision | null;
  readonly alertSend: SendRecord | null;
  readonly heartbeatSend: SendRecord | null;
  readonly lowBatterySend: SendRecord | null;
  /** It went with the alert. */
  readonly lowBatteryWithAlert: boolean;
  readonly sleep: {
    readonly interval: 'check' | 'recheck' | 'retry';
    readonly fromMs: number;
    readonly lengthMs: number;
  } | null;
  readonly holds: boolean;
}

export interface OracleRun {
  readonly alerts: readonly AlertRecord[];
  readonly wakes: readonly OracleWake[];
  readonly tally: Omit<Tally, 'clockErrorPpm'>;
  readonly flat: Trace['flat'];
  readonly charges: Trace['charges'];
  readonly lowBattery: Trace['lowBattery'];
}

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };
type Wake = Mutable<OracleWake>;
interface Alert extends Mutable<Omit<AlertRecord, 'attempts'>> {
  readonly attempts: SendRecord[];
}

/** What survives sleep, and a reset that keeps it. */
interface Retained {
  /** The last checks from the first open one on, true for open. */
  checks: boolean[];
  shutRun: number;
  pending: Alert | null;
  failures: number;
  /** The delivery whose cooldown may still run. */
  deliveredMs: number | null;
  /** Start of the last heartbeat, or power-on. */
  heartbeatMs: number;
  /** The last delivery of a low-battery message. */
  warnedMs: number | null;
}

interface Fault {
  readonly atMs: number;
  /** When the device boots again. */
  readonly backMs: number;
  readonly kind: 'power loss' | 'reset' | 'clearing reset' | 'flat';
}

interface NextWake {
  readonly atMs: number;
  readonly cause: OracleWake['cause'];
}

export function interpret({ program, timing, world, seed, charge }: Experiment): OracleRun {
  const { watch } = program;
  const { lengthMs } = world;
  const powerLost = Array.from(world.powerLost.fromMs, (from, index) => ({
    from,
    to: world.powerLost.toMs[index] ?? Number.POSITIVE_INFINITY,
  }));
  const networkDown = Array.from(world.networkDown.fromMs, (from, index) => ({
    from,
    to: world.networkDown.toMs[index] ?? Number.POSITIVE_INFINITY,
  }));
  const isDark = (atMs: number): boolean =>
    powerLost.some(({ from, to }) => from <= atMs && atMs < to);

  const clock = oracleClock(timing.clockError, seed);
  const bootTime = oracleDurations(timing.bootTime, seed, 'boot');
  const connectTime = oracleDurations(timing.connectTime, seed, 'connect');

  const alerts: Alert[] = [];
  const lowBattery: { deliveredMs: number; withAlert: boolean }[] = [];
  const wakes: Wake[] = [];
  const tally = emptyTally();
  const supply = oracleSupply(charge ?? null, world);
  let retained = fresh(0);

  /** The first reset or power loss after an instant; of two at one instant the power loss. */
  function faultAfter(instantMs: number): Fault {
    const never = Number.POSITIVE_INFINITY;
    let fault: Fault = { atMs: never, backMs: never, kind: 'reset' };
    for (const { from, to } of powerLost) {
      if (from > instantMs && from < fault.atMs)
        fault = { atMs: from, backMs: to, kind: 'power loss' };
    }
    for (const [index, atMs] of world.resetsMs.entries()) {
      if (atMs > instantMs && atMs < fault.atMs && !isDark(atMs)) {
        const clears = world.resetEffects?.[index]?.clears === true;
        fault = { atMs, backMs: atMs, kind: clears ? 'clearing reset' : 'reset' };
      }
    }
    return fault;
  }

  /** Time passes, up to the fault at most; an empty battery is a fault before or with it. */
  function spend(fault: Fault, stretch: OracleStretch): Fault {
    const toMs = Math.min(stretch.toMs, fault.atMs, lengthMs);
    const emptyMs = supply?.pass({ ...stretch, toMs }) ?? Number.POSITIVE_INFINITY;
    return emptyMs <= fault.atMs && emptyMs < Number.POSITIVE_INFINITY
      ? { atMs: emptyMs, backMs: emptyMs, kind: 'flat' }
      : fault;
  }

  function suffer(fault: Fault): NextWake | null {
    if (fault.atMs >= lengthMs) return null;
    if (fault.kind === 'reset') return { atMs: fault.atMs, cause: 'reset' };
    if (retained.pending !== null) retained.pending.forgottenMs = fault.atMs;
    if (fault.kind !== 'clearing reset') {
      const isFlat = fault.kind === 'flat';
      const backMs = supply?.off(fault.atMs, fault.backMs, isFlat) ?? fault.backMs;
      return powerOn(fault.atMs, backMs);
    }
    // The clock runs on; what it was compared with is gone.
    retained = fresh(fault.atMs);
    return { atMs: fault.atMs, cause: 'reset' };
  }

  function powerOn(darkSinceMs: number, backMs: number): NextWake {
    tally.offMs += Math.min(backMs, lengthMs) - darkSinceMs;
    retained = fresh(backMs);
    return { atMs: backMs, cause: 'power-on' };
  }

  function wakeUp({ atMs: wakeMs, cause }: NextWake): NextWake | null {
    const wake = emptyWake(cause, wakeMs);
    wakes.push(wake);
    tally.wakes[cause] += 1;
    const checkMs = wakeMs + bootTime();
    const edges = world.contact.filter((edgeMs) => edgeMs <= checkMs).length;
    const readsOpen = edges % 2 === 1;
    const boot = { fromMs: wakeMs, toMs: checkMs, act: 'boot', readsShut: !readsOpen } as const;
    let fault = spend(faultAfter(wakeMs), boot);
    let cutMs = Math.min(fault.atMs, lengthMs);
    tally.bootMs += Math.min(checkMs, cutMs) - wakeMs;
    if (!readsOpen) tally.shutBootMs += Math.min(checkMs, cutMs) - wakeMs;
    if (cutMs <= checkMs) return suffer(fault);

    wake.checkMs = checkMs;
    wake.contact = readsOpen ? 'open' : 'shut';
    tally.checks += 1;
    if (readsOpen) tally.openChecks += 1;
    const blinked = readsOpen ? (supply?.blink() ?? 0n) : 0n;
    remember(readsOpen);
    const warns = hasToWarn(checkMs, blinked);
    wake.escalated =
      readsOpen && retained.checks.filter((open) => open).length >= watch.escalationThreshold.open;
    wake.decision = decide(checkMs, readsOpen, wake.escalated);

    let interval: 'check' | 'recheck' | 'retry' =
      readsOpen && !wake.escalated ? 'recheck' : 'check';
    let workDoneMs = checkMs;
    if (retained.pending !== null) {
      const { send, after } = attempt('alert', checkMs, fault);
      fault = after;
      cutMs = Math.min(fault.atMs, lengthMs);
      wake.alertSend = send;
      wake.lowBatteryWithAlert = warns;
      if (warns && send.outcome === 'delivered') warned(send.endMs, true);
      retained.pending.attempts.push(send);
      if (send.outcome === 'cutOff') return suffer(fault);
      workDoneMs = send.endMs;
      if (send.outcome === 'failed') interval = countFailure();
      else {
        retained.pending.deliveredMs = send.endMs;
        retained = { ...retained, pending: null, failures: 0, deliveredMs: send.endMs };
        if (watch.afterAlert === 'hold-until-reset') {
          wake.holds = true;
          fault = spend(fault, { fromMs: send.endMs, toMs: lengthMs, act: 'held' });
          cutMs = Math.min(fault.atMs, lengthMs);
          tally.heldMs += cutMs - send.endMs;
          return suffer(fault);
        }
      }
    } else if (warns) {
      const { send, after } = attempt('lowBattery', checkMs, fault);
      fault = after;
      wake.lowBatterySend = send;
      if (send.outcome === 'cutOff') return suffer(fault);
      if (send.outcome === 'delivered') warned(send.endMs, false);
      workDoneMs = send.endMs;
    } else if (
      watch.heartbeatIntervalMs !== null &&
      clock.hasPassed(watch.heartbeatIntervalMs, retained.heartbeatMs, checkMs)
    ) {
      const { send, after } = attempt('heartbeat', checkMs, fault);
      fault = after;
      wake.heartbeatSend = send;
      retained.heartbeatMs = checkMs;
      if (send.outcome === 'cutOff') return suffer(fault);
      workDoneMs = send.endMs;
    }

    const nominalMs = {
      check: watch.checkIntervalMs,
      recheck: watch.recheckIntervalMs,
      retry: watch.retryIntervalMs,
    }[interval];
    const sleep = { interval, fromMs: workDoneMs, lengthMs: clock.sleepMs(nominalMs, workDoneMs) };
    wake.sleep = sleep;
    const next = endOfSleep(sleep);
    fault = spend(fault, { fromMs: workDoneMs, toMs: next.atMs, act: 'asleep' });
    if (fault.atMs <= next.atMs) return suffer(fault);
    if (next.cause === 'timer') clock.sleptThrough();
    return next;
  }

  /** The battery is low, and its owner was not warned within the time after which the message is repeated. */
  function hasToWarn(checkMs: number, blinked: bigint): boolean {
    const rule = watch.lowBattery;
    if (rule === undefined) return false;
    const { fromMs, toMs } = world.batteryLow ?? { fromMs: [], toMs: [] };
    const isSaid = [...fromMs].some(
      (from, index) => from <= checkMs && checkMs < (toMs[index] ?? 0),
    );
    const isLow = isSaid || supply?.isLow(rule.level, checkMs, blinked) === true;
    const { warnedMs } = retained;
    return isLow && (warnedMs === null || clock.hasPassed(rule.repeatMs, warnedMs, checkMs));
  }

  function warned(deliveredMs: number, withAlert: boolean): void {
    lowBattery.push({ deliveredMs, withAlert });
    retained.warnedMs = deliveredMs;
    supply?.warned(deliveredMs);
  }

  function remember(readsOpen: boolean): void {
    retained.checks = [...retained.checks, readsOpen].slice(-watch.escalationThreshold.outOf);
    while (retained.checks[0] === false) retained.checks.shift();
    retained.shutRun = readsOpen ? 0 : retained.shutRun + 1;
    if (retained.shutRun >= watch.clearThreshold) {
      retained.checks = [];
      if (watch.cooldownEndsWhenShut) retained.deliveredMs = null;
    }
  }

  function decide(checkMs: number, readsOpen: boolean, escalated: boolean): Decision {
    if (retained.pending !== null) {
      if (readsOpen || watch.unsentWhenShut === 'send') return 'attempt';
      retained.pending.droppedMs = checkMs;
      retained = { ...retained, pending: null, failures: 0 };
      return 'drop';
    }
    if (!escalated) return 'none';
    const { deliveredMs } = retained;
    if (deliveredMs !== null && !clock.hasPassed(watch.alertCooldownMs, deliveredMs, checkMs)) {
      return 'quiet';
    }
    const alert = {
      decidedMs: checkMs,
      deliveredMs: null,
      droppedMs: null,
      forgottenMs: null,
      attempts: [],
    };
    alerts.push(alert);
    retained = { ...retained, pending: alert, failures: 0 };
    return 'alert';
  }

  function attempt(
    kind: 'alert' | 'heartbeat' | 'lowBattery',
    startMs: number,
    fault: Fault,
  ): { readonly send: SendRecord; readonly after: Fault } {
    const joinsMs = startMs + connectTime();
    const isUp = (atMs: number): boolean =>
      !networkDown.some(({ from, to }) => from <= atMs && atMs < to);
    // The network only comes back where an outage ends.
    const wait = timing.joinWaitMs;
    const tries = [joinsMs, ...networkDown.map(({ to }) => to)].filter(
      (atMs) => joinsMs <= atMs && atMs <= joinsMs + wait && isUp(atMs),
    );
    const upThen = tries.length > 0;
    const dueMs = upThen ? Math.min(...tries) : joinsMs + wait;
    const act = kind === 'heartbeat' ? 'heartbeat' : upThen ? 'connect' : 'failedAttempt';
    let after = spend(fault, { fromMs: startMs, toMs: joinsMs, act });
    if (dueMs > joinsMs && Math.min(after.atMs, lengthMs) > joinsMs) {
      after = spend(after, { fromMs: joinsMs, toMs: dueMs, act: 'joinWait' });
    }
    const cutMs = Math.min(after.atMs, lengthMs);
    const endMs = Math.min(dueMs, cutMs);
    const outcome = cutMs <= dueMs ? 'cutOff' : upThen ? 'delivered' : 'failed';
    const joiningMs = Math.min(endMs, joinsMs) - startMs;
    const waitedMs = Math.max(0, endMs - joinsMs);
    if (kind !== 'heartbeat' && !upThen) {
      tally.failedSends.count += 1;
      tally.failedSends.ms += joiningMs;
    }
    tally[`${kind}Sends`][outcome] += 1;
    tally[`${kind}SendMs`] += joiningMs;
    tally.joinWaitMs += waitedMs;
    const send: SendRecord = {
      ...{ startMs, endMs, outcome },
      ...(waitedMs > 0 ? { waitedMs } : {}),
      ...(outcome === 'cutOff' && !upThen ? { wouldFail: true } : {}),
    };
    return { send, after };
  }

  /** One more failure in a row; which sleep it asks for. */
  function countFailure(): 'retry' | 'check' {
    retained.failures += 1;
    if (retained.failures < watch.retryAttempts) return 'retry';
    retained.failures = 0;
    return 'check';
  }

  function endOfSleep(sleep: { readonly fromMs: number; readonly lengthMs: number }): NextWake {
    const timerMs = sleep.fromMs + sleep.lengthMs;
    const edgeMs = Array.from(world.contact).find(
      (atMs, index) =>
        atMs > sleep.fromMs &&
        atMs < timerMs &&
        (watch.wakeOn === 'any-change' || (watch.wakeOn === 'opening' && index % 2 === 0)),
    );
    return edgeMs === undefined
      ? { atMs: timerMs, cause: 'timer' }
      : { atMs: edgeMs, cause: 'contact' };
  }

  const dark = powerLost.find(
    ({ from, to }) => from <= world.powerOnAtMs && world.powerOnAtMs < to,
  );
  supply?.powerOn(dark?.to ?? world.powerOnAtMs);
  let next: NextWake | null = powerOn(0, dark?.to ?? world.powerOnAtMs);
  while (next !== null && next.atMs < lengthMs) next = wakeUp(next);
  const flat = supply?.flat ?? [];
  for (const { fromMs, toMs } of flat) tally.flatMs += toMs - fromMs;
  return { alerts, wakes, tally, flat, lowBattery, charges: supply?.charges ?? [] };
}

/** Memory at power-on: the door last seen shut, no open check counted, no alert sent. */
function fresh(heartbeatMs: number): Retained {
  return {
    checks: [],
    shutRun: 0,
    pending: null,
    failures: 0,
    deliveredMs: null,
    heartbeatMs,
    warnedMs: null,
  };
}

function emptyWake(cause: OracleWake['cause'], wakeMs: number): Wake {
  return {
    cause,
    wakeMs,
    checkMs: null,
    contact: null,
    escalated: false,
    decision: null,
    alertSend: null,
    heartbeatSend: null,
    lowBatterySend: null,
    lowBatteryWithAlert: false,
    sleep: null,
    holds: false,
  };
}

function emptyTally() {
  return {
    checks: 0,
    openChecks: 0,
    wakes: { 'power-on': 0, reset: 0, timer: 0, contact: 0 },
    alertSends: { delivered: 0, failed: 0, cutOff: 0 },
    heartbeatSends: { delivered: 0, failed: 0, cutOff: 0 },
    lowBatterySends: { delivered: 0, failed: 0, cutOff: 0 },
    bootMs: 0,
    alertSendMs: 0,
    heartbeatSendMs: 0,
    lowBatterySendMs: 0,
    joinWaitMs: 0,
    shutBootMs: 0,
    failedSends: { count: 0, ms: 0 },
    heldMs: 0,
    offMs: 0,
    flatMs: 0,
  };
}
