// A verdict in one line of plain words.
import { counted, numberText, roundedDurationText } from '../base/index.js';
import { openAtEnd, type Summary, type Verdict } from '../verdict/index.js';
import type { Paint } from './paint.js';

/** Whether a replay ends with status 0: nothing missed, nothing late, no false alarm. */
export function held({ missed, late, falseAlarms }: Summary): boolean {
  return missed === 0 && late === 0 && falseAlarms === 0;
}

/** A verdict, and what its timeline leaves open. */
interface Judged {
  readonly verdict: Verdict;
  readonly timeline: { readonly opensAtEnd: boolean };
}

/** The verdict without a name in front and without a full stop. */
export function verdictWords(judged: Judged, paint: Paint): string {
  const { summary } = judged.verdict;
  const end = endClause(judged);
  const clauses = [
    ...leaveOpenClauses(summary, end !== null, paint),
    ...(end === null ? [] : [paint.doubtful(end)]),
    falseAlarmClause(summary, paint),
  ];
  return clauses.join('; ');
}

/** What the end of the timeline leaves undecided; null: nothing. */
function endClause({ verdict, timeline }: Judged): string | null {
  if (timeline.opensAtEnd) return 'the log ends just as the door opens (use --until to follow it)';
  const last = openAtEnd(verdict.openings);
  if (last?.outcome !== 'undecided') return null;
  return `at the end the door had been open for ${roundedDurationText(last.durationMs, 'at least')}`;
}

function leaveOpenClauses(summary: Summary, opensAtEnd: boolean, paint: Paint): string[] {
  const { leaveOpens, reported, late, missed, unpowered } = summary;
  // A door that is open at the end may still become a leave-open.
  if (leaveOpens === 0)
    return [opensAtEnd ? 'no leave-open so far' : 'the door was never left open'];
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
