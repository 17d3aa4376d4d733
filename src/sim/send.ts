// One send over the network: it takes the connect time, and succeeds if the network is up at its last instant.
import { effectCell, inputCode, nextState } from '../machine/index.js';
import { within } from '../world/index.js';
import { drainsAtSend } from './drain.js';
import { type Run, readingAt } from './run-state.js';
import type { SendRecord } from './trace.js';

export interface Sent {
  readonly kind: 'alert' | 'heartbeat';
  readonly record: SendRecord;
  /** Whether the network is up when the send ends, or would have. */
  readonly isUp: boolean;
  /** The effects cell of the logic's answer; 0 when the send was cut off. */
  readonly effects: number;
}

/** Carries out a send begun at `startMs` and tells the logic how it went, unless something cuts it off. */
export function send(run: Run, kind: Sent['kind'], startMs: number): Sent {
  const endMs = startMs + run.connect.next();
  if (kind === 'heartbeat') run.heartbeatEnd = readingAt(run, startMs) + run.heartbeatTimer;
  const delivered = !within(run.networkDown, endMs);
  drainsAtSend(run, kind, { startMs, endMs, isUp: delivered });
  if (run.limitMs <= endMs) {
    const record: SendRecord = { startMs, endMs: run.limitMs, outcome: 'cutOff' };
    return { kind, record, isUp: delivered, effects: 0 };
  }
  const code =
    kind === 'alert'
      ? delivered
        ? inputCode.alertDelivered
        : inputCode.alertFailed
      : delivered
        ? inputCode.heartbeatDelivered
        : inputCode.heartbeatFailed;
  const effects = effectCell(run.table, run.state, code);
  run.state = nextState(run.table, run.state, code);
  if (kind === 'alert' && delivered) run.cooldownEnd = readingAt(run, endMs) + run.cooldownTimer;
  const outcome = delivered ? 'delivered' : 'failed';
  return { kind, record: { startMs, endMs, outcome }, isUp: delivered, effects };
}
