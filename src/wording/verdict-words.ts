// A verdict in one line of plain words.
import { counted, numberText } from '../base/index.js';
import type { Summary } from '../verdict/index.js';
import type { Paint } from './paint.js';

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
  const one = leaveOpens === 1;
  if (reported === leaveOpens) {
    return [paint.good(`${allOf(leaveOpens)} reported`)];
  }
  const clauses: string[] = [];
  const add = (count: number, became: string, colour: (text: string) => string): void => {
    if (count === 0) return;
    // The first clause says of how many.
    if (clauses.length > 0) clauses.push(colour(`${numberText(count)} ${became}`));
    else if (one) clauses.push(colour(`the one leave-open was ${became}`));
    else {
      const of = `${numberText(count)} of ${numberText(leaveOpens)} leave-opens`;
      clauses.push(colour(`${of} ${count === 1 ? 'was' : 'were'} ${became}`));
    }
  };
  add(missed, 'MISSED', paint.bad);
  add(late, 'reported late', paint.bad);
  add(undecided, 'undecided at the end', paint.doubtful);
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
