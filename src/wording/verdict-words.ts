// A verdict in one line of plain words.
import { counted, numberText, roundedDurationText } from '../base/index.js';
import { openAtEnd, type Summary } from '../verdict/index.js';
import type { Paint } from './paint.js';
import { provedSentence, provedStanding, type Standing } from './proved-words.js';
import type { ReplayView } from './replay-view.js';

/** Whether a replay ends with status 0: nothing missed, nothing late, no false alarm. */
export function held({ missed, late, falseAlarms }: Summary): boolean {
  return missed === 0 && late === 0 && falseAlarms === 0;
}

/** What a verdict is made from. */
export type Judged = Pick<ReplayView, 'verdict' | 'proved' | 'watchFile'> & {
  readonly timeline: Pick<ReplayView['timeline'], 'opensAtEnd' | 'logged'>;
};

/** The verdict in its two parts, without a name in front and without a full stop. */
export function verdictWords(judged: Judged, paint: Paint): string {
  return withProof(happenedWords(judged, paint), judged, paint);
}

/** Words on what happened, and what is proved behind them. */
export function withProof(happened: string, { proved, watchFile }: Judged, paint: Paint): string {
  if (proved === null) return happened;
  return `${happened}. ${provedSentence(proved, watchFile.judge, paint)}`;
}

/** What happened in this timeline. */
export function happenedWords(judged: Judged, paint: Paint): string {
  const { summary } = judged.verdict;
  const end = endClause(judged);
  const clauses = [
    ...leaveOpenClauses(summary, end !== null, paint),
    ...(end === null ? [] : [paint.doubtful(end)]),
    falseAlarmClause(summary, paint),
  ];
  return clauses.join('; ');
}

/** The worse of what happened and what is proved at rest. */
export function verdictStanding(
  { verdict, proved }: Pick<Judged, 'verdict' | 'proved'>,
  expectationsAreMet: boolean,
): Standing {
  const isProved = proved === null ? 'good' : provedStanding(proved);
  if (!held(verdict.summary) || !expectationsAreMet || isProved === 'bad') return 'bad';
  return verdict.summary.undecided > 0 ? 'doubtful' : isProved;
}

/** What the end of the timeline leaves undecided; null: nothing. */
function endClause({ verdict, timeline }: Judged): string | null {
  const until = timeline.logged === null ? '' : ' (give a later end with --until)';
  if (timeline.opensAtEnd) return `the log ends just as the door opens${until}`;
  const last = openAtEnd(verdict.openings);
  if (last?.outcome !== 'undecided') return null;
  return `at the end the door had been open for ${roundedDurationText(last.durationMs, 'at least')}${until}`;
}

export const neverLeftOpen =
  'the door was never left open, so this timeline cannot show a missed alarm';

function leaveOpenClauses(summary: Summary, opensAtEnd: boolean, paint: Paint): string[] {
  const { leaveOpens, reported, late, missed, unpowered } = summary;
  // A door that is open at the end may still become a leave-open.
  if (leaveOpens === 0) return [opensAtEnd ? 'no leave-open so far' : neverLeftOpen];
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

function falseAlarmClause({ falseAlarms }: Summary, paint: Paint): string {
  if (falseAlarms === 0) return 'no false alarm';
  return paint.bad(counted(falseAlarms, 'FALSE ALARM', 'FALSE ALARMS'));
}
