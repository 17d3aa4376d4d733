// A firmware and the machine of a watch file side by side, wake by wake: the first instant at which they decide
// differently. Decisions are what is sent and how the device goes to sleep.

import { durationText } from '../base/index.js';
import type { RetainedMemory, WatchSettings } from '../machine/index.js';
import { mostConformWakes } from '../model/index.js';
import type { SendKind, SendRecord, Trace, WakeRecord } from '../sim/index.js';
import { sendsByWake } from './folded.js';
import type { RigSend, RigWake } from './reply.js';
import type { RigRun } from './run.js';

/** What one of the two did in a wake. */
export interface Side {
  readonly wakeMs: number;
  readonly cause: string;
  readonly sends: readonly (SendRecord & { readonly kind: SendKind })[];
  /** Null: it does not fall asleep. */
  readonly sleep: { readonly fromMs: number; readonly lengthMs: number } | null;
  readonly armed: string;
  readonly holds: boolean;
  /** What its check read; null: it made none. */
  readonly check: { readonly atMs: number; readonly contact: 'open' | 'shut' } | null;
}

export interface Difference {
  readonly atMs: number;
  /** The wake, counted from 0: whose retained memory the host can be asked for. */
  readonly wake: number;
  /** One clause. */
  readonly what: string;
  /** Null: it does not wake any more. */
  readonly firmware: Side | null;
  readonly machine:
    | (Side & { readonly before: RetainedMemory; readonly after: RetainedMemory })
    | null;
}

/**
 * The first difference, or null.
 * @param run of the firmware, with its wakes.
 * @param trace of the machine on the same timeline, with its wakes.
 * @param toleranceMs how far an instant may be from the machine's, counted from the wake before, and still agree. Where it
 * makes the two read another contact, or where the machine was so near to the end of its cooldown or to its next heartbeat, nothing more is compared.
 */
export function conformance(
  run: RigRun,
  trace: Trace,
  watch: WatchSettings,
  toleranceMs = 0,
): Difference | null {
  const sendsOf = sendsByWake(run.reply.sends);
  const machine = machineWakes(trace);
  const armed = armedBy[watch.wakeOn];
  const near = nearlyDue(trace, watch);
  let driftMs = 0;
  for (let wake = 0; wake < mostConformWakes; wake += 1) {
    const one = run.reply.wakes[wake];
    const other = machine();
    if (one === undefined && other === null) break;
    // Nearly all wakes are like this one, and looking closer takes time.
    const isQuiet = driftMs === 0 && !sendsOf.has(wake);
    if (isQuiet && one !== undefined && other !== null && isPlainlyAlike(one, other, armed))
      continue;
    const ours = one === undefined ? null : firmwareSide(one, sendsOf.get(wake) ?? []);
    const theirs = other === null ? null : sideOf(other.record, other.byMs, armed);
    const byMs = ours === null || theirs === null ? 0 : ours.wakeMs - theirs.wakeMs;
    const agrees = Math.abs(byMs - driftMs) <= toleranceMs;
    const found = differenceOf(agrees ? shifted(ours, -byMs) : ours, theirs, toleranceMs);
    if (agrees) driftMs = byMs;
    if (found === null) continue;
    if (
      toleranceMs > 0 &&
      followsFrom(ours, theirs, { near, apartMs: Math.abs(byMs) + toleranceMs })
    )
      return null;
    // How the firmware ended its last wake is what it stopped with.
    const { failure } = run;
    const what =
      failure === null
        ? found.what
        : found.what.replace('the firmware is stopped', `the firmware stopped (${failure.what})`);
    return { ...found, what, wake, firmware: ours, machine: theirs };
  }
  const { failure } = run;
  if (failure === null) return null;
  return {
    atMs: failure.atMs,
    what: failure.what,
    wake: mostConformWakes,
    firmware: null,
    machine: null,
  };
}

/** A side as if all of its wake came later. */
function shifted(side: Side | null, byMs: number): Side | null {
  if (side === null || byMs === 0) return side;
  return {
    ...side,
    wakeMs: side.wakeMs + byMs,
    sends: side.sends.map((send) => ({
      ...send,
      startMs: send.startMs + byMs,
      endMs: send.endMs + byMs,
    })),
    sleep: side.sleep === null ? null : { ...side.sleep, fromMs: side.sleep.fromMs + byMs },
  };
}

/** Whether two sides differ only because their instants do, within what is tolerated. */
function followsFrom(
  ours: Side | null,
  theirs: Side | null,
  {
    near,
    apartMs,
  }: { readonly near: (atMs: number, apartMs: number) => boolean; readonly apartMs: number },
): boolean {
  // A timeline ends, or a fault comes, between the two.
  if (ours === null || theirs === null) return true;
  if (ours.cause !== theirs.cause) return Math.abs(ours.wakeMs - theirs.wakeMs) <= apartMs;
  if (ours.check?.contact !== theirs.check?.contact) return true;
  const sent = ours.sends.map(({ outcome }) => outcome).join();
  if (
    ours.sends.length === theirs.sends.length &&
    sent !== theirs.sends.map(({ outcome }) => outcome).join()
  )
    return true;
  return theirs.check !== null && near(theirs.check.atMs, apartMs);
}

/** Whether the end of the machine's cooldown, or its next heartbeat, is so near. */
function nearlyDue({ alerts, wakes }: Trace, watch: WatchSettings) {
  const { alertCooldownMs, heartbeatIntervalMs } = watch;
  const beats =
    heartbeatIntervalMs === null
      ? []
      : wakes.flatMap(({ heartbeatSend }) => heartbeatSend?.startMs ?? []);
  return (atMs: number, apartMs: number): boolean => {
    const deliveredMs =
      alerts.findLast((alert) => (alert.deliveredMs ?? atMs) < atMs)?.deliveredMs ?? null;
    const beatMs = beats.findLast((startMs) => startMs < atMs) ?? 0;
    const cooldown =
      deliveredMs !== null && Math.abs(atMs - deliveredMs - alertCooldownMs) <= apartMs;
    return (
      cooldown ||
      (heartbeatIntervalMs !== null && Math.abs(atMs - beatMs - heartbeatIntervalMs) <= apartMs)
    );
  };
}

function differenceOf(
  ours: Side | null,
  theirs: Side | null,
  toleranceMs: number,
): { atMs: number; what: string } | null {
  if (ours === null) {
    return { atMs: theirs?.wakeMs ?? 0, what: 'the machine wakes and the firmware does not' };
  }
  if (theirs === null)
    return { atMs: ours.wakeMs, what: 'the firmware wakes and the machine does not' };
  if (ours.wakeMs !== theirs.wakeMs || ours.cause !== theirs.cause) {
    return {
      atMs: Math.min(ours.wakeMs, theirs.wakeMs),
      what: `the firmware wakes by ${ours.cause}, the machine ${ours.wakeMs === theirs.wakeMs ? '' : 'at another time '}by ${theirs.cause}`,
    };
  }
  for (let index = 0; index < Math.max(ours.sends.length, theirs.sends.length); index += 1) {
    const [mine, yours] = [ours.sends[index], theirs.sends[index]];
    if (mine !== undefined && yours !== undefined && isSameSend(mine, yours, toleranceMs)) continue;
    const atMs = Math.min(mine?.startMs ?? Infinity, yours?.startMs ?? Infinity);
    // Where only one of them sends, that is the instant.
    const isTimed = mine !== undefined && yours !== undefined;
    const [one, other] = [sendText(mine, isTimed), sendText(yours, isTimed)];
    return { atMs, what: `the firmware ${one}, the machine ${other}` };
  }
  return restDifference(ours, theirs, toleranceMs);
}

function restDifference(
  ours: Side,
  theirs: Side,
  toleranceMs: number,
): { atMs: number; what: string } | null {
  if (restAlike(ours, theirs, toleranceMs)) return null;
  const atMs = Math.min(ours.sleep?.fromMs ?? Infinity, theirs.sleep?.fromMs ?? Infinity);
  return {
    atMs: Number.isFinite(atMs) ? atMs : ours.wakeMs,
    what: `the firmware ${restText(ours)}, the machine ${restText(theirs)}`,
  };
}

/** Whether both come to rest alike. */
function restAlike(ours: Side, theirs: Side, toleranceMs: number): boolean {
  if (ours.holds || theirs.holds) return ours.holds === theirs.holds;
  const [mine, yours] = [ours.sleep, theirs.sleep];
  if (mine === null || yours === null) return mine === yours;
  const asLong =
    Math.abs(mine.fromMs - yours.fromMs) <= toleranceMs &&
    Math.abs(mine.lengthMs - yours.lengthMs) <= toleranceMs;
  return asLong && ours.armed === theirs.armed;
}

function isSameSend(
  one: Side['sends'][number],
  other: Side['sends'][number],
  toleranceMs: number,
): boolean {
  return (
    one.kind === other.kind &&
    Math.abs(one.startMs - other.startMs) <= toleranceMs &&
    Math.abs(one.endMs - other.endMs) <= toleranceMs &&
    one.outcome === other.outcome
  );
}

const kindWords: Readonly<Record<SendKind, string>> = {
  alert: 'an alert',
  heartbeat: 'a heartbeat',
  lowBattery: 'a low-battery message',
};

function sendText(send: Side['sends'][number] | undefined, isTimed: boolean): string {
  if (send === undefined) return 'sends nothing';
  const what = kindWords[send.kind];
  const at = isTimed ? ` at +${durationText(send.startMs)}` : '';
  return `sends ${what}${at} (${send.outcome === 'cutOff' ? 'cut off' : send.outcome})`;
}

function restText({ sleep, armed, holds }: Side): string {
  if (holds) return 'stays awake and does nothing until it is reset';
  if (sleep === null) return 'is stopped';
  const edges = armed === 'none' ? '' : `, woken by ${armed === 'all' ? 'any edge' : 'an opening'}`;
  return `sleeps ${durationText(sleep.lengthMs)}${edges}`;
}

function firmwareSide(wake: RigWake, sends: readonly RigSend[]): Side {
  return {
    ...restOf(wake),
    wakeMs: wake.wakeMs,
    cause: wake.cause,
    sends: sends.map(({ kind, startMs, endMs, outcome }) => ({ kind, startMs, endMs, outcome })),
    check: wake.check,
  };
}

function restOf({ sleep, endMs, armed, ends }: RigWake): Pick<Side, 'sleep' | 'armed' | 'holds'> {
  if (sleep === null) return { sleep: null, armed: 'none', holds: ends === 'held' };
  return { sleep: { fromMs: endMs, lengthMs: sleep.lengthMs }, armed, holds: false };
}

const armedBy = { timer: 'none', opening: 'to-open', 'any-change': 'all' } as const;

/** A wake of the machine: a record, or one of its repeats, which come so much later. */
interface MachineWake {
  readonly record: WakeRecord;
  readonly byMs: number;
}

/** One wake after the other; null: there are no more. */
function machineWakes({ wakes }: Trace): () => MachineWake | null {
  let at = 0;
  let repeat = 0;
  return () => {
    const record = wakes[at];
    if (record === undefined) return null;
    const wake = { record, byMs: repeat * record.periodMs };
    if (repeat < record.repeats) repeat += 1;
    else [at, repeat] = [at + 1, 0];
    return wake;
  };
}

/** Whether both wake by the timer or the contact at one instant, send nothing, and go to sleep alike. */
function isPlainlyAlike(ours: RigWake, { record, byMs }: MachineWake, armed: string): boolean {
  const { alertSend, heartbeatSend, lowBatterySend, sleep } = record;
  return (
    ours.wakeMs === record.wakeMs + byMs &&
    ours.cause === record.cause &&
    alertSend === null &&
    heartbeatSend === null &&
    lowBatterySend === null &&
    ours.sleep !== null &&
    sleep !== null &&
    ours.endMs === sleep.fromMs + byMs &&
    ours.sleep.lengthMs === sleep.lengthMs &&
    ours.armed === armed
  );
}

function sideOf(record: WakeRecord, byMs: number, armed: string) {
  const { cause, wakeMs, alertSend, heartbeatSend, lowBatterySend, sleep, holds } = record;
  const sends: (SendRecord & { kind: SendKind })[] = [];
  if (alertSend !== null) sends.push({ kind: 'alert', ...alertSend });
  if (heartbeatSend !== null) sends.push({ kind: 'heartbeat', ...heartbeatSend });
  if (lowBatterySend !== null) sends.push({ kind: 'lowBattery', ...lowBatterySend });
  if (record.lowBatteryWithAlert === true && alertSend?.outcome === 'delivered') {
    sends.push({ kind: 'lowBattery', ...alertSend, startMs: alertSend.endMs });
  }
  return {
    wakeMs: wakeMs + byMs,
    cause,
    sends,
    sleep: sleep === null ? null : { fromMs: sleep.fromMs + byMs, lengthMs: sleep.lengthMs },
    armed: sleep === null ? 'none' : armed,
    holds,
    check:
      record.check === null
        ? null
        : { atMs: record.check.atMs + byMs, contact: record.check.contact },
    before: record.memoryBefore,
    after: record.memoryAfter,
  };
}
