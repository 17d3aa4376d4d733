// The data sheet of a watch for a terminal.
import { type BoundsView, sheetRows } from '../../wording/index.js';
import type { Paint } from '../layout/paint.js';
import { type Row, tableText } from '../layout/table-text.js';

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
