// The wakes of a trace one by one: runs of like ones are written out again, each with the instant its work ends.
import { type SendRecord, sendOfWake, type Trace, type WakeRecord } from '../../sim/index.js';
import { firstAfter, type World } from '../../world/index.js';

export interface WakeTimes {
  readonly record: WakeRecord;
  readonly wakeMs: number;
  /** When it read the contact; null: it did not come to that. */
  readonly checkMs: number | null;
  /** Asleep again, without power, or with the timeline: whichever comes first. */
  readonly endMs: number;
  readonly alertSend: SendRecord | null;
  readonly heartbeatSend: SendRecord | null;
  readonly lowBatterySend: SendRecord | null;
}

export function* wakeTimes(trace: Trace, world: World): Generator<WakeTimes> {
  for (const record of trace.wakes) {
    const { wakeMs, check, sleep, alertSend, heartbeatSend, lowBatterySend } = record;
    const endMs = sleep?.fromMs ?? cutMs(record, trace, world);
    for (let index = 0; index <= record.repeats; index += 1) {
      const byMs = index * record.periodMs;
      yield {
        record,
        wakeMs: wakeMs + byMs,
        checkMs: check === null ? null : check.atMs + byMs,
        endMs: endMs + byMs,
        alertSend: moved(alertSend, byMs),
        heartbeatSend: moved(heartbeatSend, byMs),
        lowBatterySend: moved(lowBatterySend, byMs),
      };
    }
  }
}

/** Whether a pull-up that is powered up to the check flows: the check reads shut, or would have. */
export function hasShutBoot({ check, wouldReadShut }: WakeRecord): boolean {
  return check === null ? wouldReadShut === true : check.contact === 'shut';
}

function moved(send: SendRecord | null, byMs: number): SendRecord | null {
  if (send === null || byMs === 0) return send;
  return { ...send, startMs: send.startMs + byMs, endMs: send.endMs + byMs };
}

/** When a wake that did not end in sleep was cut off: by a reset, a power loss, or the end of the timeline. */
function cutMs(wake: WakeRecord, trace: Trace, world: World): number {
  const { wakeMs, check, holds } = wake;
  const send = sendOfWake(wake);
  if (send !== null && !holds) return send.endMs;
  const lastMs = send?.endMs ?? check?.atMs ?? wakeMs;
  const reset = world.resetsMs[firstAfter(world.resetsMs, lastMs)];
  const loss = world.powerLost.fromMs[firstAfter(world.powerLost.fromMs, lastMs)];
  return Math.min(reset ?? trace.lengthMs, loss ?? trace.lengthMs, trace.lengthMs);
}
