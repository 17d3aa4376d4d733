// What is asked and does not hold, and what would help, in plain words.
import { durationText } from '../../base/index.js';
import type { Change, Holds, Remedy } from '../answer.js';
import type { Known, Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import { isPossible } from './remedies.js';

/** Null: all that is asked holds, as far as it could be found out. */
export function adviceOf(
  question: BoundsQuestion,
  known: Known,
  on: { readonly holds: Holds; readonly remedies: readonly Remedy[] },
): string | null {
  for (const from of ['atRest', 'anyState'] as const) {
    const troubles = troublesOf(question, known, { holds: on.holds, from });
    if (troubles.length === 0) continue;
    const remedies = on.remedies.filter(({ holds }) => holds === from);
    return `${troubles.join(' ')} ${helpOf(question, remedies, { ...on, from })}`;
  }
  return null;
}

function troublesOf(
  { judge }: BoundsQuestion,
  known: Known,
  on: { readonly holds: Holds; readonly from: Start },
): readonly string[] {
  const { holds, from } = on;
  const whence = from === 'atRest' ? '' : ', whatever went before,';
  const troubles: string[] = [];
  if (holds.leaveOpenAfter[from] === false) {
    const sureMs = known.alwaysReportedFromMs[from];
    const sure = sureMs == null ? 'never sure' : `sure only from ${durationText(sureMs)}`;
    const left = durationText(judge.leaveOpenAfterMs);
    troubles.push(
      `A door left open for ${left}${whence} may go unreported: this watch is ${sure}.`,
    );
  }
  if (holds.reportWithin[from] === false && judge.reportWithinMs !== null) {
    const worstMs = known.worstDelayMs[from];
    const late = worstMs == null ? 'never come' : `come as late as ${durationText(worstMs)}`;
    troubles.push(
      `An alert is asked for within ${durationText(judge.reportWithinMs)} and${whence === '' ? '' : whence} may ${late}.`,
    );
  }
  if (holds.quietUpTo.atRest === false && judge.quietUpToMs !== null && from === 'atRest') {
    const loudMs = (known.neverAlarmedUpToMs ?? 0) + 1;
    troubles.push(
      `An opening of ${durationText(loudMs)} can raise an alert, and up to ${durationText(judge.quietUpToMs)} none is wanted.`,
    );
  }
  return troubles;
}

function helpOf(
  question: BoundsQuestion,
  remedies: readonly Remedy[],
  { holds, from }: { readonly holds: Holds; readonly from: Start },
): string {
  if (remedies.length > 0) {
    const goal =
      holds.leaveOpenAfter[from] === false
        ? `To be sure from ${durationText(question.judge.leaveOpenAfterMs)}`
        : 'To have all that is asked';
    return `${goal}: ${remedies.map(wayText).join(', or ')}.`;
  }
  return isPossible(question, from)
    ? 'No small change of the settings that was tried helps.'
    : 'No setting helps while the power, the network or the contact may be away for that long.';
}

function isDuration(key: Change['key']): boolean {
  return key.endsWith('Interval') || key === 'alertCooldown';
}

function wayText({ changes }: Remedy): string {
  const texts = changes.map(({ key, value }) =>
    isDuration(key) ? `${key} ${value}` : `${key}: ${value}`,
  );
  const last = texts.at(-1) ?? '';
  return texts.length < 2 ? last : `${texts.slice(0, -1).join(', ')} and ${last}`;
}
