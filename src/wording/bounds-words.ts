// What is proved of a watch, in sentences.
import { figure, plain, roundedDurationText, sentence } from '../base/index.js';
import { quietUse } from '../battery/index.js';
import { type Bounds, priceClauses, type Remedy } from '../bounds/index.js';
import { type WatchFile, watchWarnings } from '../scenarios/index.js';
import { deliveryIgnored, isDeliverySet } from './assumptions.js';
import { type AskedFor, allHolds, askedFor, type BoundsView, type Held } from './bounds-view.js';
import { faultsText } from './faults-text.js';
import { gapsWords } from './gaps-words.js';
import type { Paint } from './paint.js';
import { failingText } from './proved-words.js';
import { isUnknown } from './sheet.js';

/** Whether the requirements are met; without any, what the watch does. */
export function boundsVerdict(view: BoundsView, paint: Paint): string {
  const gaps = gapsWords(view.bounds.gaps);
  return gaps === null ? judgedWords(view, paint) : `${judgedWords(view, paint)} (${gaps})`;
}

function judgedWords(view: BoundsView, paint: Paint): string {
  if (!view.isJudged) return doesWords(view);
  const asked = askedFor(view);
  const failing = asked.filter(({ atRest }) => atRest === false).length;
  if (failing > 0) return paint.bad(`${failingText(failing, asked.length)} NOT met, even at rest`);
  const isOne = asked.length === 1;
  if (asked.some(({ atRest }) => atRest === null)) {
    const what = isOne ? 'the requirement is' : 'all requirements are';
    return paint.doubtful(`the search stopped before it was known whether ${what} met`);
  }
  const open = asked.filter(({ atRest }) => atRest === 'not shown').length;
  if (open > 0) {
    const what = failingText(open, asked.length);
    return paint.doubtful(`${what} not shown to be met, because the contact bounces`);
  }
  const met = isOne ? 'the requirement is met' : 'all requirements are met';
  if (allHolds(view, 'anyState')) return paint.good(`${met}, at rest and from any state`);
  const elsewhere = asked.some(({ anyState }) => anyState === false)
    ? `NOT from every state`
    : asked.some(({ anyState }) => anyState === null)
      ? 'the search stopped before it was known whether from any state'
      : 'not shown from every state, because the contact bounces';
  const but =
    view.isStrict === true
      ? paint.bad(`but ${elsewhere}, as --strict requires`)
      : paint.doubtful(`but ${elsewhere}`);
  return `${paint.good(`${met} at rest`)}, ${but}`;
}

/** What a watch does when the door is opened at rest. */
function doesWords({ bounds }: BoundsView): string {
  const sureMs = bounds.alwaysReportedFromMs.atRest;
  const quietMs = bounds.neverAlarmedUpToMs;
  const sure = isUnknown(bounds, 'alwaysReportedFromMs.atRest')
    ? 'the search stopped before it was known from which length an opening is always reported'
    : sureMs === null
      ? 'at rest it can leave an opening of any length unreported'
      : `at rest it reports every opening of at least ${roundedDurationText(sureMs, 'at most')}`;
  return `${sure}, and ${quietWords(bounds, quietMs)}`;
}

function quietWords(bounds: Bounds, quietMs: number | null): string {
  if (isUnknown(bounds, 'neverAlarmedUpToMs')) {
    return 'the search stopped before it was known up to which length it stays quiet';
  }
  if (quietMs === null) return 'no single opening raises an alert';
  if (quietMs === 0) return 'even the shortest opening can raise an alert';
  return `no single opening of up to ${roundedDurationText(quietMs, 'at least')} raises an alert`;
}

/** What a watch does, a sentence each; the first is the verdict where nothing is judged, and not repeated. */
export function boundsSentences(view: BoundsView): readonly string[] {
  const { bounds, isJudged } = view;
  const { alwaysReportedFromMs: sure, worstDelayMs: worst, neverAlarmedUpToMs: quietMs } = bounds;
  const sentences = isJudged ? [sentence(doesWords(view))] : [];
  const upTo = (ms: number): string => roundedDurationText(ms, 'at most');
  if (sure.atRest !== null && quietMs !== null && sure.atRest > quietMs + 1) {
    const which =
      quietMs === 0
        ? 'a shorter opening'
        : `an opening between ${roundedDurationText(quietMs, 'at least')} and ${upTo(sure.atRest)}`;
    const fault = faultsText(view.watchFile.environment);
    sentences.push(`Whether ${which} is reported depends on when it starts${fault}.`);
  }
  if (worst.atRest !== null) {
    sentences.push(`If the door stays open, the alert arrives within ${upTo(worst.atRest)}.`);
  }
  if (sure.anyState !== null && sure.anyState !== sure.atRest) {
    const from = upTo(sure.anyState);
    const within =
      worst.anyState === null ? '' : `, and the alert arrives within ${upTo(worst.anyState)}`;
    sentences.push(`From any state, it reports every opening of at least ${from}${within}.`);
  }
  return sentences;
}

/** Each before its duration. */
export const askedWords: Readonly<Record<AskedFor['key'], string>> = {
  leaveOpenAfter: 'report every opening of at least',
  reportWithin: 'deliver the alert within',
  quietUpTo: 'raise no alert for one opening of up to',
};

/** Everything about bounds except their numbers, a sentence each. */
export function boundsPoints(view: BoundsView): readonly string[] {
  const { bounds, isJudged } = view;
  const { advice, remedies, findings, unreportable, unknown } = bounds;
  // Without a requirement no opening counts as brief.
  const { aliasing, aliasingProof } = isJudged ? bounds : { aliasing: null, aliasingProof: null };
  return [
    ...(advice === null ? [] : [advice]),
    ...remedies.map((remedy) => {
      const price = priceText(remedy, view.watchFile);
      const costs = price === null ? '' : ` ${sentence(`price: ${price}`)}`;
      return `${sentence(changesText(remedy))} ${sentence(gainText(remedy, view.bounds))}${costs}`;
    }),
    ...findings.map((found) => sentence(found.sentence)),
    ...(aliasing === null ? [] : [sentence(aliasing.sentence)]),
    ...(aliasingProof === null ? [] : [sentence(aliasingProof)]),
    ...(unreportable === null ? [] : [sentence(unreportable.sentence)]),
    ...unknown.map((one) => sentence(one.sentence)),
    ...(isDeliverySet(view.watchFile)
      ? [sentence(`the section delivery: is ${deliveryIgnored}`)]
      : []),
  ].map(plain);
}

export function changesText({ holds, changes }: Remedy): string {
  const settings = changes.map(({ key, value }) => `${key}: ${value}`).join(', ');
  return `${holds === 'atRest' ? 'at rest' : 'from any state'}: ${settings}`;
}

/** What changed settings achieve in place of what holds now. */
export function gainText(
  { holds, alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs }: Remedy,
  bounds: Bounds,
): string {
  const upTo = (ms: number): string => roundedDurationText(ms, 'at most');
  const sureMs = bounds.alwaysReportedFromMs[holds];
  const instead = sureMs === null ? '' : ` instead of ${upTo(sureMs)}`;
  const within = worstDelayMs === null ? '' : `; alert within ${upTo(worstDelayMs)}`;
  const nowMs = bounds.neverAlarmedUpToMs;
  const isKept = neverAlarmedUpToMs !== null && nowMs !== null && neverAlarmedUpToMs >= nowMs;
  const quiet =
    isKept && neverAlarmedUpToMs > 0
      ? `; quiet up to ${roundedDurationText(neverAlarmedUpToMs, 'at least')}`
      : '';
  return `sure from ${upTo(alwaysReportedFromMs)}${instead}${within}${quiet}`;
}

/** What changed settings cost, and the warnings that the watch file then draws; null: nothing changes for the worse. */
export function priceText(remedy: Remedy, watchFile: WatchFile): string | null {
  const clauses = [
    ...priceClauses(remedy),
    ...unpricedWakes(remedy, watchFile),
    ...newWarnings(remedy, watchFile),
  ];
  return clauses.length === 0 ? null : clauses.join('; ');
}

/** More wakes are not worth a word. */
const moreWakes = 1.05;

/** Without a supply the price of more wakes is not known, but they have one. */
function unpricedWakes(
  { price, watch }: Remedy,
  { watch: now, timing }: WatchFile,
): readonly string[] {
  if (price.lifeMs !== null) return [];
  const often = (settings: WatchFile['watch']): number => {
    const { boots, lengthMs } = quietUse(settings, timing);
    return boots.count / lengthMs;
  };
  const times = often(watch) / often(now);
  if (times < moreWakes) return [];
  return [
    `it wakes ${figure(Number(times.toPrecision(2)))} times as often, and how much that shortens a charge is unknown (the watch file has no supply: section)`,
  ];
}

/** The warnings that the watch file does not draw now. */
function newWarnings({ watch }: Remedy, watchFile: WatchFile): readonly string[] {
  const now = new Set(watchWarnings(watchFile).map(({ code }) => code));
  return watchWarnings({ ...watchFile, watch })
    .filter(({ code }) => !now.has(code))
    .map(({ message }) => message);
}

/** Whether a requirement is met; undefined: it does not apply to that state. */
export function heldText(held: Held | undefined, paint: Paint): string {
  if (held === undefined) return '–';
  if (held === 'not shown') return paint.doubtful(held);
  if (held === null) return paint.doubtful('unknown');
  return held ? paint.good('met') : paint.bad(paint.bold('NOT met'));
}
