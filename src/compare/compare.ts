// The device's own checks fed to the machine, one by one: whatever it read and whenever it woke, this is what it should
// have done about it. Gaps between checks, compared with the sleeps that the machine ordered, give clock and misses.
import type { Requirements } from '../model/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Program } from '../sim/index.js';
import {
  type DeviceTiming,
  firstAfter,
  noSpans,
  rangeMsOf,
  readsOpenAt,
  type Spans,
  spanAt,
  type World,
} from '../world/index.js';
import { type ClockEstimate, clockOf, type TimedSleep } from './clock.js';
import { type ExpectedAlerts, expectedAlerts } from './expected.js';
import {
  type AlertDifference,
  type CheckAfterHold,
  type OrderedSleep,
  openFollower,
} from './follow.js';
import { type LateHeartbeats, missingHeartbeats } from './heartbeats.js';
import { holdsOnlyMessages, type LateAlert, missingAlerts } from './messages.js';
import type { MissingChecks } from './missing-checks.js';
import { type MessagesNotInFile, messagesNotInFile } from './not-in-file.js';
import { isNear, type OtherInterval, otherIntervalOf } from './other-interval.js';

export interface DeviceQuestion {
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly world: World;
  /** Their instants count from the start of the timeline. */
  readonly rows: readonly DeviceLogRow[];
  /** Whether a reset in the log clears retained memory; default: it keeps it. */
  readonly resetsClear?: boolean;
  /** What counts as left open, for a log without checks. */
  readonly judge?: Requirements;
  /** Spans in which nothing is known of the door: what the device did there is compared with nothing. */
  readonly unseen?: Spans | undefined;
  /** Of `expectedOf`, for a log without checks: what it has judged is not judged again. */
  readonly expected?: ExpectedAlerts | undefined;
}

/** A check that read other than the contact did by the door log. */
export interface Misreading {
  readonly atMs: number;
  readonly read: 'open' | 'shut';
}

export interface Comparison {
  readonly checks: number;
  readonly alertsDelivered: number;
  /** Null: too few sleeps show it, or the device checks at another interval. */
  readonly clock: ClockEstimate | null;
  readonly missingChecks: readonly MissingChecks[];
  /** The device checks at another interval than the watch file has; null: not so. */
  readonly otherInterval: OtherInterval | null;
  /** In a watch that holds after an alert: where checks went on without a reset. */
  readonly checksAfterHold: readonly CheckAfterHold[];
  readonly misreadings: readonly Misreading[];
  readonly alerts: readonly AlertDifference[];
  /** In a log of messages: those that came long after the door was shut. */
  readonly lateAlerts: readonly LateAlert[];
  /** In a log of messages: when each opening began of which the door log does not know enough to expect an alert or none. */
  readonly unknownOpenings: readonly number[];
  /** In a log of messages: when each opening began of which it was not judged whether its alert is missing, since that takes too long. */
  readonly notJudgedOpenings: readonly number[];
  /** In a log of messages: when each leave-open began before which the device may have held after an alert. */
  readonly heldOpenings: readonly number[];
  readonly heartbeats: number;
  /** About how many heartbeats are missing between two, or after the last. */
  readonly missingHeartbeats: readonly MissingChecks[];
  /** About how many did not come and were due when the timeline has no network. */
  readonly heartbeatsWhileDown: number;
  /** Those that came later than the watch file allows; null: none did. */
  readonly lateHeartbeats: LateHeartbeats | null;
  /** Messages that the watch file does not send, by kind. */
  readonly notInFile: readonly MessagesNotInFile[];
  /** The log has no checks: nothing is known of them, of the clock, and of what the contact read. */
  readonly onlyMessages: boolean;
  /** Something is missing and nothing came after it: since the last row, or the start of the timeline. Null: not so. */
  readonly silentSinceMs: number | null;
}

/** Stamps of the device log and of the door log are taken to agree so far. */
const stampsAgreeMs = 2_000;

/** @throws InvariantError on a fault of dozewatch itself. */
export function compareDevice(question: DeviceQuestion): Comparison {
  const { program, timing, world, judge, unseen } = question;
  const rows = question.rows.filter(({ atMs }) => atMs >= 0 && atMs < world.lengthMs);
  if (judge === undefined || !holdsOnlyMessages(rows)) return byChecks(question, rows);
  const beats = missingHeartbeats(rows, { watch: program.watch, timing, world });
  const expected =
    question.expected ?? expectedAlerts({ program, timing, world, seed: '1' }, judge, unseen);
  const seen = { rows, expected, unseen };
  const found = missingAlerts({ program, timing, world }, judge, seen);
  const { alerts, late, unknown } = found;
  return {
    checks: 0,
    alertsDelivered: deliveredOf(rows, 'alert'),
    clock: null,
    missingChecks: [],
    otherInterval: null,
    checksAfterHold: [],
    misreadings: [],
    alerts,
    lateAlerts: late,
    unknownOpenings: unknown,
    notJudgedOpenings: found.notJudged,
    heldOpenings: found.mayHold,
    heartbeats: deliveredOf(rows, 'heartbeat'),
    missingHeartbeats: beats.missing,
    heartbeatsWhileDown: beats.whileDown,
    lateHeartbeats: beats.late,
    notInFile: messagesNotInFile(rows, program.watch),
    onlyMessages: true,
    silentSinceMs: silentSince(rows, { beats: beats.missing, alerts }),
  };
}

/** What an opening must lead to, for a log without checks: judged as each is looked up. Null: the log has checks. */
export function expectedOf(question: DeviceQuestion): ExpectedAlerts | null {
  const { program, timing, world, judge, unseen } = question;
  const rows = question.rows.filter(({ atMs }) => atMs >= 0 && atMs < world.lengthMs);
  if (judge === undefined || !holdsOnlyMessages(rows)) return null;
  return expectedAlerts({ program, timing, world, seed: '1' }, judge, unseen);
}

function deliveredOf(rows: readonly DeviceLogRow[], event: 'alert' | 'heartbeat'): number {
  return rows.filter((row) => row.event === event && row.delivered).length;
}

function silentSince(
  rows: readonly DeviceLogRow[],
  missing: {
    readonly beats: readonly MissingChecks[];
    readonly alerts: readonly AlertDifference[];
  },
): number | null {
  const lastMs = rows.at(-1)?.atMs ?? 0;
  const isMissing =
    missing.beats.at(-1)?.beforeMs === null ||
    missing.alerts.some(({ kind, atMs }) => kind === 'not-sent' && atMs > lastMs);
  return isMissing ? lastMs : null;
}

/** The machine led through the log: what it ordered between the checks, and how long that took. */
function ordersIn(
  { program, timing, world, resetsClear = false }: DeviceQuestion,
  rows: readonly DeviceLogRow[],
) {
  const boot = rangeMsOf(timing.bootTime);
  const bootMs = (boot.least + boot.most) / 2;
  const follower = openFollower(program, resetsClear);
  const sleeps: TimedSleep[] = [];
  const gaps: Gap[] = [];
  const { checkIntervalMs } = program.watch;
  const betweenMs: number[] = [];
  // The check that the last timed sleep ended with; null: none.
  let timedTo: number | null = null;
  const gap = (sleep: OrderedSleep | null, atMs: number | null): void => {
    const continues = timedTo !== null && sleep?.fromMs === timedTo;
    timedTo = null;
    if (sleep === null) return;
    if (atMs !== null && sleep.nominalMs === checkIntervalMs) betweenMs.push(atMs - sleep.fromMs);
    const periodMs = sleep.nominalMs + bootMs;
    const periods = ((atMs ?? world.lengthMs) - sleep.fromMs) / periodMs;
    if (periods > 1.5) gaps.push({ sleep, beforeMs: atMs });
    else if (atMs !== null && periods > 0.8) {
      const lengthMs = atMs - sleep.fromMs - bootMs;
      sleeps.push({ nominalMs: sleep.nominalMs, lengthMs, continues });
      timedTo = atMs;
    }
  };
  for (const [index, row] of rows.entries()) {
    if (row.event === 'check') gap(follower.asleep(), row.atMs);
    follower.take(row, rows[index + 1]);
  }
  follower.end();
  gap(follower.asleep(), null);
  const { differences, afterHolds } = follower;
  return { sleeps, gaps, betweenMs, differences, afterHolds };
}

function byChecks(question: DeviceQuestion, rows: readonly DeviceLogRow[]): Comparison {
  const { program, timing, world } = question;
  const boot = rangeMsOf(timing.bootTime);
  const bootMs = (boot.least + boot.most) / 2;
  const { checkIntervalMs } = program.watch;
  const { sleeps, gaps, betweenMs, differences, afterHolds } = ordersIn(question, rows);
  const measured = clockOf(sleeps, (boot.most - boot.least) / 2);
  const per = { bootMs, errorPpm: measured?.ppm ?? 0, lengthMs: world.lengthMs, checkIntervalMs };
  const otherInterval = otherIntervalOf(betweenMs, checkIntervalMs + bootMs, timing.clockError);
  // Sleeps of another interval show no clock.
  const clock = otherInterval === null ? measured : null;
  const beats = missingHeartbeats(rows, {
    watch: program.watch,
    timing,
    world,
    clock,
    checksEveryMs: otherInterval?.everyMs,
  });
  const missing = gaps.filter(({ sleep, beforeMs }) => {
    if (otherInterval === null || sleep.nominalMs !== checkIntervalMs) return true;
    const lengthMs = (beforeMs ?? world.lengthMs) - sleep.fromMs;
    const { everyMs } = otherInterval;
    return beforeMs === null ? lengthMs > 1.5 * everyMs : !isNear(lengthMs, everyMs);
  });
  return {
    checks: rows.filter(({ event }) => event === 'check').length,
    alertsDelivered: deliveredOf(rows, 'alert'),
    clock,
    missingChecks: missing.map((one) => missingIn(one, per)),
    otherInterval,
    checksAfterHold: afterHolds,
    misreadings: misreadingsOf(rows, world, question.unseen),
    alerts: differences,
    lateAlerts: [],
    unknownOpenings: [],
    notJudgedOpenings: [],
    heldOpenings: [],
    heartbeats: deliveredOf(rows, 'heartbeat'),
    missingHeartbeats: beats.missing,
    heartbeatsWhileDown: beats.whileDown,
    lateHeartbeats: beats.late,
    notInFile: messagesNotInFile(rows, program.watch),
    onlyMessages: false,
    // Checks that go on to the end are not silence.
    silentSinceMs:
      missing.at(-1)?.beforeMs === null
        ? silentSince(rows, { beats: beats.missing, alerts: [] })
        : null,
  };
}

/** Where a check should have been: after a sleep that the machine ordered. */
interface Gap {
  readonly sleep: OrderedSleep;
  /** The check that ends it; null: none did. */
  readonly beforeMs: number | null;
}

/** As many as the device would have made by its own clock. */
function missingIn(
  { sleep, beforeMs }: Gap,
  {
    bootMs,
    errorPpm,
    lengthMs,
    checkIntervalMs,
  }: {
    readonly bootMs: number;
    readonly errorPpm: number;
    readonly lengthMs: number;
    readonly checkIntervalMs: number;
  },
): MissingChecks {
  const { fromMs, nominalMs, setting } = sleep;
  const periodMs = nominalMs * (1 + errorPpm / 1_000_000) + bootMs;
  const periods = ((beforeMs ?? lengthMs) - fromMs) / periodMs;
  const count = beforeMs === null ? Math.floor(periods) : Math.round(periods) - 1;
  const every = nominalMs === checkIntervalMs ? {} : { everyMs: nominalMs };
  const retry =
    'everyMs' in every && setting === 'retry.interval' ? ({ isRetry: true } as const) : {};
  return { afterMs: fromMs, beforeMs, count: Math.max(1, count), ...every, ...retry };
}

function misreadingsOf(
  rows: readonly DeviceLogRow[],
  { contact }: World,
  unseen: Spans = noSpans,
): readonly Misreading[] {
  return rows.flatMap((row): Misreading[] => {
    if (row.event !== 'check' || spanAt(unseen, row.atMs) >= 0) return [];
    const { atMs, contact: read } = row;
    if (readsOpenAt(contact, atMs) === (read === 'open')) return [];
    // An edge so near may have come on either side of the check.
    const next = contact[firstAfter(contact, atMs - stampsAgreeMs)] ?? Number.POSITIVE_INFINITY;
    return next <= atMs + stampsAgreeMs ? [] : [{ atMs, read }];
  });
}
