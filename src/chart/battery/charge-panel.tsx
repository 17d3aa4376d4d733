// Where the charge goes: a bar an activity, all to one scale of charge a day.

import { scaleLinear } from 'd3-scale';
import { greatestOf } from '../../base/index.js';
import { chargeText, shareText } from '../../battery/index.js';
import { At, Bar, type Block, Words } from '../drawing.js';
import { cutText, printable, textWidth } from '../text.js';
import type { ChargeRow, ChargeRows } from './scene.js';

const titlePx = 24;
const rowPx = 20;
const barPx = 13;
const wordsPx = 150;
/** Room for the figures right of the longest bar. */
const figurePx = 170;
const gapPx = 18;

export function chargePanel(uses: readonly ChargeRows[], widthPx: number): Block {
  const most = Math.max(
    1,
    greatestOf(uses.flatMap(({ rows }) => rows.map(({ perDayNah }) => perDayNah))),
  );
  const x = scaleLinear([0, most], [0, widthPx - wordsPx - figurePx]);
  let height = 0;
  const placed = uses.map((use) => {
    const y = height;
    height += titlePx + use.rows.length * rowPx + gapPx;
    return { use, y };
  });
  return {
    height: Math.max(titlePx, height - gapPx),
    node: (
      <g>
        {placed.map(({ use, y }) => (
          <At y={y}>
            <Words x={0} y={12} size={13} class="dw-bold">
              {headOf(use, widthPx)}
            </Words>
            {use.rows.map((row, index) => (
              <At y={titlePx + index * rowPx}>{chargeBar(row, x)}</At>
            ))}
          </At>
        ))}
      </g>
    ),
  };
}

function headOf({ name, lasts }: ChargeRows, widthPx: number): string {
  const font = { sizePx: 13, bold: true };
  const fact = `: ${lasts}`;
  // A long name is cut, not what it is about.
  return cutText(printable(name), widthPx - textWidth(fact, font), font) + fact;
}

function chargeBar(row: ChargeRow, x: (perDayNah: number) => number) {
  const { words, perDayNah, sharePpm } = row;
  const width = Math.max(1, x(perDayNah));
  const figure = `${chargeText(perDayNah)} per day, ${shareText(sharePpm)}`;
  return (
    <g>
      <Words x={wordsPx - 10} y={barPx - 2} anchor="end" class="dw-soft">
        {words}
      </Words>
      <Bar
        x={wordsPx}
        y={0}
        width={width}
        height={barPx}
        class="dw-reported"
        title={`${words}: ${figure}`}
      />
      <Words x={wordsPx + width + 8} y={barPx - 2}>
        {figure}
      </Words>
    </g>
  );
}
