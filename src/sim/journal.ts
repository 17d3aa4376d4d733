// Writes a run down while it happens: alerts always, wakes when they are asked for.
import { invariant, itemAt } from '../base/index.js';
import {
  effectBit,
  inputCode,
  nextState,
  openChecks,
  type WakeCause,
  wokenState,
} from '../machine/index.js';
import { spanAt, spansOf } from '../world/index.js';
import { type Around, type Keeper, keeperAround } from './around.js';
import type { Run } from './run-state.js';
import type { Sent } from './send.js';
import type {
  AlertRecord,
  Decision,
  LowBatteryDue,
  LowBatteryRecord,
  SendRecord,
  SleepRecord,
  Trace,
  WakeRecord,
} from './trace.js';

/** A wake up to the effects of its check, in table codes. */
export interface WakeDraft {
  readonly before: number;
  readonly cause: (typeof inputCode.wake)[WakeCause];
  readonly wakeMs: number;
  readonly checkMs: number;
  readonly code: number;
  readonly effects: number;
}

/** How a wake went on after its check. */
export interface WakeEnd {
  readonly sent: Sent | null;
  /** Null when the device did not fall asleep. */
  readonly sleep: SleepRecord | null;
  readonly repeats: number;
  readonly periodMs: number;
}

/** A wake that ended before its check. */
interface InterruptedDraft extends Pick<WakeDraft, 'before' | 'cause' | 'wakeMs'> {
  readonly wouldReadShut: boolean;
}

export interface Journal {
  /** Whether any wakes are kept at all. */
  readonly keeps: boolean;
  add(draft: WakeDraft, end: WakeEnd): void;
  addInterrupted(draft: InterruptedDraft): void;
  /** What a check does to the alerts. */
  alertEffects(effects: number, checkMs: number): void;
  sent(sent: Sent): void;
  close(): Trace;
}

interface OpenAlert {
  readonly decidedMs: number;
  deliveredMs: number | null;
  droppedMs: number | null;
  forgottenMs: number | null;
  readonly attempts: SendRecord[];
}

function openAlert(decidedMs: number): OpenAlert {
  return { decidedMs, deliveredMs: null, droppedMs: null, forgottenMs: null, attempts: [] };
}

const causes: readonly WakeCause[] = ['power-on', 'reset', 'timer', 'contact'];

/** A journal for a run; it also learns of lost memory. */
export function openJournal(
  run: Run,
  record: 'all' | 'none' | readonly (readonly [fromMs: number, toMs: number])[] | Around,
): Journal {
  const alerts: OpenAlert[] = [];
  const low = lowBatteryTries();
  const wakes: WakeRecord[] = [];
  const { sends } = run.tally;
  const keeper = keeperOf(record, wakes);
  let pending: OpenAlert | null = null;
  run.onMemoryLost = (atMs) => {
    if (pending !== null) pending.forgottenMs = atMs;
    pending = null;
  };
  return {
    keeps: record !== 'none',
    add(draft, end) {
      const lastCheckMs = draft.checkMs + end.repeats * end.periodMs;
      const lastMs = end.sent?.record.endMs ?? lastCheckMs;
      const after = run.state;
      const wakeOf = () => wakeRecord(run, draft, end, after);
      keeper.offer({ wakeMs: draft.wakeMs, lastCheckMs, lastMs, record: wakeOf });
    },
    addInterrupted(draft) {
      const record = () => interruptedRecord(run, draft);
      keeper.offer({ wakeMs: draft.wakeMs, lastCheckMs: null, lastMs: run.limitMs, record });
    },
    alertEffects(effects, checkMs) {
      if ((effects & effectBit.dropAlert) !== 0) {
        invariant(pending !== null, 'only a pending alert is dropped', { checkMs });
        pending.droppedMs = checkMs;
        pending = null;
      }
      if ((effects & effectBit.decideAlert) !== 0) {
        invariant(pending === null, 'one alert is pending at a time', { checkMs });
        pending = openAlert(checkMs);
        alerts.push(pending);
      }
    },
    sent({ kind, withLowBattery, record: sendRecord, isUp }) {
      const total = sends[kind];
      const { startMs, endMs, waitedMs = 0 } = sendRecord;
      const lastedMs = endMs - startMs - waitedMs;
      run.tally.waitMs += waitedMs;
      total[sendRecord.outcome] += 1;
      total.ms += lastedMs;
      if (kind === 'heartbeat') return;
      if (withLowBattery) low.add(sendRecord, kind === 'alert');
      if (!isUp) {
        sends.failed.count += 1;
        sends.failed.ms += lastedMs;
      }
      if (kind === 'lowBattery') return;
      invariant(pending !== null, 'only a pending alert is sent', { sendRecord });
      pending.attempts.push(sendRecord);
      if (sendRecord.outcome !== 'delivered') return;
      pending.deliveredMs = endMs;
      pending = null;
    },
    close() {
      keeper.close();
      return closeTrace(run, { alerts, ...low, wakes });
    },
  };
}

/** The low-battery messages that were delivered, and the tries that were not. */
function lowBatteryTries(): {
  readonly lowBattery: readonly LowBatteryRecord[];
  readonly inVain: Omit<LowBatteryDue, 'firstMs'>;
  readonly add: (sent: SendRecord, withAlert: boolean) => void;
} {
  const lowBattery: LowBatteryRecord[] = [];
  const inVain: { failed: number; cutOff: number; lastMs: number | null } = {
    failed: 0,
    cutOff: 0,
    lastMs: null,
  };
  return {
    lowBattery,
    inVain,
    add({ outcome, endMs }, withAlert) {
      if (outcome === 'delivered') {
        lowBattery.push({ deliveredMs: endMs, withAlert });
      } else {
        inVain[outcome] += 1;
        inVain.lastMs = endMs;
      }
    },
  };
}

/** What keeps the wakes that are wanted of those offered, in order. */
function keeperOf(record: Parameters<typeof openJournal>[1], wakes: WakeRecord[]): Keeper {
  const close = (): void => undefined;
  if (record === 'none') return { offer: () => undefined, close };
  if (record === 'all') return { offer: (wake) => wakes.push(wake.record()), close };
  if ('around' in record) return keeperAround(record, wakes);
  const wants = wantedSpans(record);
  return {
    offer(wake) {
      const lastMs = wake.lastCheckMs === null ? wake.wakeMs : wake.lastMs;
      if (wants(wake.wakeMs, lastMs)) wakes.push(wake.record());
    },
    close,
  };
}

/** Whether wakes, asked for in the order of their time, reach into any of the spans. */
function wantedSpans(
  record: readonly (readonly [fromMs: number, toMs: number])[],
): (fromMs: number, toMs: number) => boolean {
  const spans = spansOf(record.filter(([from, to]) => from < to));
  let next = 0;
  return (fromMs, toMs) => {
    while ((spans.toMs[next] ?? Number.POSITIVE_INFINITY) <= fromMs) next += 1;
    return toMs >= (spans.fromMs[next] ?? Number.POSITIVE_INFINITY);
  };
}

function closeTrace(
  run: Run,
  written: {
    readonly alerts: readonly AlertRecord[];
    readonly lowBattery: readonly LowBatteryRecord[];
    readonly inVain: Omit<LowBatteryDue, 'firstMs'>;
    readonly wakes: readonly WakeRecord[];
  },
): Trace {
  const { tally } = run;
  const { alert, heartbeat, lowBattery, failed } = tally.sends;
  const [powerOn, reset, timer, contact] = tally.wakes;
  return {
    lengthMs: run.lengthMs,
    alerts: written.alerts,
    lowBattery: written.lowBattery,
    lowBatteryDue: Number.isFinite(run.lowBatteryDueMs)
      ? { firstMs: run.lowBatteryDueMs, ...written.inVain }
      : null,
    wakes: written.wakes,
    flat: run.charge?.flat ?? [],
    charges: run.charge?.charges ?? [],
    answers: run.person?.came ?? [],
    tally: {
      checks: tally.checks,
      openChecks: tally.openChecks,
      wakes: { 'power-on': powerOn, reset, timer, contact },
      alertSends: { delivered: alert.delivered, failed: alert.failed, cutOff: alert.cutOff },
      heartbeatSends: {
        delivered: heartbeat.delivered,
        failed: heartbeat.failed,
        cutOff: heartbeat.cutOff,
      },
      lowBatterySends: {
        delivered: lowBattery.delivered,
        failed: lowBattery.failed,
        cutOff: lowBattery.cutOff,
      },
      bootMs: tally.bootMs,
      alertSendMs: alert.ms,
      heartbeatSendMs: heartbeat.ms,
      lowBatterySendMs: lowBattery.ms,
      joinWaitMs: tally.waitMs,
      heldMs: tally.heldMs,
      offMs: tally.offMs,
      flatMs: tally.flatMs,
      shutBootMs: tally.shutBootMs,
      failedSends: { ...failed },
      clockErrorPpm: run.clock.ppm,
    },
  };
}

function memoryOf(run: Run, state: number): WakeRecord['memoryBefore'] {
  return itemAt(run.table.memories, state);
}

function wakeRecord(run: Run, draft: WakeDraft, end: WakeEnd, after: number): WakeRecord {
  const { sent } = end;
  const opening = spanAt(run.openings, draft.checkMs);
  const escalated = isEscalated(run, draft);
  return {
    cause: itemAt(causes, draft.cause),
    wakeMs: draft.wakeMs,
    check: {
      atMs: draft.checkMs,
      contact: (draft.code & inputCode.checkReadsOpen) !== 0 ? 'open' : 'shut',
      opening: opening < 0 ? null : opening,
      cooldownOver: factOf(draft, inputCode.checkCooldownOver),
      heartbeatDue: factOf(draft, inputCode.checkHeartbeatDue),
      lowBatteryDue: factOf(draft, inputCode.checkLowBatteryDue),
      escalated,
      decision: decisionOf(draft, escalated),
    },
    ...clearedIn(run, draft),
    memoryBefore: memoryOf(run, draft.before),
    memoryAfter: memoryOf(run, after),
    alertSend: sent?.kind === 'alert' ? sent.record : null,
    heartbeatSend: sent?.kind === 'heartbeat' ? sent.record : null,
    lowBatterySend: sent?.kind === 'lowBattery' ? sent.record : null,
    ...(sent?.kind === 'alert' && sent.withLowBattery ? { lowBatteryWithAlert: true } : {}),
    sleep: end.sleep,
    holds: sent !== null && (sent.effects & effectBit.hold) !== 0,
    repeats: end.repeats,
    periodMs: end.periodMs,
  };
}

function factOf(draft: WakeDraft, bit: number): boolean {
  return ((draft.code - inputCode.check) & bit) !== 0;
}

/** Open, with at least the threshold's number of open checks in memory. */
function isEscalated(run: Run, { before, cause, code }: WakeDraft): boolean {
  if ((code & inputCode.checkReadsOpen) === 0) return false;
  const checked = nextState(run.table, wokenState(run.table, before, cause), code);
  return openChecks(memoryOf(run, checked)) >= run.thresholdOpen;
}

function decisionOf({ effects }: WakeDraft, escalated: boolean): Decision {
  if ((effects & effectBit.decideAlert) !== 0) return 'alert';
  if ((effects & effectBit.attemptAlert) !== 0) return 'attempt';
  if ((effects & effectBit.dropAlert) !== 0) return 'drop';
  return escalated ? 'quiet' : 'none';
}

/** Whether a reset cleared memory before this wake: it found the logic as without power. */
function clearedIn(
  { table }: Run,
  { before, cause }: Pick<WakeDraft, 'before' | 'cause'>,
): Pick<WakeRecord, 'cleared'> {
  return cause === inputCode.wake.reset && table.phases[before] === 'off' ? { cleared: true } : {};
}

function interruptedRecord(
  run: Run,
  { before, cause, wakeMs, wouldReadShut }: InterruptedDraft,
): WakeRecord {
  return {
    cause: itemAt(causes, cause),
    wakeMs,
    check: null,
    ...(wouldReadShut ? { wouldReadShut } : {}),
    ...clearedIn(run, { before, cause }),
    memoryBefore: memoryOf(run, before),
    memoryAfter: memoryOf(run, before),
    alertSend: null,
    heartbeatSend: null,
    lowBatterySend: null,
    sleep: null,
    holds: false,
    repeats: 0,
    periodMs: 0,
  };
}
