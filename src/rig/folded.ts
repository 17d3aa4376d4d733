// A firmware's wakes as the simulator records them: runs of like ones become one record, as far as the door does not move.
import { initialMemory } from '../machine/index.js';
import { type AlertRecord, type SendRecord, sendOfWake, type WakeRecord } from '../sim/index.js';
import { firstAfter, type Spans, spanAt } from '../world/index.js';
import type { Reply, RigSend, RigWake } from './reply.js';

/** Nothing is known of a firmware's memory in the model's terms. */
const blankMemory = initialMemory(1);

/** The sends, or joins, of each wake that made any. */
export function sendsByWake<T extends { readonly wake: number }>(
  sends: readonly T[],
): ReadonlyMap<number, readonly T[]> {
  const grouped = new Map<number, T[]>();
  for (const send of sends) {
    const own = grouped.get(send.wake);
    if (own === undefined) grouped.set(send.wake, [send]);
    else own.push(send);
  }
  return grouped;
}

/** The simulator's records hold at most one send of a kind: of several in one wake, the last. Alerts list all. */
export function foldedWakes(
  { wakes, sends }: Reply,
  on: { readonly alerts: readonly AlertRecord[]; readonly openings: Spans },
): WakeRecord[] {
  const decided = new Set(on.alerts.map(({ decidedMs }) => decidedMs));
  const records: WakeRecord[] = [];
  const sendsOf = sendsByWake(sends);
  let lastMs = Number.NaN;
  for (const [index, wake] of wakes.entries()) {
    const own = sendsOf.get(index) ?? [];
    const record = recordOf(wake, { own, decided, openings: on.openings });
    const before = records.at(-1);
    const folded =
      before === undefined ? null : foldedInto(before, record, { lastMs, openings: on.openings });
    if (folded === null) records.push(record);
    else records[records.length - 1] = folded;
    lastMs = wake.wakeMs;
  }
  return records;
}

function recordOf(
  { cause, wakeMs, check, wouldReadShut, ends, endMs, sleep }: RigWake,
  on: {
    readonly own: readonly RigSend[];
    readonly decided: ReadonlySet<number>;
    readonly openings: Spans;
  },
): WakeRecord {
  const alertSend = on.own.findLast(({ kind }) => kind === 'alert') ?? null;
  const heartbeatSend = on.own.findLast(({ kind }) => kind === 'heartbeat') ?? null;
  const low = on.own.findLastIndex(({ kind }) => kind === 'lowBattery');
  const lowSend = on.own[low] ?? null;
  const withAlert = lowSend !== null && isWithAlert(lowSend, on.own[low - 1]);
  const decides = on.own.some(({ kind, startMs }) => kind === 'alert' && on.decided.has(startMs));
  const opening = check === null ? -1 : spanAt(on.openings, check.atMs);
  return {
    cause,
    wakeMs,
    check:
      check === null
        ? null
        : {
            ...check,
            opening: opening < 0 ? null : opening,
            cooldownOver: false,
            heartbeatDue: false,
            lowBatteryDue: false,
            escalated: false,
            decision: decides ? 'alert' : alertSend === null ? 'none' : 'attempt',
          },
    ...(wouldReadShut === true ? { wouldReadShut } : {}),
    memoryBefore: blankMemory,
    memoryAfter: blankMemory,
    alertSend: alertSend === null ? null : sendRecord(alertSend),
    heartbeatSend: heartbeatSend === null ? null : sendRecord(heartbeatSend),
    lowBatterySend: lowSend === null || withAlert ? null : sendRecord(lowSend),
    ...(withAlert ? { lowBatteryWithAlert: true } : {}),
    sleep: sleep === null ? null : { interval: 'check', fromMs: endMs, lengthMs: sleep.lengthMs },
    holds: ends === 'held',
    repeats: 0,
    periodMs: 0,
  };
}

/** Whether a low-battery message went in the connection of the alert before it. */
export function isWithAlert(send: RigSend, before: RigSend | undefined): boolean {
  return (
    before?.kind === 'alert' &&
    before.outcome === 'delivered' &&
    before.wake === send.wake &&
    send.startMs === before.endMs &&
    send.endMs === before.endMs
  );
}

/** A send of a firmware as one of the simulator. */
export function sendRecord({
  startMs,
  endMs,
  outcome,
  metNoNetwork,
  waitedMs,
}: Pick<RigSend, 'startMs' | 'endMs' | 'outcome' | 'metNoNetwork' | 'waitedMs'>): SendRecord {
  const wouldFail = outcome === 'cutOff' && metNoNetwork ? { wouldFail: true as const } : {};
  return { startMs, endMs, outcome, ...(waitedMs > 0 ? { waitedMs } : {}), ...wouldFail };
}

/** The record with one more wake in it; null where that wake is not like those. */
function foldedInto(
  record: WakeRecord,
  next: WakeRecord,
  on: { readonly lastMs: number; readonly openings: Spans },
): WakeRecord | null {
  const { check, sleep } = record;
  if (record.cause !== 'timer' || next.cause !== 'timer') return null;
  if (check === null || next.check === null || sleep === null || next.sleep === null) return null;
  if (check.contact !== next.check.contact || sleep.lengthMs !== next.sleep.lengthMs) return null;
  if ((sendOfWake(record) ?? sendOfWake(next)) !== null) return null;
  const periodMs = next.wakeMs - on.lastMs;
  if (record.repeats > 0 && record.periodMs !== periodMs) return null;
  if (next.check.atMs - next.wakeMs !== check.atMs - record.wakeMs) return null;
  if (next.sleep.fromMs - next.wakeMs !== sleep.fromMs - record.wakeMs) return null;
  const { fromMs, toMs } = on.openings;
  for (const moves of [fromMs, toMs]) {
    if (firstAfter(moves, check.atMs) !== firstAfter(moves, next.check.atMs)) return null;
  }
  return { ...record, repeats: record.repeats + 1, periodMs };
}
