// Several watches side by side: which requirements each meets, the settings that differ, then the bounds.
import { durationText } from '../../base/index.js';
import type { BoundName } from '../../bounds/index.js';
import {
  type AskedFor,
  askedFor,
  type BoundsView,
  boundsVerdict,
  differingSettings,
  isDecidedSooner,
  isUnknown,
  nameOf,
  plainCut,
} from '../../wording/index.js';
import { cautionWords } from '../layout/caution.js';
import type { Paint } from '../layout/paint.js';
import { paragraphText, type Row, tableText } from '../layout/table-text.js';

/** The most columns of a name at the head of a column. */
const mostNameColumns = 24;
/** The columns that labels and one watch take at least, with what stands between. */
const leastLabelColumns = 24;
const leastWatchColumns = 14;

export function* boundsComparison(
  views: readonly BoundsView[],
  width: number,
  paint: Paint,
): Generator<string> {
  const different = differingRows(views);
  for (const view of views) {
    const verdict = boundsVerdict(view, paint);
    yield paragraphText(`${paint.bold(plainCut(nameOf(view), 200))}: ${verdict}.`, width);
  }
  yield `\n${paint.bold('Settings that differ')}\n`;
  if (different.length === 0) yield '  none\n';
  else yield* tables(views, different, width);
  yield `\n${paint.bold('What each watch guarantees')}\n`;
  yield* tables(views, boundRows(views, paint), width);
  yield `\n${paragraphText(paint.dim(cautionWords), width)}`;
}

/** Rows with a column for each watch; more watches than fit are shown in further tables below. */
function* tables(
  views: readonly BoundsView[],
  rows: readonly Row[],
  width: number,
): Generator<string> {
  const atOnce = Math.max(1, Math.floor((width - leastLabelColumns) / leastWatchColumns));
  for (let from = 0; from < views.length; from += atOnce) {
    const shown = views.slice(from, from + atOnce);
    const titles = shown.map((view) => ({ title: plainCut(nameOf(view), mostNameColumns) }));
    const part = rows.map(({ cells: [label = '', ...cells] }) => ({
      cells: [label, ...cells.slice(from, from + atOnce)],
      below: [],
    }));
    if (from > 0) yield '\n';
    yield* tableText([{ title: '' }, ...titles], part, width);
  }
}

function differingRows(views: readonly BoundsView[]): readonly Row[] {
  const files = views.map(({ watchFile }) => watchFile);
  return differingSettings(files).map(({ key, texts }) => ({ cells: [key, ...texts], below: [] }));
}

function boundRows(views: readonly BoundsView[], paint: Paint): readonly Row[] {
  const row = (name: string, cellOf: (view: BoundsView) => string): Row => ({
    cells: [name, ...views.map(cellOf)],
    below: [],
  });
  const time =
    (name: BoundName, limit: string, msOf: (bounds: BoundsView['bounds']) => number | null) =>
    ({ bounds }: BoundsView): string => {
      if (isUnknown(bounds, name)) return 'unknown';
      const ms = msOf(bounds);
      return ms === null ? limit : durationText(ms);
    };
  return [
    row(
      'D: sure from, at rest',
      time('alwaysReportedFromMs.atRest', 'never', (b) => b.alwaysReportedFromMs.atRest),
    ),
    row(
      'D from any state',
      time('alwaysReportedFromMs.anyState', 'never', (b) => b.alwaysReportedFromMs.anyState),
    ),
    ...(['atRest', 'anyState'] as const)
      .filter((from) => views.some(({ bounds }) => isDecidedSooner(bounds, from)))
      .map((from) =>
        row(
          from === 'atRest' ? 'D decided, at rest' : 'D decided, from any state',
          time(`alwaysDecidedFromMs.${from}`, 'never', (b) => b.alwaysDecidedFromMs[from]),
        ),
      ),
    row(
      'Q: quiet up to',
      time('neverAlarmedUpToMs', 'any length', (b) => b.neverAlarmedUpToMs),
    ),
    row(
      'L max: worst latency, at rest',
      time('worstDelayMs.atRest', 'no limit', (b) => b.worstDelayMs.atRest),
    ),
    row(
      'L max from any state',
      time('worstDelayMs.anyState', 'no limit', (b) => b.worstDelayMs.anyState),
    ),
    row(
      'L min: best latency',
      time('bestDelayMs', '–', (b) => b.bestDelayMs),
    ),
    row('A: openings that look like one', ({ bounds }) =>
      isUnknown(bounds, 'aliasing')
        ? 'unknown'
        : bounds.aliasing === null
          ? 'none'
          : String(bounds.aliasing.openings),
    ),
    ...(['leaveOpenAfter', 'reportWithin', 'quietUpTo'] as const).flatMap((key) => {
      const asked = views.map((view) => askedFor(view).find((one) => one.key === key));
      if (asked.every((one) => one === undefined)) return [];
      const cells = asked.map((one) => (one === undefined ? 'not required' : keptText(one, paint)));
      return [{ cells: [`${key} met`, ...cells], below: [] }];
    }),
  ];
}

/** `yes`, `NO`, or `yes, at rest`. */
function keptText({ atRest, anyState }: AskedFor, paint: Paint): string {
  if (atRest === null) return paint.doubtful('unknown');
  if (atRest === 'not shown') return paint.doubtful(atRest);
  if (!atRest) return paint.bad('NO');
  if (anyState === undefined || anyState === true) return paint.good('yes');
  return `${paint.good('yes')}, ${paint.doubtful('at rest')}`;
}
