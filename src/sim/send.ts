// One send over the network: it takes the connect time, and succeeds if the network is up then, or at an instant within the time
// that the device waits for it.
import { effectBit, effectCell, inputCode, nextState } from '../machine/index.js';
import { joinEnd } from '../world/index.js';
import { drainsAtSend } from './drain.js';
import { type Run, readingAt } from './run-state.js';
import type { SendKind } from './running-tally.js';
import type { SendRecord } from './trace.js';

export interface Sent {
  readonly kind: SendKind;
  /** The low-battery message is what is sent, or goes with the alert. */
  readonly withLowBattery: boolean;
  readonly record: SendRecord;
  /** Whether the network is up when the send ends, or would have. */
  readonly isUp: boolean;
  /** The effects cell of the logic's answer; 0 when the send was cut off. */
  readonly effects: number;
}

/** What the logic learns of a send. */
const answers = {
  alert: { delivered: inputCode.alertDelivered, failed: inputCode.alertFailed },
  heartbeat: { delivered: inputCode.heartbeatDelivered, failed: inputCode.heartbeatFailed },
  lowBattery: { delivered: inputCode.lowBatteryDelivered, failed: inputCode.lowBatteryFailed },
} as const;

/** The send that an effects cell names; null: none. */
export function sendIn(effects: number): SendKind | null {
  if ((effects & effectBit.attemptAlert) !== 0) return 'alert';
  if ((effects & effectBit.attemptHeartbeat) !== 0) return 'heartbeat';
  return (effects & effectBit.attemptLowBattery) !== 0 ? 'lowBattery' : null;
}

/** The column in which the logic learns of a send's end. */
export function answerTo(kind: SendKind, isDelivered: boolean): number {
  return answers[kind][isDelivered ? 'delivered' : 'failed'];
}

/** Carries out the send that a check's effects name, begun at `startMs`, and reports its end to the logic unless something cuts it off. */
export function send(run: Run, from: number, startMs: number): Sent | null {
  const kind = sendIn(from);
  if (kind === null) return null;
  const withLowBattery = (from & effectBit.attemptLowBattery) !== 0;
  const dueMs = startMs + run.connect.next();
  const { endMs, isUp: delivered } = joinEnd(run.networkDown, dueMs, run.joinWaitMs);
  if ((from & effectBit.decideAlert) !== 0) run.decidedAt = readingAt(run, startMs);
  if (kind === 'heartbeat') run.heartbeatEnd = readingAt(run, startMs) + run.heartbeatTimer;
  drainsAtSend(run, kind, { startMs, dueMs, endMs, isUp: delivered });
  if (run.limitMs <= endMs) {
    const cut = recordOf({ startMs, dueMs, endMs: run.limitMs, outcome: 'cutOff' });
    const record = delivered ? cut : { ...cut, wouldFail: true as const };
    return { kind, withLowBattery, record, isUp: delivered, effects: 0 };
  }
  const code = answerTo(kind, delivered);
  const effects = effectCell(run.table, run.state, code);
  run.state = nextState(run.table, run.state, code);
  if (kind === 'alert' && delivered) {
    const since = run.coolsFromDecision ? run.decidedAt : readingAt(run, endMs);
    run.cooldownEnd = since + run.cooldownTimer;
    if (run.slips !== null) run.slips.deliveredReading = readingAt(run, endMs);
  }
  if (withLowBattery && delivered) run.lowBatteryEnd = readingAt(run, endMs) + run.lowBatteryTimer;
  const record = recordOf({ startMs, dueMs, endMs, outcome: delivered ? 'delivered' : 'failed' });
  return { kind, withLowBattery, record, isUp: delivered, effects };
}

function recordOf({
  startMs,
  dueMs,
  endMs,
  outcome,
}: SendRecord & { readonly dueMs: number }): SendRecord {
  const waitedMs = endMs - dueMs;
  return waitedMs > 0 ? { startMs, endMs, outcome, waitedMs } : { startMs, endMs, outcome };
}
