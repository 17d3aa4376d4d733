// A verdict in one line of plain words.
import {
  counted,
  greatestOf,
  listText,
  numberText,
  roundedDurationText,
  writeDuration,
} from '../base/index.js';
import type { Timeline } from '../scenarios/index.js';
import { openAtEnd, type Summary, type Verdict } from '../verdict/index.js';
import type { Spans } from '../world/index.js';
import { laterEndMs, laterEndWords } from './later-end.js';
import type { Paint } from './paint.js';
import { provedSentence, provedStanding, type Standing } from './proved-words.js';
import type { ReplayView } from './replay-view.js';

/** Whether a replay ends with status 0: nothing missed, nothing late, no false alarm. */
export function held({ missed, late, falseAlarms }: Summary): boolean {
  return missed === 0 && late === 0 && falseAlarms === 0;
}

type Logged = Pick<Timeline, 'logged' | 'world'>;

/** Whether a leave-open may be missing from a timeline, because its log was repaired: then a replay ends with status 1. */
export function mayHide({ logged }: Pick<Timeline, 'logged'>): boolean {
  return logged !== null && logged.hidingRepairs > 0;
}

/** What a verdict is made from. */
export type Judged = Pick<ReplayView, 'verdict' | 'proved' | 'watchFile'> & {
  readonly timeline: Pick<
    ReplayView['timeline'],
    'opensAtEnd' | 'logged' | 'world' | 'timing' | 'start' | 'seed'
  >;
};

/** The verdict in its two parts, without a name in front and without a full stop. */
export function verdictWords(judged: Judged, paint: Paint): string {
  return withProof(happenedWords(judged, paint), judged, paint);
}

/** Words on what happened, and what is proved behind them. */
export function withProof(happened: string, judged: Judged, paint: Paint): string {
  const { proved, watchFile } = judged;
  if (proved === null) return happened;
  const left = faultsLeftOut(judged);
  const caveat =
    left.length === 0 ? '' : `. The proof does not cover this timeline: it has ${listText(left)}`;
  return `${happened}. ${provedSentence(proved, watchFile, paint)}${caveat}`;
}

/** The faults of this timeline that go beyond the environment of the proof, each with the limit that it exceeds. */
function faultsLeftOut({ timeline, watchFile }: Judged): readonly string[] {
  const { networkDown, powerLost, resetsMs, lengthMs } = timeline.world;
  const { environment } = watchFile;
  const { outages, longestOutageMs, outagesApartMs, powerLosses, longestPowerLossMs } = environment;
  const resets = resetsMs.length;
  return [
    ...spansBeyond(networkDown, {
      names: ['a network outage', 'network outages'],
      count: longestOutageMs === 0 ? 0 : outages,
      countKey: 'outages',
      longestMs: longestOutageMs,
      longestKey: 'longestOutage',
      apartMs: outagesApartMs,
      lengthMs,
    }),
    ...spansBeyond(powerLost, {
      names: ['a power loss', 'power losses'],
      count: powerLosses,
      countKey: 'powerLosses',
      longestMs: longestPowerLossMs,
      longestKey: 'powerLossLasting',
      apartMs: 0,
      lengthMs,
    }),
    ...(resets > environment.resets
      ? [`${counted(resets, 'reset', 'resets')} ${limitText('resets', environment.resets)}`]
      : []),
  ];
}

interface SpanLimits {
  readonly names: readonly [one: string, several: string];
  readonly count: number;
  readonly countKey: string;
  readonly longestMs: number;
  readonly longestKey: string;
  /** From the end of one to the beginning of the next at least. */
  readonly apartMs: number;
  /** Of the timeline: a span may outlast it. */
  readonly lengthMs: number;
}

/** How spans of a timeline exceed their limits: the longest, else the count, else how close they follow each other. */
function spansBeyond({ fromMs, toMs }: Spans, limits: SpanLimits): readonly string[] {
  const { names, count, countKey, longestMs, longestKey, apartMs, lengthMs } = limits;
  const [one, several] = names;
  if (count === 0) {
    if (fromMs.length === 0) return [];
    return [`${fromMs.length === 1 ? one : several} (environment allows none)`];
  }
  let mostMs = 0;
  let leastApartMs = Number.POSITIVE_INFINITY;
  for (const [index, from] of fromMs.entries()) {
    mostMs = Math.max(mostMs, Math.min(toMs[index] ?? 0, lengthMs) - from);
    if (index > 0) leastApartMs = Math.min(leastApartMs, from - (toMs[index - 1] ?? 0));
  }
  if (mostMs > longestMs) {
    return [
      `${one} of ${roundedDurationText(mostMs)} (${longestKey}: ${writeDuration(longestMs)})`,
    ];
  }
  if (fromMs.length > count) {
    return [`${numberText(fromMs.length)} ${several} ${limitText(countKey, count)}`];
  }
  if (leastApartMs >= apartMs) return [];
  const apart = roundedDurationText(leastApartMs);
  return [`${several} ${apart} apart (outagesApart: ${writeDuration(apartMs)})`];
}

function limitText(key: string, count: number): string {
  return count === 0 ? '(environment allows none)' : `(${key}: ${String(count)})`;
}

/** The clause for a timeline without a leave-open. */
export function noLeaveOpenWords(judged: Judged): string {
  if (endClause(judged) !== null) return 'no leave-open so far';
  return (judged.timeline.logged?.unseen.fromMs.length ?? 0) > 0
    ? 'no leave-open is known, so this timeline cannot show a missed alarm'
    : 'the door was never left open, so this timeline cannot show a missed alarm';
}

/** Clauses on the timeline itself, whatever the device did: before those on the leave-opens, and after them. */
export function timelineClauses(
  judged: Judged,
  unknown: number,
  paint: Paint,
): { readonly first: readonly string[]; readonly last: readonly string[] } {
  const end = endClause(judged);
  return {
    first: repairClauses(judged.timeline, paint),
    last: [
      ...unknownClauses(judged.timeline, unknown, paint),
      ...(end === null ? [] : [paint.doubtful(end)]),
    ],
  };
}

/** What happened in this timeline. */
export function happenedWords(judged: Judged, paint: Paint): string {
  const { summary } = judged.verdict;
  const { first, last } = timelineClauses(judged, summary.unknown, paint);
  const leaveOpens = [
    ...leaveOpenClauses(summary, noLeaveOpenWords(judged), paint),
    ...afterShutClauses(judged.verdict, paint),
    ...cutOffClauses(judged, paint),
  ];
  return [...first, ...leaveOpens, ...last, falseAlarmClause(judged.verdict, paint)].join('; ');
}

/** The worse of what happened and what is proved at rest. */
export function verdictStanding(
  { verdict, proved, timeline }: Pick<Judged, 'verdict' | 'proved' | 'timeline'>,
  expectationsAreMet: boolean,
): Standing {
  const isProved = proved === null ? 'good' : provedStanding(proved);
  if (!held(verdict.summary) || mayHide(timeline) || !expectationsAreMet || isProved === 'bad') {
    return 'bad';
  }
  const { undecided, unknown } = verdict.summary;
  return undecided + unknown > 0 ? 'doubtful' : isProved;
}

/** What the end of the timeline leaves undecided; null: nothing. */
function endClause({ verdict, timeline }: Judged): string | null {
  const until = timeline.logged === null ? '' : ' (give a later end with --until)';
  if (timeline.opensAtEnd) return `the log ends just as the door opens${until}`;
  const last = openAtEnd(verdict.openings);
  if (last?.outcome !== 'undecided') return null;
  const open = `at the end the door had been open for ${roundedDurationText(last.durationMs, 'at least')}`;
  const isBeingSent = verdict.cutOff === verdict.openings.count - 1;
  const laterMs = isBeingSent ? laterEndMs(timeline) : null;
  return laterMs === null
    ? `${open}${until}`
    : `${open}, and its alert was being sent (${laterEndWords(timeline, laterMs)})`;
}

/** Where a later end would show that the alert of a missed leave-open is delivered; null: it would not. */
export function cutOffEndMs({ verdict, timeline }: Judged): number | null {
  const { cutOff, openings } = verdict;
  return cutOff !== undefined && openings.at(cutOff).outcome === 'missed'
    ? laterEndMs(timeline)
    : null;
}

function cutOffClauses(judged: Judged, paint: Paint): string[] {
  const { verdict, timeline } = judged;
  const laterMs = cutOffEndMs(judged);
  if (laterMs === null || verdict.cutOff === undefined) return [];
  const which =
    verdict.openings.leaveOpens.length === 1
      ? 'its alert'
      : `the alert for no. ${numberText(verdict.cutOff + 1)}`;
  const hint = laterEndWords(timeline, laterMs);
  return [
    paint.doubtful(`the end of the timeline cut ${which} off while it was being sent (${hint})`),
  ];
}

/** How long the log knows nothing of the door. */
function unknownMsOf({ logged, world }: Logged): number {
  if (logged === null) return 0;
  const { fromMs, toMs } = logged.unavailable;
  let sumMs = 0;
  for (const [index, from] of fromMs.entries()) {
    sumMs += Math.min(toMs[index] ?? world.lengthMs, world.lengthMs) - from;
  }
  return sumMs;
}

function unknownClauses(timeline: Logged, unknown: number, paint: Paint): string[] {
  const unknownMs = unknownMsOf(timeline);
  if (unknownMs === 0) {
    if (unknown === 0) return [];
    return [
      paint.doubtful(
        `${counted(unknown, 'opening is', 'openings are')} unknown: the door was already open at the start`,
      ),
    ];
  }
  const spans = counted(timeline.logged?.unavailable.fromMs.length ?? 0, 'span', 'spans');
  const openings =
    unknown === 0 ? '' : `${counted(unknown, 'opening is', 'openings are')} unknown: `;
  const gaps = `the log has no state for ${roundedDurationText(unknownMs, 'at least')} in ${spans}`;
  return [paint.doubtful(`${openings}${gaps}`)];
}

function repairClauses({ logged }: Logged, paint: Paint): string[] {
  const count = logged?.hidingRepairs ?? 0;
  if (count === 0) return [];
  return [paint.bad(`${counted(count, 'REPAIR', 'REPAIRS')} MAY HIDE A LEAVE-OPEN`)];
}

/** Alerts for leave-opens that came when the door was shut again. */
function afterShutClauses({ openings }: Verdict, paint: Paint): string[] {
  const count = openings.leaveOpens.filter((index) => {
    const { toMs, durationMs, delayMs } = openings.at(index);
    return toMs !== null && delayMs !== null && delayMs > durationMs;
  }).length;
  if (count === 0) return [];
  const ofSeveral =
    count === 1 ? 'the alert of 1 leave-open' : `the alerts of ${numberText(count)} leave-opens`;
  const which = openings.leaveOpens.length === 1 ? 'its alert' : ofSeveral;
  return [paint.doubtful(`${which} came only after the door had shut`)];
}

/** @param none the clause for a timeline without a leave-open. */
function leaveOpenClauses(summary: Summary, none: string, paint: Paint): string[] {
  const { leaveOpens, reported, late, missed, unpowered } = summary;
  // A door that is open at the end may still become a leave-open.
  if (leaveOpens === 0) return [none];
  const one = leaveOpens === 1;
  if (reported === leaveOpens) {
    return [paint.good(`${allOf(leaveOpens)} reported`)];
  }
  const clauses: string[] = [];
  const add = (count: number, became: string, colour: (text: string) => string): void => {
    if (count === 0) return;
    // The first clause also says how many there were.
    if (clauses.length > 0) clauses.push(colour(`${numberText(count)} ${became}`));
    else if (one) clauses.push(colour(`the one leave-open was ${became}`));
    else {
      const of = `${numberText(count)} of ${numberText(leaveOpens)} leave-opens`;
      clauses.push(colour(`${of} ${count === 1 ? 'was' : 'were'} ${became}`));
    }
  };
  add(missed - unpowered, 'MISSED', paint.bad);
  add(unpowered, 'MISSED because the charge was used up', paint.bad);
  add(late, 'reported late', paint.bad);
  // An opening that is undecided without being a leave-open is in the clause on the end.
  add(leaveOpens - reported - late - missed, 'undecided at the end', paint.doubtful);
  return clauses;
}

function allOf(leaveOpens: number): string {
  if (leaveOpens === 1) return 'the one leave-open was';
  return leaveOpens === 2
    ? 'both leave-opens were'
    : `all ${numberText(leaveOpens)} leave-opens were`;
}

function falseAlarmClause(verdict: Verdict, paint: Paint): string {
  const { falseAlarms } = verdict.summary;
  if (falseAlarms === 0) return 'no false alarm';
  const count = counted(falseAlarms, 'FALSE ALARM', 'FALSE ALARMS');
  return paint.bad(`${count}${falselyAfterShut(verdict)}`);
}

/** False alarms for an opening that was over when they came, as the clause on leave-opens counts theirs. */
function falselyAfterShut({ alerts, openings, summary }: Verdict): string {
  const lateMs = alerts.flatMap(({ kind, opening, deliveredMs }) => {
    if (kind !== 'false' || opening === null || deliveredMs === null) return [];
    const { toMs } = openings.at(opening);
    return toMs !== null && deliveredMs > toMs ? [deliveredMs - toMs] : [];
  });
  if (lateMs.length === 0) return '';
  const most = roundedDurationText(greatestOf(lateMs), 'at most');
  const which =
    lateMs.length < summary.falseAlarms
      ? `${numberText(lateMs.length)} of them `
      : summary.falseAlarms === 1
        ? ''
        : 'all ';
  return `, ${which}delivered ${lateMs.length === 1 ? '' : 'up to '}${most} after the door had shut`;
}
