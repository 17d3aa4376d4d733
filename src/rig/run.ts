// A host's answer as a trace like the simulator's. What the model remembers a firmware need not: its memory stays blank.
import { pushAll } from '../base/index.js';
import type { AlertRecord, Experiment, SendRecord, Trace } from '../sim/index.js';
import type { World } from '../world/index.js';
import { type Failure, failureOf, failureWords } from './failure.js';
import { foldedWakes, isWithAlert, sendRecord } from './folded.js';
import type { Reply, RigJoin, RigSend, RigTotals } from './reply.js';

/** A firmware's run of one timeline. */
export interface RigRun {
  readonly trace: Trace;
  /** Null: it ran to the end of the timeline. */
  readonly failure: Failure | null;
  /** What it printed, the first few thousand characters. */
  readonly printed: string;
  readonly printedBytes: number;
  readonly reply: Reply;
}

/** @param experiment what the host was asked to run. */
export function rigRun(reply: Reply, { world, timing }: Experiment): RigRun {
  const totals = reply.totals !== null && isTrue(reply.totals, reply, world) ? reply.totals : null;
  const alerts = alertsOf(reply);
  const failure =
    totals === null
      ? {
          kind: 'broke-the-rig' as const,
          atMs: reply.lastMs,
          what: failureWords('broke-the-rig', 0),
        }
      : (failureOf(totals.failureCode, totals.endMs, totals.failureDetail) ??
        negligence(totals, world));
  const { clockError } = timing;
  let folded: Trace['wakes'] | null = null;
  const trace: Trace = {
    lengthMs: world.lengthMs,
    alerts,
    // It takes longer than the run of a quiet month, and not every reader wants it.
    get wakes() {
      folded ??= foldedWakes(reply, { alerts, openings: world.openings });
      return folded;
    },
    flat: [],
    charges: [],
    lowBattery: lowBatteryOf(reply.sends),
    lowBatteryDue: triedLow(reply.sends),
    answers: [],
    tally: {
      checks: totals?.checks ?? 0,
      openChecks: totals?.openChecks ?? 0,
      wakes: totals?.wakes ?? { 'power-on': 0, reset: 0, timer: 0, contact: 0 },
      alertSends: outcomesOf(reply.sends, 'alert'),
      heartbeatSends: outcomesOf(reply.sends, 'heartbeat'),
      lowBatterySends: outcomesOf(reply.sends, 'lowBattery'),
      bootMs: totals?.bootMs ?? 0,
      alertSendMs: sendMsOf(reply.sends, 'alert'),
      heartbeatSendMs: sendMsOf(reply.sends, 'heartbeat'),
      lowBatterySendMs: sendMsOf(reply.sends, 'lowBattery'),
      joinWaitMs: reply.sends.reduce((sum, { waitedMs }) => sum + waitedMs, 0),
      heldMs: totals?.heldMs ?? 0,
      offMs: totals?.offMs ?? 0,
      flatMs: 0,
      shutBootMs: 0,
      failedSends: failedOf(reply.sends),
      clockErrorPpm: clockError.kind === 'fixed' ? clockError.ppm : null,
    },
  };
  const { printed } = reply;
  return { trace, failure, printed, printedBytes: totals?.printedBytes ?? 0, reply };
}

/** Attempts of alerts and low-battery messages that met the network down at their end, or would have, and how long they lasted. */
function failedOf(sends: readonly RigSend[]): Trace['tally']['failedSends'] {
  const failed = { count: 0, ms: 0 };
  for (const { kind, metNoNetwork, startMs, endMs, waitedMs } of sends) {
    if (kind === 'heartbeat' || !metNoNetwork) continue;
    failed.count += 1;
    failed.ms += endMs - startMs - waitedMs;
  }
  return failed;
}

/** Those that were delivered; in an alert's connection they took no time. */
function lowBatteryOf(sends: readonly RigSend[]): Trace['lowBattery'] {
  return sends.flatMap((send, index) =>
    send.kind === 'lowBattery' && send.outcome === 'delivered'
      ? [{ deliveredMs: send.endMs, withAlert: isWithAlert(send, sends[index - 1]) }]
      : [],
  );
}

/** As far as the firmware tried: when one is due is up to it. */
function triedLow(sends: readonly RigSend[]): Trace['lowBatteryDue'] {
  const tried = sends.filter(({ kind }) => kind === 'lowBattery');
  const [first] = tried;
  if (first === undefined) return null;
  const vain = tried.filter(({ outcome }) => outcome !== 'delivered');
  const failed = vain.filter(({ outcome }) => outcome === 'failed').length;
  return {
    firstMs: first.startMs,
    failed,
    cutOff: vain.length - failed,
    lastMs: vain.at(-1)?.endMs ?? null,
  };
}

/** Less time with power shows nothing of the kind. */
const leastOnMs = 3_600_000;

/** What a firmware did not do in all of a timeline, though nothing stopped it. */
function negligence(totals: RigTotals, { lengthMs }: World): Failure | null {
  const { wakes, checks, heldMs, offMs, hasIdled, hasArmed } = totals;
  const onMs = lengthMs - offMs;
  if (onMs < leastOnMs) return null;
  const failure = (kind: 'never-sleeps' | 'never-looks'): Failure => {
    return { kind, atMs: lengthMs, what: failureWords(kind, 0) };
  };
  const slept = wakes.timer + wakes.contact > 0;
  if (!slept && !hasIdled && 2 * heldMs > onMs) return failure('never-sleeps');
  return checks === 0 && !hasArmed && !hasIdled ? failure('never-looks') : null;
}

/** Whether the host can have written such an end: with the wakes that it reported, and some where the device has power. */
function isTrue({ wakes, offMs }: RigTotals, reply: Reply, { lengthMs }: World): boolean {
  const counted = wakes['power-on'] + wakes.reset + wakes.timer + wakes.contact;
  const reported = reply.wakes.length;
  return (counted > 0 || offMs >= lengthMs) && (reported === 0 || reported === counted);
}

interface OpenAlert {
  readonly decidedMs: number;
  deliveredMs: number | null;
  droppedMs: number | null;
  forgottenMs: number | null;
  readonly attempts: SendRecord[];
}

/**
 * Attempts until a delivery are one alert, decided at the first. A new one begins after retained memory is lost, and where the
 * firmware saw the door shut, tried nothing, and then sends with the door open again: it had given the last one up. Joining the
 * network, from a time on at which the door is open, belongs to the alert that is then transmitted.
 */
function alertsOf({ sends, joins, memoryLostMs }: Reply): AlertRecord[] {
  const alerts: OpenAlert[] = [];
  let pending: OpenAlert | null = null;
  let joining: RigJoin[] = [];
  let losses = 0;
  const forget = (untilMs: number): void => {
    for (; (memoryLostMs[losses] ?? untilMs) < untilMs; losses += 1) {
      if (pending !== null) pending.forgottenMs = memoryLostMs[losses] ?? null;
      pending = null;
      joining = [];
    }
  };
  for (const one of inOrder(sends, joins)) {
    forget(one.startMs);
    const { startMs, endMs, givenUpMs, contact } = one;
    const last: OpenAlert | null = pending;
    if (givenUpMs !== null && contact === 'open') {
      if (last !== null) last.droppedMs = givenUpMs;
      pending = null;
      joining = [];
    }
    if ('joined' in one) {
      if (contact === 'open' || joining.length > 0) joining.push(one);
      continue;
    }
    pending ??= openAlert(joining[0]?.startMs ?? startMs, alerts);
    pushAll(pending.attempts, joining.filter(({ joined }) => !joined).map(failedJoin));
    joining = [];
    pending.attempts.push(sendRecord(one));
    if (one.outcome !== 'delivered') continue;
    pending.deliveredMs = endMs;
    pending = null;
  }
  forget(Number.POSITIVE_INFINITY);
  return alerts;
}

/** Attempts of alerts and joins, as they came. */
function inOrder(
  sends: readonly RigSend[],
  joins: readonly RigJoin[],
): readonly (RigSend | RigJoin)[] {
  const alerts = sends.filter(({ kind }) => kind === 'alert');
  if (joins.length === 0) return alerts;
  return [...joins, ...alerts].sort((a, b) => a.startMs - b.startMs || a.endMs - b.endMs);
}

function failedJoin({ startMs, endMs, waitedMs }: RigJoin): SendRecord {
  return sendRecord({ startMs, endMs, waitedMs, outcome: 'failed', metNoNetwork: true });
}

function openAlert(decidedMs: number, alerts: OpenAlert[]): OpenAlert {
  const alert: OpenAlert = {
    decidedMs,
    deliveredMs: null,
    droppedMs: null,
    forgottenMs: null,
    attempts: [],
  };
  alerts.push(alert);
  return alert;
}

function outcomesOf(
  sends: readonly RigSend[],
  kind: RigSend['kind'],
): Record<RigSend['outcome'], number> {
  const counts = { delivered: 0, failed: 0, cutOff: 0 };
  for (const send of sends) if (send.kind === kind) counts[send.outcome] += 1;
  return counts;
}

function sendMsOf(sends: readonly RigSend[], kind: RigSend['kind']): number {
  return sends.reduce(
    (sum, send) => (send.kind === kind ? sum + send.endMs - send.startMs - send.waitedMs : sum),
    0,
  );
}
