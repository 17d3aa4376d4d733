// Which requirements are not met, and what would help, in plain words.
import { durationText, roundedDurationText } from '../../base/index.js';
import type { Gaps, Holds, Remedy } from '../answer.js';
import type { Known, Start } from '../holds.js';
import type { BoundsQuestion } from '../question.js';
import { gapsOf } from './blind-band.js';
import { isPossible } from './remedies.js';

/** Null: no requirement is known to fail. */
export function adviceOf(
  question: BoundsQuestion,
  known: Known,
  on: { readonly holds: Holds; readonly remedies: readonly Remedy[] },
): string | null {
  const gaps = gapsOf(question);
  if (question.isJudged && gaps?.kind === 'blind') return blindText(gaps);
  for (const from of ['atRest', 'anyState'] as const) {
    const troubles = troublesOf(question, known, { holds: on.holds, from });
    if (troubles.length === 0) continue;
    const remedies = on.remedies.filter(({ holds }) => holds === from);
    return `${troubles.join(' ')} ${helpOf(question, remedies, { ...on, from })}`;
  }
  return null;
}

/** The door may rest where the contact reads shut: nothing else matters then. */
function blindText({ overMm, opensAtLeastMm }: Gaps): string {
  const over = `${String(overMm)} mm`;
  const rests = `${String(opensAtLeastMm ?? 0)} mm`;
  return `A door that rests at ${rests} (door.opensAtLeast) may go unreported for ever: the contact can read shut at gaps of up to ${over} (contact.releaseGap). No setting of the watch helps. Move the magnet farther from the switch, so that the contact releases below ${rests}, or set opensAtLeast above ${over} if the door never rests at a smaller gap.`;
}

function troublesOf(
  { judge }: BoundsQuestion,
  known: Known,
  on: { readonly holds: Holds; readonly from: Start },
): readonly string[] {
  const { holds, from } = on;
  const anyState = from === 'atRest' ? '' : 'from any state ';
  const troubles: string[] = [];
  if (holds.leaveOpenAfter[from] === false) {
    const sureMs = known.alwaysReportedFromMs[from];
    const sure =
      sureMs == null
        ? 'no opening is long enough to be sure of a report'
        : `${anyState}this watch is sure only from ${roundedDurationText(sureMs, 'at most')}`;
    const left = durationText(judge.leaveOpenAfterMs);
    const before = from === 'atRest' ? '' : ', depending on what happened before';
    troubles.push(`An opening of ${left} may go unreported${before}: ${sure}.`);
  }
  if (holds.reportWithin[from] === false && judge.reportWithinMs !== null) {
    const worstMs = known.worstDelayMs[from];
    const late =
      worstMs == null
        ? 'never arrive'
        : `arrive as late as ${roundedDurationText(worstMs, 'at most')} after the door opened`;
    const within = durationText(judge.reportWithinMs);
    troubles.push(`The alert must arrive within ${within}, but ${anyState}it may ${late}.`);
  }
  if (holds.quietUpTo.atRest === false && judge.quietUpToMs !== null && from === 'atRest') {
    const quiet = `No opening of up to ${durationText(judge.quietUpToMs)} should raise an alert`;
    const quietMs = known.neverAlarmedUpToMs ?? 0;
    const loud =
      quietMs === 0
        ? 'even the shortest can'
        : `one slightly over ${roundedDurationText(quietMs, 'at least')} can`;
    troubles.push(`${quiet}, but ${loud}.`);
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
        : 'To meet all requirements';
    return `${goal}, set ${remedies.map(wayText).join('; or ')}.`;
  }
  return isPossible(question, from)
    ? 'No small change of the settings that was tried helps.'
    : 'No setting helps while the power, the network or the contact may be away that long.';
}

function wayText({ changes }: Remedy): string {
  const texts = changes.map(({ key, value }) => `${key}: ${value}`);
  const last = texts.at(-1) ?? '';
  return texts.length < 2 ? last : `${texts.slice(0, -1).join(', ')} and ${last}`;
}
