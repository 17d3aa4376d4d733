// What every phase of the checks does, in words.
import {
  counted,
  figure,
  numberText,
  percentText,
  type Rounded,
  roundedDurationText,
} from '../base/index.js';
import type { EveryPhase, OpeningAtEveryPhase } from '../phase/index.js';
import type { OpeningOutcome, Verdict } from '../verdict/index.js';
import { dayAndTime } from './moments.js';
import type { Paint } from './paint.js';
import type { ReplayView } from './replay-view.js';
import { type Judged, noLeaveOpenWords, timelineClauses } from './verdict-words.js';

/** Whether no phase misses, is late or raises a false alarm. */
export function heldAtEveryPhase({ summary }: EveryPhase): boolean {
  const { expectedMissed, expectedLate, expectedFalseAlarms } = summary;
  return expectedMissed === 0 && expectedLate === 0 && expectedFalseAlarms === 0;
}

/** `49.5 %`; `all` and `none` only if that is exact. */
export function shareText(share: number, rounded: Rounded): string {
  if (share === 1) return 'all';
  return share === 0 ? 'none' : percentText(share, rounded);
}

/** A leave-open, and what the phases do about it. */
interface AtPhases extends OpeningAtEveryPhase {
  readonly index: number;
  readonly missed: number;
  readonly late: number;
}

/** Leave-opens at some phase at least: one that a span without a state touches may be unknown at the others. */
export function leaveOpensAtPhases(every: EveryPhase, { openings }: Verdict): readonly number[] {
  const { leaveOpens, unknown } = openings;
  const more = unknown.filter((index) => every.openingAt(index).unknownShare < 1);
  return more.length === 0 ? leaveOpens : [...leaveOpens, ...more].sort((a, b) => a - b);
}

/** The leave-opens of which there is something to say; a long log has many others. */
interface Remarkable {
  readonly count: number;
  readonly missed: readonly AtPhases[];
  readonly late: readonly AtPhases[];
  /** Not known at some phase at least. */
  readonly unknown: readonly AtPhases[];
  readonly areAllInTime: boolean;
}

function remarkableIn(every: EveryPhase, verdict: Verdict): Remarkable {
  const [missed, late, unknown]: [AtPhases[], AtPhases[], AtPhases[]] = [[], [], []];
  let areAllInTime = true;
  const leaveOpens = leaveOpensAtPhases(every, verdict);
  for (const index of leaveOpens) {
    const at = every.openingAt(index);
    areAllInTime &&= at.inTimeShare === 1;
    const lateShare = (at.reportedShare ?? 0) - (at.inTimeShare ?? 0);
    if (at.missedShare === 0 && lateShare === 0 && at.unknownShare === 0) continue;
    const one = { ...at, index, missed: at.missedShare ?? 0, late: lateShare };
    if (one.missed > 0) missed.push(one);
    if (one.late > 0) late.push(one);
    if (one.unknownShare > 0) unknown.push(one);
  }
  return { count: leaveOpens.length, missed, late, unknown, areAllInTime };
}

/** The verdict over all phases in one sentence, without a name in front and without a full stop. */
export function phasesWords(every: EveryPhase, judged: Judged, paint: Paint): string {
  const remarkable = remarkableIn(every, judged.verdict);
  const { count, missed, late } = remarkable;
  const unknown = judged.verdict.openings.unknown.filter(
    (index) => every.openingAt(index).unknownShare === 1,
  );
  const { first, last } = timelineClauses(judged, unknown.length, paint);
  const { expectedMissed, expectedLate } = every.summary;
  const clauses = [
    ...first,
    ...(count === 0
      ? [noLeaveOpenWords(judged)]
      : missed.length + late.length === 0
        ? [nothingMissed(remarkable, paint)]
        : []),
    ...atPhases(missed, 'MISSED', {
      of: count,
      share: (one) => one.missed,
      expected: expectedMissed,
    }).map(paint.bad),
    ...atPhases(late, 'reported late', {
      of: count,
      share: (one) => one.late,
      expected: expectedLate,
    }).map(paint.bad),
    ...unknownAtSome(remarkable).map(paint.doubtful),
    ...last,
    falseAlarmWords(every, paint),
  ];
  return clauses.join('; ');
}

function nothingMissed({ count, unknown, areAllInTime }: Remarkable, paint: Paint): string {
  if (unknown.length > 0) return 'no phase is known to miss a leave-open';
  if (!areAllInTime) return 'no phase misses a leave-open that was decided by the end';
  const which = counted(count, 'leave-open');
  return paint.good(
    `every phase reports ${count === 1 ? 'the one leave-open' : count === 2 ? 'both leave-opens' : `all ${which}`}`,
  );
}

/** How many leave-opens share a fate at some phases; nothing if none does. */
function atPhases(
  some: readonly AtPhases[],
  fate: string,
  by: {
    readonly of: number;
    readonly share: (one: AtPhases) => number;
    readonly expected: number;
  },
): string[] {
  const [first] = some;
  if (first === undefined) return [];
  if (some.length === 1) {
    return [`no. ${numberText(first.index + 1)} is ${fate} at ${shareOfPhases(by.share(first))}`];
  }
  const count = `${numberText(some.length)} of ${numberText(by.of)} leave-opens are ${fate}`;
  if (some.every((one) => by.share(one) === 1)) return [`${count} at all phases`];
  return [`${count} at some phases (on average ${figure(by.expected, 'up')} in a run)`];
}

function shareOfPhases(share: number): string {
  return `${shareText(share, 'up')}${share === 1 ? '' : ' of the'} phases`;
}

function unknownAtSome({ unknown: some }: Remarkable): string[] {
  const [first] = some;
  if (first === undefined) return [];
  return some.length === 1
    ? [`no. ${numberText(first.index + 1)} is unknown at ${shareOfPhases(first.unknownShare)}`]
    : [`${numberText(some.length)} leave-opens are unknown at some phases`];
}

function falseAlarmWords({ summary }: EveryPhase, paint: Paint): string {
  const { expectedFalseAlarms, falseAlarmShare } = summary;
  if (expectedFalseAlarms === 0) return 'no false alarm at any phase';
  return paint.bad(
    `FALSE ALARMS at ${shareOfPhases(falseAlarmShare)} (on average ${figure(expectedFalseAlarms, 'up')} in a run)`,
  );
}

/** The instants at which the device powers on over all phases: `2 min from Fri 2026-05-08 06:00:00 on`. */
export function phasesSpan(every: EveryPhase, { moments }: Pick<ReplayView, 'moments'>): string {
  const { phaseLengthMs } = every.summary;
  const about = every.isAbout ? 'about' : 'the';
  const from = dayAndTime(moments(every.firstPowerOnMs));
  return `A phase is an instant at which the device powers on: any millisecond of ${about} ${lengthText(phaseLengthMs)} from ${from} on, all equally likely`;
}

function lengthText(ms: number): string {
  return ms < 600_000 && ms % 60_000 !== 0 ? `${figure(ms / 1_000)} s` : roundedDurationText(ms);
}

/** Which phase a replay of a log is, if nothing gives it, and what others would do; null: it is given. */
export function phaseSentence(view: ReplayView): string | null {
  const { timeline, verdict, moments, phases, watchFile } = view;
  if (timeline.logged?.powerOnIsAssumed !== true || phases === null || phases.areJudged)
    return null;
  const { powerOnAtMs } = timeline.world;
  const at = dayAndTime(moments(powerOnAtMs));
  const halfMs = Math.floor(watchFile.watch.checkIntervalMs / 2);
  const place =
    powerOnAtMs < halfMs
      ? 'just before the end of the log, which is shorter than half a check interval'
      : 'half a check interval after the first row';
  const which = `the device powers on at ${at}, ${place}, because the log does not show when it did`;
  return `${which}; ${otherPhases(phases.every, verdict)}`;
}

const judgesAll = '--every-phase judges them all';

function otherPhases(every: EveryPhase | null, verdict: Verdict): string {
  if (every === null) return `other phases may differ (${judgesAll})`;
  const { falseAlarmShare } = every.summary;
  const remarkable = remarkableIn(every, verdict);
  const differing = (
    some: readonly AtPhases[],
    shareOf: (one: AtPhases) => number,
  ): AtPhases | undefined =>
    some.filter((one) => shareOf(one) < 1).toSorted((a, b) => shareOf(b) - shareOf(a))[0];
  const missed = differing(remarkable.missed, (one) => one.missed);
  const late = differing(remarkable.late, (one) => one.late);
  const clauses = [
    ...(missed === undefined
      ? []
      : [`at ${shareOfPhases(missed.missed)} it would miss no. ${numberText(missed.index + 1)}`]),
    ...(late === undefined
      ? []
      : [`at ${shareOfPhases(late.late)} it would report no. ${numberText(late.index + 1)} late`]),
    ...(falseAlarmShare > 0 && falseAlarmShare < 1
      ? [`at ${shareOfPhases(falseAlarmShare)} it would raise a false alarm`]
      : []),
  ];
  if (clauses.length > 0) return `${clauses.join(', and ')} (${judgesAll})`;
  const { summary, openings } = verdict;
  const areAll = (some: readonly AtPhases[], outcome: OpeningOutcome, count: number): boolean =>
    some.length === count && some.every(({ index }) => openings.at(index).outcome === outcome);
  const isSame =
    remarkable.unknown.length === 0 &&
    areAll(remarkable.missed, 'missed', summary.missed - summary.unpowered) &&
    areAll(remarkable.late, 'late', summary.late) &&
    falseAlarmShare === (summary.falseAlarms > 0 ? 1 : 0);
  return isSame
    ? 'at every other phase the outcomes are the same'
    : `a device that was running before may do otherwise (${judgesAll})`;
}
