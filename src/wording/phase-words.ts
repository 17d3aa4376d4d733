// What every phase of the checks does, in words.
import {
  counted,
  figure,
  numberText,
  ppmText,
  type Rounded,
  roundedDurationText,
  sideText,
} from '../base/index.js';
import type { EveryPhase, OpeningAtEveryPhase } from '../phase/index.js';
import type { OpeningOutcome, Verdict } from '../verdict/index.js';
import type { DeviceTiming } from '../world/index.js';
import { laterEndMs, laterEndWords } from './later-end.js';
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
  return share === 0 ? 'none' : sideText(share, rounded);
}

/** What is late was reported, and more of it than that must not be read beside the share that was reported, or with the missed. */
const partOfReported: Rounded = 'down';

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

/** What the phases are the mean over, where the watch file has ranges; null: it has none. */
export function overRangesWords(
  { runs }: Pick<EveryPhase, 'runs'>,
  { clockError, bootTime, connectTime }: DeviceTiming,
): string | null {
  if (runs === undefined) return null;
  const clock =
    clockError.kind === 'drawn' && clockError.leastPpm !== clockError.greatestPpm
      ? [
          `${numberText(runs)} clock errors from ${ppmText(clockError.leastPpm)} to ${ppmText(clockError.greatestPpm)}`,
        ]
      : [];
  const times = [
    ...(bootTime.kind === 'range' ? ['boot'] : []),
    ...(connectTime.kind === 'range' ? ['connect'] : []),
  ].join(' and ');
  const many = clock.length === 0 ? numberText(runs) : 'as many';
  const series = times === '' ? [] : [`${many} series of ${times} times`];
  return [...clock, ...series].join(' and ');
}

/** The verdict over all phases in one sentence, without a name in front and without a full stop. */
export function phasesWords(every: EveryPhase, judged: Judged, paint: Paint): string {
  const remarkable = remarkableIn(every, judged.verdict);
  const { count, missed, late } = remarkable;
  const unknown = judged.verdict.openings.unknown.filter(
    (index) => every.openingAt(index).unknownShare === 1,
  );
  // Whether its alert is being sent at the end is another matter at each phase.
  const { summary, alerts, openings } = judged.verdict;
  const ofAll = { ...judged, verdict: { summary, alerts, openings } };
  const { first, last } = timelineClauses(ofAll, unknown.length, paint);
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
      rounded: 'up',
    }).map((text) => `${paint.bad(text)}${cutOffWords(missed, judged, paint)}`),
    ...atPhases(late, 'reported late', {
      of: count,
      share: (one) => one.late,
      expected: expectedLate,
      rounded: partOfReported,
    }).map(paint.bad),
    ...unknownAtSome(remarkable).map(paint.doubtful),
    ...last,
    falseAlarmWords(every, paint),
    ...otherTimes(every, judged).map(paint.doubtful),
  ];
  const ranges = overRangesWords(every, judged.timeline.timing);
  const part =
    every.judged === undefined
      ? ''
      : `of ${counted(every.judged, 'phase')} that ${every.judged === 1 ? 'was' : 'were'} judged, evenly spread over all: `;
  return `${part}${ranges === null ? '' : `on average over ${ranges}, `}${clauses.join('; ')}`;
}

/** The messages of a watch that do not repeat with its checks; null: it has none. */
function messagesOfOwnPhase({ watchFile: { watch } }: Pick<Judged, 'watchFile'>): string | null {
  const both = [
    ...(watch.heartbeatIntervalMs === null ? [] : ['heartbeats']),
    ...(watch.lowBattery === undefined ? [] : ['low-battery messages']),
  ];
  return both.length === 0 ? null : both.join(' and ');
}

/** What good news on every phase leaves out. */
function otherTimes(every: EveryPhase, judged: Judged): string[] {
  const messages = messagesOfOwnPhase(judged);
  if (messages === null || !heldAtEveryPhase(every)) return [];
  return [`with ${messages} at other times the result may differ`];
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
    readonly rounded: Rounded;
  },
): string[] {
  const [first] = some;
  if (first === undefined) return [];
  const isEmpty = some.every((one) => one.missed > 0 && one.unpoweredShare === one.missedShare);
  const why = isEmpty && fate === 'MISSED' ? ', because the charge was used up' : '';
  if (some.length === 1) {
    const share = shareOfPhases(by.share(first), by.rounded);
    return [`no. ${numberText(first.index + 1)} is ${fate} at ${share}${why}`];
  }
  const count = `${numberText(some.length)} of ${numberText(by.of)} leave-opens are ${fate}`;
  if (some.every((one) => by.share(one) === 1)) return [`${count} at all phases${why}`];
  return [`${count} at some phases (${figure(by.expected, by.rounded)} on average)${why}`];
}

/** Where some phases miss a leave-open only because the timeline ends too early. */
function cutOffWords(missed: readonly AtPhases[], { timeline }: Judged, paint: Paint): string {
  const cut = missed.filter(({ cutOffShare }) => (cutOffShare ?? 0) > 0);
  const [first] = cut;
  const laterMs = first === undefined ? null : laterEndMs(timeline);
  if (first === undefined || laterMs === null) return '';
  const share = cut.reduce((sum, { cutOffShare }) => sum + (cutOffShare ?? 0), 0);
  const isAll = missed.every(({ missedShare, cutOffShare }) => missedShare === cutOffShare);
  const which = missed.length === 1 ? 'its alert' : cutOffName(cut, first);
  const at = isAll
    ? 'only because the end of the timeline cuts'
    : `at ${shareOfPhases(share)} only because the end of the timeline cuts`;
  const hint = laterEndWords(timeline, laterMs);
  return `, ${paint.doubtful(`${at} ${which} off while it is being sent (${hint})`)}`;
}

function cutOffName(cut: readonly AtPhases[], first: AtPhases): string {
  return cut.length === 1
    ? `the alert for no. ${numberText(first.index + 1)}`
    : `the alerts for ${numberText(cut.length)} of them`;
}

/** Whether each miss at some phase is of an alert that the end of the timeline cuts off, and would be delivered with a later end. */
export function missesOnlyAtEnd(every: EveryPhase, judged: Judged): boolean {
  const { missed, late } = remarkableIn(every, judged.verdict);
  const isAtEnd = missed.every(({ missedShare, cutOffShare }) => missedShare === cutOffShare);
  return missed.length > 0 && late.length === 0 && isAtEnd && laterEndMs(judged.timeline) !== null;
}

function shareOfPhases(share: number, rounded: Rounded = 'up'): string {
  return `${shareText(share, rounded)}${share === 1 ? '' : ' of the'} phases`;
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
    `FALSE ALARMS at ${shareOfPhases(falseAlarmShare)} (${figure(expectedFalseAlarms, 'up')} on average)`,
  );
}

/** The instants at which the device powers on over all phases: `2 min from Fri 2026-05-08 06:00:00 on`. */
export function phasesSpan(
  every: EveryPhase,
  view: Pick<ReplayView, 'moments' | 'watchFile' | 'trace'>,
): string {
  const { phaseLengthMs } = every.summary;
  const about = every.isAbout ? 'about' : 'the';
  const from = dayAndTime(view.moments(every.firstPowerOnMs));
  const rest = otherPowerOns(every, view);
  const part =
    every.judged === undefined
      ? ''
      : `. As the charge ends within this timeline, each phase takes a run of its own, so ${numberText(every.judged)} runs were made, with the instants evenly spread`;
  return `The phase is when the checks fall. It follows from the instant at which the device powers on: any millisecond of ${about} ${lengthText(phaseLengthMs)} from ${from} on, all equally likely${rest === null ? '' : `; ${rest}`}${part}`;
}

/** The openings that raise the false alarms, and the one that does so most often; null: no opening does. */
export function falselyAlarming(
  every: EveryPhase,
  { verdict, moments }: Pick<ReplayView, 'verdict' | 'moments'>,
): string | null {
  if (every.summary.expectedFalseAlarms === 0) return null;
  const { openings } = verdict;
  let [count, most, mostShare] = [0, -1, 0];
  for (let index = 0; index < openings.count; index += 1) {
    const { falseAlarmShare } = every.openingAt(index);
    if (falseAlarmShare === 0) continue;
    count += 1;
    if (falseAlarmShare > mostShare) [most, mostShare] = [index, falseAlarmShare];
  }
  if (count === 0) return null;
  const { fromMs, durationMs } = openings.at(most);
  const what = `no. ${numberText(most + 1)} (${dayAndTime(moments(fromMs))}, open for ${roundedDurationText(durationMs)}), at ${shareOfPhases(mostShare)}`;
  return count === 1
    ? `the false alarm is for ${what}`
    : `false alarms are for ${count === openings.count ? 'each' : numberText(count)} of the ${counted(openings.count, 'opening')}, most often for ${what}`;
}

/** What a device does that powered on at none of these instants; null: nothing is known of it. */
function otherPowerOns(
  every: EveryPhase,
  view: Pick<ReplayView, 'watchFile' | 'trace'>,
): string | null {
  const messages = messagesOfOwnPhase(view);
  if (messages !== null) {
    return `${messages} have a phase of their own, which is not varied: a device that powered on at another time sends them at other times, and may do otherwise`;
  }
  if (view.trace.flat.length > 0) {
    return 'the charge of a device that powered on at another time ends at another time';
  }
  return every.isAbout ? null : 'any other repeats one of these';
}

function lengthText(ms: number): string {
  return ms < 600_000 && ms % 60_000 !== 0
    ? `${String(Number((ms / 1_000).toFixed(1)))} s`
    : roundedDurationText(ms);
}

/** Which phase a replay of a log is, if nothing gives it, and what others would do; null: it is given. */
export function phaseSentence(view: ReplayView): string | null {
  const { timeline, moments, phases, watchFile } = view;
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
  return `${which}; ${otherPhases(phases.every, view)}`;
}

const judgesAll = '--every-phase judges them all';

function otherPhases(every: EveryPhase | null, judged: Judged): string {
  if (every === null) return `other phases may differ (${judgesAll})`;
  const { verdict } = judged;
  const { summary, openings } = verdict;
  const { falseAlarmShare } = every.summary;
  const remarkable = remarkableIn(every, verdict);
  const differing = (
    some: readonly AtPhases[],
    shareOf: (one: AtPhases) => number,
  ): AtPhases | undefined =>
    some.filter((one) => shareOf(one) < 1).toSorted((a, b) => shareOf(b) - shareOf(a))[0];
  const missed = differing(remarkable.missed, (one) => one.missed);
  const late = differing(remarkable.late, (one) => one.late);
  const isCut = missed !== undefined && missed.missedShare === missed.cutOffShare;
  const endMs = isCut ? laterEndMs(judged.timeline) : null;
  const atEnd =
    endMs === null ? '' : ', only because the end of the timeline would cut its alert off';
  const next =
    endMs === null ? judgesAll : `${laterEndWords(judged.timeline, endMs)}; ${judgesAll}`;
  const clauses = [
    ...(missed === undefined
      ? []
      : [
          `at ${shareOfPhases(missed.missed)} it would miss no. ${numberText(missed.index + 1)}${atEnd}`,
        ]),
    ...(late === undefined
      ? []
      : [
          `at ${shareOfPhases(late.late, partOfReported)} it would report no. ${numberText(late.index + 1)} late`,
        ]),
    ...(falseAlarmShare > 0 && falseAlarmShare < 1
      ? [`at ${shareOfPhases(falseAlarmShare)} it would raise a false alarm`]
      : []),
  ];
  if (clauses.length > 0) {
    const alarms = falseAlarmShare < 1 ? '' : falseAlarmsElsewhere(every, summary.falseAlarms);
    return `${clauses.join(', and ')}${alarms === '' ? '' : `; ${alarms}`} (${next})`;
  }
  const areAll = (some: readonly AtPhases[], outcome: OpeningOutcome, count: number): boolean =>
    some.length === count && some.every(({ index }) => openings.at(index).outcome === outcome);
  const isSame =
    remarkable.unknown.length === 0 &&
    areAll(remarkable.missed, 'missed', summary.missed - summary.unpowered) &&
    areAll(remarkable.late, 'late', summary.late) &&
    falseAlarmShare === (summary.falseAlarms > 0 ? 1 : 0);
  return isSame
    ? sameWords(every, judged)
    : `a device that was running before may do otherwise (${judgesAll})`;
}

/** What is the same at every phase, and how many false alarms the others raise where all of them raise some. */
function sameWords(every: EveryPhase, judged: Judged): string {
  const { verdict, timeline } = judged;
  const { leaveOpens, falseAlarms } = verdict.summary;
  const ranges = overRangesWords(every, timeline.timing);
  const others = ranges === null ? '' : `, for ${ranges},`;
  const alarms = falseAlarmsElsewhere(every, falseAlarms);
  if (leaveOpens === 0 && alarms !== '') return alarms;
  const outcome =
    leaveOpens > 1 ? 'each leave-open has the same outcome' : 'the outcome is the same';
  const which = messagesOfOwnPhase(judged) === null ? '' : ' of the checks';
  return `at all other phases${which}${others} ${outcome}${alarms === '' ? '' : `; ${alarms}`}`;
}

function falseAlarmsElsewhere({ summary }: EveryPhase, here: number): string {
  const { expectedFalseAlarms, falseAlarmShare } = summary;
  return falseAlarmShare === 0
    ? ''
    : `false alarms: ${figure(expectedFalseAlarms, 'up')} on average over all phases, here ${numberText(here)}`;
}
