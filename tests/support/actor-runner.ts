// The watch as an XState actor, run for real: its actions set timeouts on XState's simulated clock, its events
// come when these fire. Nothing is compiled and nothing is skipped; the device body is the oracle's.
import { createActor, SimulatedClock } from 'xstate';
import { type SleepInterval, type WakeCause, watchMachine } from '../../src/machine/index.js';
import type { AlertRecord, Experiment, SendRecord } from '../../src/sim/index.js';
import { readsOpenAt, spanAt } from '../../src/world/index.js';
import type { OracleWake } from './oracle.js';
import { oracleClock, oracleDurations } from './oracle-device.js';

export interface ActorRun {
  readonly alerts: readonly AlertRecord[];
  readonly wakes: readonly Omit<OracleWake, 'escalated' | 'decision'>[];
  readonly checks: number;
}

type Mutable<T> = { -readonly [Key in keyof T]: T[Key] };
type Wake = Mutable<ActorRun['wakes'][number]>;
interface Alert extends Mutable<Omit<AlertRecord, 'attempts'>> {
  readonly attempts: SendRecord[];
}

/** What comes next, by rank: of two things at one instant the lower rank happens and undoes the other. */
interface Due {
  readonly atMs: number;
  readonly rank: number;
  readonly happen: () => void;
}

interface Fault extends Due {
  /** When the device runs again. */
  readonly backMs: number;
}

const rank = { fault: 0, device: 1, edge: 2 } as const;

export function runActor({ program, timing, world, seed }: Experiment): ActorRun {
  const { watch } = program;
  const time = new SimulatedClock();
  const clock = oracleClock(timing.clockError, seed);
  const bootTime = oracleDurations(timing.bootTime, seed, 'boot');
  const connectTime = oracleDurations(timing.connectTime, seed, 'connect');

  const alerts: Alert[] = [];
  const wakes: Wake[] = [];
  let checks = 0;
  let wake: Wake | undefined;
  let pending: Alert | undefined;
  let sending:
    | {
        readonly kind: 'alert' | 'heartbeat' | 'lowBattery';
        readonly startMs: number;
        readonly dueMs: number;
      }
    | undefined;
  let warns = false;
  let warnedMs = Number.NEGATIVE_INFINITY;
  let deliveredMs = Number.NEGATIVE_INFINITY;
  let heartbeatMs = 0;
  let deviceDue: Due | undefined;
  /** When the connect time of the send is over. */
  let joinsMs = Number.POSITIVE_INFINITY;
  let edgeDue: Due | undefined;

  const nominalMs: Readonly<Record<SleepInterval, number>> = {
    check: watch.checkIntervalMs,
    recheck: watch.recheckIntervalMs,
    retry: watch.retryIntervalMs,
  };

  function expect(afterMs: number, happen: () => void): void {
    deviceDue = { atMs: time.now() + afterMs, rank: rank.device, happen };
  }

  function send(kind: 'alert' | 'heartbeat' | 'lowBattery'): void {
    const connectMs = connectTime();
    sending = { kind, startMs: time.now(), dueMs: time.now() + connectMs };
    joinsMs = Number.POSITIVE_INFINITY;
    if (kind === 'heartbeat') heartbeatMs = time.now();
    expect(connectMs, () => {
      joinsMs = time.now();
      join(kind);
    });
  }

  function join(kind: 'alert' | 'heartbeat' | 'lowBattery'): void {
    const outage = spanAt(world.networkDown, time.now());
    const patienceMs = joinsMs + timing.joinWaitMs - time.now();
    if (outage >= 0 && patienceMs > 0) {
      const backMs = (world.networkDown.toMs[outage] ?? 0) - time.now();
      expect(Math.min(backMs, patienceMs), () => {
        join(kind);
      });
      return;
    }
    const delivered = outage < 0;
    endSend(delivered ? 'delivered' : 'failed');
    actor.send({ type: `${kind}Attempted`, delivered });
  }

  function endSend(outcome: SendRecord['outcome']): void {
    if (sending === undefined || wake === undefined) return;
    const waitedMs = Math.max(0, time.now() - joinsMs);
    const waited = waitedMs > 0 ? { waitedMs } : {};
    const outage = spanAt(world.networkDown, sending.dueMs);
    const backMs = outage < 0 ? sending.dueMs : (world.networkDown.toMs[outage] ?? 0);
    const fails = outcome === 'cutOff' && backMs > sending.dueMs + timing.joinWaitMs;
    const record: SendRecord = {
      ...{ startMs: sending.startMs, endMs: time.now(), outcome },
      ...waited,
      ...(fails ? { wouldFail: true } : {}),
    };
    if (warns && outcome === 'delivered') warnedMs = time.now();
    if (sending.kind === 'lowBattery') wake.lowBatterySend = record;
    else if (sending.kind === 'heartbeat') wake.heartbeatSend = record;
    else {
      wake.alertSend = record;
      pending?.attempts.push(record);
      if (outcome === 'delivered') {
        deliveredMs = time.now();
        if (pending !== undefined) pending.deliveredMs = time.now();
        pending = undefined;
      }
    }
    sending = undefined;
    warns = false;
  }

  function sleep(interval: SleepInterval): void {
    const fromMs = time.now();
    const lengthMs = clock.sleepMs(nominalMs[interval], fromMs);
    if (wake !== undefined) wake.sleep = { interval, fromMs, lengthMs };
    expect(lengthMs, () => {
      clock.sleptThrough();
      wakeUp('timer');
    });
    if (watch.wakeOn === 'timer') return;
    const edgeMs = world.contact.find(
      (atMs, index) => atMs > fromMs && (watch.wakeOn === 'any-change' || index % 2 === 0),
    );
    const happen = (): void => {
      wakeUp('contact');
    };
    edgeDue = edgeMs === undefined ? undefined : { atMs: edgeMs, rank: rank.edge, happen };
  }

  /** @param learned what the machine hears of it. */
  function wakeUp(cause: WakeCause, learned = cause): void {
    edgeDue = undefined;
    wake = {
      cause,
      wakeMs: time.now(),
      checkMs: null,
      contact: null,
      alertSend: null,
      heartbeatSend: null,
      lowBatterySend: null,
      lowBatteryWithAlert: false,
      sleep: null,
      holds: false,
    };
    wakes.push(wake);
    actor.send({ type: `wake.${learned}` });
    expect(bootTime(), check);
  }

  function check(): void {
    const nowMs = time.now();
    const contact = readsOpenAt(world.contact, nowMs) ? 'open' : 'shut';
    checks += 1;
    if (wake !== undefined) {
      wake.checkMs = nowMs;
      wake.contact = contact;
    }
    actor.send({
      type: 'check',
      contact,
      cooldownOver:
        deliveredMs === Number.NEGATIVE_INFINITY ||
        clock.hasPassed(watch.alertCooldownMs, deliveredMs, nowMs),
      heartbeatDue:
        watch.heartbeatIntervalMs !== null &&
        clock.hasPassed(watch.heartbeatIntervalMs, heartbeatMs, nowMs),
      lowBatteryDue:
        watch.lowBattery !== undefined &&
        world.batteryLow !== undefined &&
        spanAt(world.batteryLow, nowMs) >= 0 &&
        (warnedMs === Number.NEGATIVE_INFINITY ||
          clock.hasPassed(watch.lowBattery.repeatMs, warnedMs, nowMs)),
    });
  }

  const actor = createActor(
    watchMachine.provide({
      actions: {
        decideAlert: () => {
          const decided = { deliveredMs: null, droppedMs: null, forgottenMs: null, attempts: [] };
          pending = { decidedMs: time.now(), ...decided };
          alerts.push(pending);
        },
        dropAlert: () => {
          if (pending !== undefined) pending.droppedMs = time.now();
          pending = undefined;
        },
        attemptAlert: () => {
          send('alert');
        },
        attemptHeartbeat: () => {
          send('heartbeat');
        },
        attemptLowBattery: () => {
          warns = true;
          if (sending === undefined) send('lowBattery');
          else if (wake !== undefined) wake.lowBatteryWithAlert = true;
        },
        sleep: (_, { interval }) => {
          sleep(interval);
        },
        hold: () => {
          if (wake !== undefined) wake.holds = true;
          deviceDue = undefined;
        },
      },
    }),
    { input: watch, clock: time },
  );

  function powerOnAt(atMs: number): Due {
    const happen = (): void => {
      deliveredMs = Number.NEGATIVE_INFINITY;
      warnedMs = Number.NEGATIVE_INFINITY;
      heartbeatMs = time.now();
      wakeUp('power-on');
    };
    return { atMs, rank: rank.device, happen };
  }

  /** The next power loss or reset after an instant at which the device boots. */
  function nextFault(afterMs: number): Fault | undefined {
    const cut = world.powerLost.fromMs.findIndex((fromMs) => fromMs > afterMs);
    const cutMs = world.powerLost.fromMs[cut] ?? Number.POSITIVE_INFINITY;
    const next = world.resetsMs.findIndex(
      (atMs) => atMs > afterMs && spanAt(world.powerLost, atMs) < 0,
    );
    const resetMs = world.resetsMs[next] ?? Number.POSITIVE_INFINITY;
    if (resetMs < cutMs) {
      const clears = world.resetEffects?.[next]?.clears === true;
      const happen = clears ? resetClearing : reset;
      return { atMs: resetMs, backMs: resetMs, rank: rank.fault, happen };
    }
    const backMs = world.powerLost.toMs[cut];
    if (backMs === undefined) return undefined;
    const happen = (): void => {
      losePower(backMs);
    };
    return { atMs: cutMs, backMs, rank: rank.fault, happen };
  }

  function reset(): void {
    endSend('cutOff');
    wakeUp('reset');
  }

  /** To the machine: no power, and power again in the same instant. Its clock goes on, its time stamps are gone. */
  function resetClearing(): void {
    endSend('cutOff');
    if (pending !== undefined) pending.forgottenMs = time.now();
    pending = undefined;
    deliveredMs = Number.NEGATIVE_INFINITY;
    warnedMs = Number.NEGATIVE_INFINITY;
    heartbeatMs = time.now();
    actor.send({ type: 'powerLost' });
    wakeUp('reset', 'power-on');
  }

  function losePower(backMs: number): void {
    endSend('cutOff');
    edgeDue = undefined;
    if (pending !== undefined) pending.forgottenMs = time.now();
    pending = undefined;
    actor.send({ type: 'powerLost' });
    deviceDue = powerOnAt(backMs);
  }

  actor.start();
  const dark = spanAt(world.powerLost, world.powerOnAtMs);
  const powerOn = powerOnAt(dark < 0 ? world.powerOnAtMs : (world.powerLost.toMs[dark] ?? 0));
  deviceDue = powerOn;
  let fault = nextFault(powerOn.atMs);
  for (;;) {
    const next = earlier(earlier(fault, deviceDue), edgeDue);
    if (next === undefined || next.atMs >= world.lengthMs) break;
    if (next === deviceDue) deviceDue = undefined;
    if (next === fault) fault = nextFault(fault.backMs);
    // One timeout at a time: of two chained ones in one step the second would be lost.
    time.setTimeout(next.happen, next.atMs - time.now());
    time.set(next.atMs);
  }
  time.set(world.lengthMs);
  endSend('cutOff');
  return { alerts, wakes, checks };
}

function earlier(one: Due | undefined, other: Due | undefined): Due | undefined {
  if (one === undefined || other === undefined) return one ?? other;
  const first = one.atMs < other.atMs || (one.atMs === other.atMs && one.rank < other.rank);
  return first ? one : other;
}
