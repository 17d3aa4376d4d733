// The report of one watch's bounds: the verdict, what it means and what to change, then the data sheet.
import { durationText, figure, plain, sentence, shellWord } from '../../base/index.js';
import {
  askedFor,
  askedWords,
  type BoundsView,
  boundsSentences,
  boundsVerdict,
  changesText,
  deliveryIgnored,
  deviceText,
  environmentText,
  gainText,
  gapsWords,
  heldText,
  isDeliverySet,
  lengthBarIn,
  nameOf,
  plainCut,
  priceText,
  safeLimitText,
  sheetRows,
  watchText,
} from '../../wording/index.js';
import { cautionWords } from '../layout/caution.js';
import { lengthBarText } from '../layout/length-bar.js';
import type { Paint } from '../layout/paint.js';
import { factsText, paragraphText, type Row, tableText } from '../layout/table-text.js';

export function* boundsReport(view: BoundsView, width: number, paint: Paint): Generator<string> {
  yield paragraphText(headline(view, paint), width);
  yield* barText(view, width, paint);
  yield* plainWordsText(view, width, paint);
  yield* remediesText(view, width, paint);
  yield* neverText(view, width, paint);
  yield `\n${paint.bold('The watch')}\n`;
  yield factsText(facts(view), width);
  yield* boundsSheet(view, width, paint);
  yield* findingsText(view, width, paint);
  yield* limitsText(view, width, paint);
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

function headline(view: BoundsView, paint: Paint): string {
  const verdict = boundsVerdict(view, paint);
  if (view.watchName === null) return sentence(verdict);
  return `${paint.bold(plainCut(nameOf(view), 200))}: ${verdict}.`;
}

/** What becomes of a door left open just as long as counts, in a sentence and a bar. */
function* barText(view: BoundsView, width: number, paint: Paint): Generator<string> {
  const { bounds, isJudged, watchFile } = view;
  const bar = lengthBarIn(bounds, watchFile);
  if (bar === null) return;
  if (isJudged) yield `\n${paragraphText(bar.sentence, width)}`;
  yield `\n${lengthBarText(bar, width, paint, isJudged)}`;
}

function facts({
  watchName,
  watchFile,
  overrides,
  logicName,
  usage,
}: BoundsView): (readonly [string, string])[] {
  const file = watchName === null ? 'none given, so the defaults apply' : plainCut(watchName, 200);
  const over = overrides.length === 0 ? '' : `, with ${plainCut(overrides.join(' '), 200)}`;
  return [
    ['watch file', `${file}${over}`],
    ...(logicName === undefined
      ? [['watch', watchText(watchFile)] as const]
      : [
          ['logic', plainCut(logicName, 200)] as const,
          ['settings', `${watchText(watchFile)} (what they do is up to the logic)`] as const,
        ]),
    ['device', deviceText(watchFile)],
    ['may go wrong', environmentText(watchFile.environment)],
    ...(usage === undefined ? [] : [['false alarms', usageFact(usage, watchName)] as const]),
  ];
}

type Usage = NonNullable<BoundsView['usage']>;

function usageText({ name, years }: Usage): string {
  return `${String(years)} simulated years of the profile ${plainCut(name, 60)}`;
}

function usageFact(usage: Usage, watchName: string | null): string {
  const { falseAlarmsPerYear: rate } = usage;
  if (rate === null) {
    return 'not known: the device holds after an alert, and the watch file does not say when somebody resets it (answer.afterAlert)';
  }
  const config = watchName === null ? '' : ` -c ${shellWord(watchName)}`;
  const alarms = rate === 0 ? 'none' : `about ${figure(rate, 'up')} per year`;
  return `${alarms} in ${usageText(usage)} (for intervals: dozewatch estimate${config} --profile ${shellWord(usage.name)})`;
}

const requirementColumns = [{ title: 'requirement' }, { title: 'at rest' }, { title: 'any state' }];

/** Each requirement, met or not, and what to change. */
function* plainWordsText(view: BoundsView, width: number, paint: Paint): Generator<string> {
  const { bounds, isJudged } = view;
  yield `\n${paint.bold('In plain words')}\n`;
  yield `${paragraphText(paint.dim(statesWords), width, '  ')}\n`;
  if (isJudged) {
    const rows = askedFor(view).map(({ key, ms, atRest, anyState }) => ({
      cells: [
        `${key}: ${askedWords[key]} ${durationText(ms)}`,
        heldText(atRest, paint),
        heldText(anyState, paint),
      ],
      below: [],
    }));
    yield* tableText(requirementColumns, rows, width);
    const gaps = gapsWords(bounds.gaps);
    if (gaps !== null) yield paragraphText(sentence(gaps), width, '  ');
    yield '\n';
  }
  const advice = isJudged ? bounds.advice : null;
  const words = advice ?? boundsSentences(view).join(' ');
  yield paragraphText(plain(words), width, '  ');
  if (!isJudged) {
    const how =
      'You stated no requirement, so none is judged. To state one: --leave-open-after 5m, --report-within 10m or --quiet-up-to 1m.';
    yield paragraphText(how, width, '  ');
  }
}

const statesWords =
  'At rest: the device saw the door shut long before it opens. Any state: whatever happened before.';

function* remediesText(
  { bounds, watchFile, usage }: BoundsView,
  width: number,
  paint: Paint,
): Generator<string> {
  if (bounds.remedies.length === 0) return;
  yield `\n${paint.bold('What to change')} (one of these; each is proved by the same search)\n`;
  if (usage?.falseAlarmsPerYear != null) {
    yield paragraphText(paint.dim(`false alarms: in ${usageText(usage)}`), width, '  ');
  }
  for (const remedy of bounds.remedies) {
    yield paragraphText(changesText(remedy), width, '  - ');
    yield paragraphText(paint.dim(`then ${gainText(remedy, bounds)}`), width, '      ');
    const price = priceText(remedy, watchFile);
    if (price !== null) yield paragraphText(`price: ${price}`, width, '      ');
  }
}

function* findingsText(
  { bounds, watchFile, isJudged }: BoundsView,
  width: number,
  paint: Paint,
): Generator<string> {
  const { findings } = bounds;
  // Without a requirement no opening counts as brief.
  const { aliasing, aliasingProof } = isJudged ? bounds : { aliasing: null, aliasingProof: null };
  const points = [
    ...findings.map((found) => `${sentence(found.sentence)} ${paint.dim(`[${found.code}]`)}`),
    ...(aliasing === null ? [] : [sentence(aliasing.sentence)]),
    ...(aliasingProof === null ? [] : [sentence(aliasingProof)]),
    ...(isDeliverySet(watchFile) ? [`The section delivery: is ${deliveryIgnored}.`] : []),
  ];
  if (points.length === 0) return;
  yield `\n${paint.bold('Good to know')}\n`;
  for (const point of points) yield paragraphText(point, width, '  - ');
}

/** How a door left open can go unreported for ever. */
function* neverText({ bounds }: BoundsView, width: number, paint: Paint): Generator<string> {
  const { unreportable } = bounds;
  if (unreportable === null) return;
  yield `\n${paint.bold('Never reported')}\n`;
  yield paragraphText(sentence(unreportable.sentence), width, '  ');
  for (const step of unreportable.stem) yield paragraphText(step, width, '  - ');
  yield paint.dim('  and from then on, again and again:\n');
  for (const step of unreportable.repeats) yield paragraphText(step, width, '  - ');
}

/** Which numbers are not exact, or not known. */
function* limitsText({ bounds }: BoundsView, width: number, paint: Paint): Generator<string> {
  const { safeLimits, unknown } = bounds;
  if (safeLimits.length === 0 && unknown.length === 0) return;
  yield `\n${paint.bold('How far the proof goes')}\n`;
  for (const one of safeLimits) yield paragraphText(safeLimitText(one, bounds), width, '  - ');
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
  const rows = sheetRows(view.bounds, view.watchFile.environment, view.isJudged).map(
    ({ symbol, atRest, anyState, unit, meaning }): Row => ({
      cells: [symbol, atRest, anyState, unit],
      below: [paint.dim(meaning)],
    }),
  );
  yield* tableText(columns, rows, width);
}
