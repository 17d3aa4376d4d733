// The empty rows of an overview: bands, labels, the hours or days across, and the borders of months.
import type { VNode } from 'preact';
import { clockText, dateText, dayMs, type LocalDay, monthText, weekdayText } from '../calendar.js';
import { Bar, Shape, Words } from '../drawing.js';
import { countText, px } from '../numbers.js';
import { acrossPx, type Geometry, isThin } from './geometry.js';
import { holesOf, type Row, type Rows } from './rows.js';

export function Frame({
  geometry,
  openingsInRow,
}: {
  readonly geometry: Geometry;
  readonly openingsInRow: (row: Row) => number;
}): VNode {
  const { rows, rowPx, barY, barPx, plotPx } = geometry;
  return (
    <g>
      {rows.rows.map((row) => (
        <Bar
          x={0}
          y={row.index * rowPx + barY}
          width={plotPx}
          height={barPx}
          class="dw-panel"
          title={rowTitle(row)}
        />
      ))}
      <Holes geometry={geometry} />
      {rows.unit === 'day' ? <RepeatedHours geometry={geometry} /> : null}
      <Grid geometry={geometry} />
      {rows.unit === 'week' ? <MonthBorders geometry={geometry} /> : null}
      {rows.rows.map((row) => (
        <RowLabel geometry={geometry} row={row} count={openingsInRow(row)} />
      ))}
    </g>
  );
}

function rowTitle({ days }: Row): string {
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return '';
  return first === last ? dateText(first) : `${dateText(first)} to ${dateText(last)}`;
}

/** Before the timeline, after it, and the hour that a clock change leaves out. */
function Holes({ geometry }: { readonly geometry: Geometry }): VNode {
  const { rows, rowPx, barY, barPx } = geometry;
  return (
    <g>
      {rows.rows.flatMap((row) =>
        holesOf(rows, row).map((hole) => (
          <>
            <Bar
              {...acrossPx(geometry, hole, 0.5)}
              y={row.index * rowPx + barY}
              height={barPx}
              class="dw-paper"
            />
            <Bar
              {...acrossPx(geometry, hole, 0.5)}
              y={row.index * rowPx + barY}
              height={barPx}
              class="dw-void"
              title={holeTitle(rows, row, hole)}
            />
          </>
        )),
      )}
    </g>
  );
}

/** Where the clocks go back, an hour is there twice: its first pass above the line, its second below. */
function RepeatedHours({ geometry }: { readonly geometry: Geometry }): VNode {
  const { rows, rowPx, barY, barPx } = geometry;
  return (
    <g>
      {rows.rows.flatMap((row) =>
        row.stretches
          .filter(({ half }) => half === 'upper')
          .map(({ acrossMs, fromMs, toMs }) => {
            const from = acrossMs / rows.acrossMs;
            const to = (acrossMs + toMs - fromMs) / rows.acrossMs;
            const { x, width } = acrossPx(geometry, { from, to }, 1);
            const top = px(row.index * rowPx + barY);
            const d = `M${x} ${top}v${px(barPx)}M${px(x + width)} ${top}v${px(barPx)}M${x} ${px(top + barPx / 2)}h${width}`;
            return <Shape class="dw-repeated" d={d} title="this hour is there twice" />;
          }),
      )}
    </g>
  );
}

/** Holes are what lies before and after the timeline, and the hour that the clocks leave out. */
function holeTitle(
  { rows }: Rows,
  row: Row,
  { from, to }: { readonly from: number; readonly to: number },
): string {
  const before = row.index === 0 && from === 0;
  const after = row.index === rows.length - 1 && to === 1;
  return before || after ? 'not part of the timeline' : 'no such time: the clocks go forward';
}

function Grid({ geometry }: { readonly geometry: Geometry }): VNode {
  const { rows, rowPx, plotPx, countPx } = geometry;
  const foot = px(rows.rows.length * rowPx);
  const byWeek = rows.unit === 'week';
  const hours = plotPx < 300 ? 12 : plotPx < 560 ? 6 : 3;
  const steps = byWeek ? 7 : 24 / hours;
  const at = (step: number): number => (step / steps) * plotPx;
  const lines = Array.from({ length: steps + 1 }, (_, step) => `M${px(at(step))} -3V${foot}`);
  return (
    <g>
      <Shape class="dw-rule" d={lines.join('')} />
      {Array.from({ length: byWeek ? 7 : steps + 1 }, (_, step) => (
        <Words x={at(step) + (byWeek ? plotPx / 14 : 0)} y={-8} anchor="middle" class="dw-soft">
          {byWeek ? weekdayText({ weekday: step }) : clockText(step * hours * 3_600_000, 'minute')}
        </Words>
      ))}
      {isThin(geometry) || countPx < 60 ? null : (
        <Words x={plotPx + countPx - 2} y={-8} anchor="end" class="dw-soft">
          openings
        </Words>
      )}
    </g>
  );
}

function RowLabel({
  geometry,
  row,
  count,
}: {
  readonly geometry: Geometry;
  readonly row: Row;
  readonly count: number;
}): VNode | null {
  const { rows, rowPx, barY, barPx, plotPx, fontPx, countPx, roomy } = geometry;
  // Then the count takes all the room beside the plot.
  const isNarrow = countPx < 60;
  const y = row.index * rowPx + barY + barPx / 2 + fontPx * 0.36;
  const [day] = row.days;
  if (day === undefined) return null;
  const { words, strong } =
    rows.unit === 'day' ? dayLabel(row, day) : weekLabel(day, rows.rows[row.index - 1]);
  const change = rows.unit === 'day' ? changeWords(day) : '';
  const thin = isThin(geometry);
  if (thin && !strong) return null;
  return (
    <g>
      <Words x={-10} y={y} anchor="end" size={fontPx} class={strong ? 'dw-bold' : 'dw-soft'}>
        {words}
      </Words>
      {thin ? null : (
        <Words x={plotPx + countPx - 2} y={y} anchor="end" size={fontPx} class="dw-soft">
          {countText(count)}
        </Words>
      )}
      {change === '' || (isNarrow && !roomy) ? null : (
        <Words x={plotPx + 6} y={isNarrow ? y + 14 : y} size={fontPx} class="dw-bold">
          {change}
        </Words>
      )}
    </g>
  );
}

function dayLabel(row: Row, day: LocalDay): { readonly words: string; readonly strong: boolean } {
  const strong = row.index === 0 || day.dayOfMonth === 1;
  const month = strong ? ` ${monthText(day)}` : '';
  return { words: `${weekdayText(day)} ${day.dayOfMonth}${month}`, strong };
}

/** A week is named by its first day; the first to begin in a month stands out. */
function weekLabel(
  day: LocalDay,
  before: Row | undefined,
): { readonly words: string; readonly strong: boolean } {
  const strong = before?.days[0]?.month !== day.month;
  const year = before === undefined || (day.month === 1 && strong) ? ` ${day.year}` : '';
  return { words: `${day.dayOfMonth} ${monthText(day)}${year}`, strong };
}

/** `23 h` or `25 h` for a day on which the clocks are changed. */
function changeWords({ fromMs, pieces }: LocalDay): string {
  const [first, second] = pieces;
  if (first === undefined) return '';
  // Some zones change their clocks at midnight, so that a day begins at 01:00.
  const lateMs = fromMs > 0 ? fromMs + first.shiftMs : 0;
  const skippedMs = lateMs + (second === undefined ? 0 : second.shiftMs - first.shiftMs);
  return skippedMs === 0 ? '' : `${String((dayMs - skippedMs) / 3_600_000)} h`;
}

/** Steps around the first day of each month. */
function MonthBorders({ geometry }: { readonly geometry: Geometry }): VNode {
  const { rows, rowPx, plotPx } = geometry;
  const steps = rows.rows.flatMap((row) =>
    row.days
      .filter((day) => day.dayOfMonth === 1)
      .map(({ weekday }) => {
        const x = px((weekday / 7) * plotPx);
        const top = px(row.index * rowPx);
        const foot = px((row.index + 1) * rowPx);
        return `M0 ${foot}H${x}V${top}H${px(plotPx)}`;
      }),
  );
  return <Shape class="dw-month" d={steps.join('')} />;
}
