// The report of one watch's bounds: the verdict first, then a data sheet, then what it means in plain words.
import { durationText } from '../../base/index.js';
import type { Remedy } from '../../bounds/index.js';
import { deviceText, environmentText, watchText } from './bounds-settings.js';
import { boundsSheet } from './bounds-sheet.js';
import { type AskedFor, allHolds, askedFor, type BoundsView, nameOf } from './bounds-view.js';
import { caution } from './caution.js';
import { plainCut } from './columns.js';
import type { Paint } from './paint.js';
import { counted, numberText, plain, sentence } from './plain.js';
import { factsText, paragraphText, tableText } from './table-text.js';

export function* boundsReport(view: BoundsView, width: number, paint: Paint): Generator<string> {
  yield `${paint.bold(plainCut(nameOf(view), 200))}: ${verdict(view, paint)}.\n`;
  yield `\n${factsText(facts(view), width)}`;
  yield* boundsSheet(view, width, paint);
  yield* askedText(view, width, paint);
  yield* adviceText(view, width, paint);
  yield* findingsText(view, width, paint);
  yield* limitsText(view, width, paint);
  yield `\n${paint.dim(caution)}\n`;
}

/** Of what is asked, how much holds. */
export function verdict(view: BoundsView, paint: Paint): string {
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

function facts({ watchName, watchFile, overrides }: BoundsView): (readonly [string, string])[] {
  const file = watchName === null ? 'none given: the defaults apply' : plainCut(watchName, 200);
  const over = overrides.length === 0 ? '' : `, with ${plainCut(overrides.join(' '), 200)}`;
  return [
    ['watch file', `${file}${over}`],
    ['watch', watchText(watchFile)],
    ['device', deviceText(watchFile)],
    ['may go wrong', environmentText(watchFile.environment)],
  ];
}

const askedColumns = [
  { title: 'asked' },
  { title: '', align: 'right' as const },
  { title: 'at rest' },
  { title: 'any state' },
];

export const askedWords: Readonly<Record<AskedFor['key'], string>> = {
  leaveOpenAfter: 'is every opening reported that lasts',
  reportWithin: 'is it told, at the latest after',
  quietUpTo: 'does no alert come of an opening up to',
};

function* askedText(view: BoundsView, width: number, paint: Paint): Generator<string> {
  yield `\n${paint.bold('What is asked')}\n`;
  const rows = askedFor(view).map(({ key, ms, atRest, anyState }) => ({
    cells: [
      `${key}: ${askedWords[key]}`,
      durationText(ms),
      heldText(atRest, paint),
      heldText(anyState, paint),
    ],
    below: [],
  }));
  yield* tableText(askedColumns, rows, width);
}

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

function heldText(held: boolean | null | undefined, paint: Paint): string {
  if (held === undefined) return '–';
  if (held === null) return paint.doubtful('not found out');
  return held ? paint.good('yes') : paint.bad(paint.bold('NO'));
}

function* adviceText({ bounds }: BoundsView, width: number, paint: Paint): Generator<string> {
  if (bounds.advice !== null) {
    yield `\n${paint.bold('In plain words')}\n`;
    yield paragraphText(plain(bounds.advice), width, '  ');
  }
  if (bounds.remedies.length === 0) return;
  yield `\n${paint.bold('What would help')} (each proved by the same search)\n`;
  for (const remedy of bounds.remedies) {
    yield paragraphText(changesText(remedy), width, '  - ');
    yield paragraphText(paint.dim(gainText(remedy)), width, '      ');
  }
}

function changesText({ holds, changes }: Remedy): string {
  const settings = changes.map(({ key, value }) => `${key}: ${value}`).join(', ');
  return `${holds === 'atRest' ? 'at rest' : 'from any state'}: ${settings}`;
}

function gainText({ alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs }: Remedy): string {
  const told = worstDelayMs === null ? '' : `; told within ${durationText(worstDelayMs)}`;
  const quiet =
    neverAlarmedUpToMs === null ? '' : `; quiet up to ${durationText(neverAlarmedUpToMs)}`;
  return `sure from ${durationText(alwaysReportedFromMs)}${told}${quiet}`;
}

function* findingsText({ bounds }: BoundsView, width: number, paint: Paint): Generator<string> {
  const { findings, unreportable, aliasing, aliasingProof } = bounds;
  const points = [
    ...findings.map((found) => `${sentence(found.sentence)} ${paint.dim(`[${found.code}]`)}`),
    ...(aliasing === null ? [] : [sentence(aliasing.sentence)]),
    ...(aliasingProof === null ? [] : [sentence(aliasingProof)]),
  ];
  if (points.length > 0) {
    yield `\n${paint.bold('Good to know')}\n`;
    for (const point of points) yield paragraphText(point, width, '  - ');
  }
  if (unreportable === null) return;
  yield `\n${paint.bold('Never reported')}\n`;
  yield paragraphText(sentence(unreportable.sentence), width, '  ');
  for (const step of unreportable.stem) yield paragraphText(step, width, '  - ');
  yield paint.dim('  and from then on, over and over:\n');
  for (const step of unreportable.repeats) yield paragraphText(step, width, '  - ');
}

/** Where the numbers are not exact, or not there. */
function* limitsText({ bounds }: BoundsView, width: number, paint: Paint): Generator<string> {
  const { safeLimits, unknown } = bounds;
  if (safeLimits.length === 0 && unknown.length === 0) return;
  yield `\n${paint.bold('How far the proof goes')}\n`;
  for (const { bound, reachedMs } of safeLimits) {
    const reached =
      reachedMs === null
        ? 'no course was found that comes near it'
        : `a course reaches ${durationText(reachedMs)}`;
    yield paragraphText(`${bound} is safe, and perhaps not exact: ${reached}.`, width, '  - ');
  }
  for (const one of unknown) {
    yield paragraphText(paint.doubtful(sentence(one.sentence)), width, '  - ');
  }
}
