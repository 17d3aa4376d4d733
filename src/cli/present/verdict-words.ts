// A verdict in one line of plain words.
import type { Summary } from '../../verdict/index.js';
import type { Paint } from './paint.js';
import { counted, numberText } from './plain.js';

/** Whether a replay ends with status 0: nothing missed, nothing late, no false alarm. */
export function held({ missed, late, falseAlarms }: Summary): boolean {
  return missed === 0 && late === 0 && falseAlarms === 0;
}

/** The verdict without a name in front and without a full stop. */
export function verdictWords(summary: Summary, paint: Paint): string {
  const clauses = [...leaveOpenClauses(summary, paint), falseAlarmClause(summary, paint)];
  if (summary.earlyAlerts > 0) {
    clauses.push(paint.doubtful(`${counted(summary.earlyAlerts, 'alert')} came early`));
  }
  return clauses.join('; ');
}

function leaveOpenClauses(summary: Summary, paint: Paint): string[] {
  const { leaveOpens, reported, late, missed, undecided } = summary;
  if (leaveOpens === 0) return ['the door was never left open'];
  if (reported === leaveOpens) {
    const all =
      leaveOpens === 1
        ? 'the one leave-open was'
        : `all ${numberText(leaveOpens)} leave-opens were`;
    return [paint.good(`${all} reported`)];
  }
  const clauses: string[] = [];
  const of = `of ${counted(leaveOpens, 'leave-open')}`;
  if (missed > 0)
    clauses.push(paint.bad(`${numberText(missed)} ${of} ${missed === 1 ? 'was' : 'were'} MISSED`));
  if (late > 0)
    clauses.push(
      paint.bad(`${numberText(late)} ${of} ${late === 1 ? 'was' : 'were'} reported late`),
    );
  if (undecided > 0)
    clauses.push(paint.doubtful(`${numberText(undecided)} ${of} undecided at the end`));
  if (missed === 0 && reported > 0) clauses.push(`${numberText(reported)} reported`);
  return clauses;
}

function falseAlarmClause({ falseAlarms }: Summary, paint: Paint): string {
  if (falseAlarms === 0) return 'no false alarm';
  return paint.bad(counted(falseAlarms, 'FALSE ALARM'));
}
