// The report of one watch's bounds: the verdict first, then a data sheet, then what it means in plain words.
import { durationText, plain, sentence } from '../../base/index.js';
import {
  askedFor,
  askedWords,
  type BoundsView,
  boundsVerdict,
  changesText,
  deviceText,
  environmentText,
  gainText,
  heldText,
  nameOf,
  plainCut,
  sheetRows,
  watchText,
} from '../../wording/index.js';
import { cautionWords } from '../layout/caution.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, type Row, tableText } from '../layout/table-text.js';

export function* boundsReport(view: BoundsView, width: number, paint: Paint): Generator<string> {
  yield `${paint.bold(plainCut(nameOf(view), 200))}: ${boundsVerdict(view, paint)}.\n`;
  yield `\n${factsText(facts(view), width)}`;
  yield* boundsSheet(view, width, paint);
  yield* askedText(view, width, paint);
  yield* adviceText(view, width, paint);
  yield* findingsText(view, width, paint);
  yield* limitsText(view, width, paint);
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
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

function* askedText(view: BoundsView, width: number, paint: Paint): Generator<string> {
  if (!view.isJudged) return;
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

const columns = [
  { title: 'symbol' },
  { title: 'at rest', align: 'right' as const },
  { title: 'any state', align: 'right' as const },
  { title: 'unit' },
];

export function* boundsSheet(view: BoundsView, width: number, paint: Paint): Generator<string> {
  yield `\n${paint.bold('Data sheet')}\n`;
  const rows = sheetRows(view.bounds).map(
    ({ symbol, atRest, anyState, unit, meaning }): Row => ({
      cells: [symbol, atRest, anyState, unit],
      below: [paint.dim(meaning)],
    }),
  );
  yield* tableText(columns, rows, width);
}
