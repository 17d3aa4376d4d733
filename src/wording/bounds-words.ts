// What is proved of a watch, in sentences.
import { counted, durationText, numberText, plain, sentence } from '../base/index.js';
import type { Remedy } from '../bounds/index.js';
import { type AskedFor, allHolds, askedFor, type BoundsView } from './bounds-view.js';
import type { Paint } from './paint.js';
import { isUnknown } from './sheet.js';

/** Of what is asked, how much holds. */
export function boundsVerdict(view: BoundsView, paint: Paint): string {
  if (!view.isJudged) return `${doesWords(view)}; no requirement is stated, so none is judged`;
  const asked = askedFor(view);
  const failing = asked.filter(({ atRest }) => atRest === false).length;
  const open = asked.filter(({ atRest }) => atRest === null).length;
  if (failing > 0) {
    const what =
      asked.length === 1
        ? 'what is asked'
        : `${numberText(failing)} of ${counted(asked.length, 'thing')} asked`;
    const verb = failing === 1 ? 'does' : 'do';
    return paint.bad(`${what} ${verb} NOT hold, even at rest`);
  }
  if (open > 0) return paint.doubtful('whether what is asked holds was not found out');
  if (allHolds(view, 'anyState')) return paint.good('all that is asked holds, from any state');
  return `${paint.good('all that is asked holds at rest')}, ${paint.doubtful('but not from any state')}`;
}

/** What a watch does when the door meets it at rest. */
function doesWords({ bounds }: BoundsView): string {
  const sureMs = bounds.alwaysReportedFromMs.atRest;
  const quietMs = bounds.neverAlarmedUpToMs;
  const sure = isUnknown(bounds, 'alwaysReportedFromMs.atRest')
    ? 'from when it reports every opening was not found out'
    : sureMs === null
      ? 'at rest it may leave an opening of any length unreported'
      : `at rest it reports every opening of at least ${durationText(sureMs)}`;
  const quiet = isUnknown(bounds, 'neverAlarmedUpToMs')
    ? 'up to when it stays quiet was not found out'
    : quietMs === null
      ? 'no single opening raises an alert'
      : `one opening of at most ${durationText(quietMs)} raises no alert`;
  return `${sure}, and ${quiet}`;
}

export const askedWords: Readonly<Record<AskedFor['key'], string>> = {
  leaveOpenAfter: 'is every opening reported that lasts',
  reportWithin: 'is it told, at the latest after',
  quietUpTo: 'does no alert come of an opening up to',
};

/** All that is said of bounds besides their numbers, a sentence each. */
export function boundsPoints({ bounds }: BoundsView): readonly string[] {
  const { advice, remedies, findings, aliasing, aliasingProof, unreportable, unknown } = bounds;
  return [
    ...(advice === null ? [] : [advice]),
    ...remedies.map((remedy) => `${sentence(changesText(remedy))} ${sentence(gainText(remedy))}`),
    ...findings.map((found) => sentence(found.sentence)),
    ...(aliasing === null ? [] : [sentence(aliasing.sentence)]),
    ...(aliasingProof === null ? [] : [sentence(aliasingProof)]),
    ...(unreportable === null ? [] : [sentence(unreportable.sentence)]),
    ...unknown.map((one) => sentence(one.sentence)),
  ].map(plain);
}

export function changesText({ holds, changes }: Remedy): string {
  const settings = changes.map(({ key, value }) => `${key}: ${value}`).join(', ');
  return `${holds === 'atRest' ? 'at rest' : 'from any state'}: ${settings}`;
}

export function gainText({
  alwaysReportedFromMs,
  worstDelayMs,
  neverAlarmedUpToMs,
}: Remedy): string {
  const told = worstDelayMs === null ? '' : `; told within ${durationText(worstDelayMs)}`;
  const quiet =
    neverAlarmedUpToMs === null ? '' : `; quiet up to ${durationText(neverAlarmedUpToMs)}`;
  return `sure from ${durationText(alwaysReportedFromMs)}${told}${quiet}`;
}

/** Whether something asked is proved; undefined: it is not asked of that state. */
export function heldText(held: boolean | null | undefined, paint: Paint): string {
  if (held === undefined) return '–';
  if (held === null) return paint.doubtful('not found out');
  return held ? paint.good('yes') : paint.bad(paint.bold('NO'));
}
