// The days of a timeline, to press: a row opens in place to the strip of its day. A timeline of about a day is one strip.
import type { VNode } from 'preact';
import { useMemo, useRef, useState } from 'preact/hooks';
import { dateText } from '../calendar.js';
import { chooseCloseUps, longestStripMs } from '../close-ups.js';
import { counted } from '../numbers.js';
import { type Overview, openingsIn, overview, overviewHeadPx } from '../overview/overview.js';
import type { Row } from '../overview/rows.js';
import { legend } from '../page/legend.js';
import type { Scene } from '../scene.js';
import { type LiveProps, LiveTimeline } from './live-timeline.js';
import { useWidth } from './use-width.js';

/** So that a finger meets it. */
const leastRowPx = 24;

interface CalendarProps extends LiveProps {
  /** The row of the worst finding is open at first, or the first row where nothing was found. Default: none is. */
  readonly opensWorst?: boolean;
}

export function LiveCalendar(props: CalendarProps): VNode {
  return props.scene.lengthMs <= longestStripMs ? <LiveTimeline {...props} /> : <Days {...props} />;
}

function Days({ scene, name, onDraw, opensWorst = false }: CalendarProps): VNode {
  const frame = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(frame);
  const whole = useMemo(() => overview(scene, widthPx, { leastRowPx }), [scene, widthPx]);
  const { rows, unit } = whole.geometry.rows;
  const [wanted, setOpen] = useState(() => (opensWorst ? worstRow(scene, rows) : null));
  const open = wanted !== null && wanted < rows.length ? wanted : null;
  const row = open === null ? undefined : rows[open];
  const [last, setLast] = useState(wanted ?? 0);
  const part = (from: number, to: number): VNode => (
    <RowsPart
      whole={whole}
      scene={scene}
      from={from}
      to={to}
      widthPx={widthPx}
      open={open}
      last={Math.min(last, rows.length - 1)}
      press={(index) => {
        setOpen(index === open ? null : index);
        setLast(index);
      }}
      goTo={(index) => {
        setLast(index);
        frame.current?.querySelector<HTMLElement>(`[data-row="${String(index)}"]`)?.focus();
      }}
    />
  );
  return (
    <div ref={frame} class="live-calendar" role="group" aria-label={`${name}, a row a ${unit}`}>
      {row === undefined || open === null ? (
        part(0, rows.length)
      ) : (
        <>
          {part(0, open + 1)}
          <div class="live-opened">
            <LiveTimeline
              key={open}
              scene={scene}
              name={`${name}, ${rowName(row)}`}
              onDraw={onDraw}
              start={row}
              startName={unit === 'day' ? 'Day' : 'Week'}
            />
          </div>
          {open + 1 < rows.length ? part(open + 1, rows.length) : null}
        </>
      )}
      <Legend whole={whole} widthPx={widthPx} />
    </div>
  );
}

function worstRow(scene: Scene, rows: readonly Row[]): number {
  const [worst] = chooseCloseUps(scene, 1).closeUps;
  if (worst === undefined) return 0;
  return Math.max(
    0,
    rows.findLastIndex(({ fromMs }) => fromMs <= worst.startMs),
  );
}

function Legend({ whole, widthPx }: { readonly whole: Overview; readonly widthPx: number }): VNode {
  const block = useMemo(() => legend(whole.kinds, widthPx), [whole, widthPx]);
  return (
    <svg
      class="dw live-legend"
      width={widthPx}
      height={block.height}
      role="img"
      aria-label="Legend"
    >
      {block.node}
    </svg>
  );
}

interface PartProps {
  readonly whole: Overview;
  readonly scene: Scene;
  readonly from: number;
  readonly to: number;
  readonly widthPx: number;
  readonly open: number | null;
  readonly last: number;
  readonly press: (index: number) => void;
  readonly goTo: (index: number) => void;
}

/** The rows of the whole picture from one to another, with a button over each. */
function RowsPart(props: PartProps): VNode {
  const { whole, scene, from, to, widthPx, open, last, press, goTo } = props;
  const { rowPx, rows } = whole.geometry;
  const topPx = from === 0 ? 0 : overviewHeadPx + from * rowPx;
  const headPx = from === 0 ? overviewHeadPx : 0;
  const heightPx = headPx + (to - from) * rowPx;
  const onKeyDown = (event: KeyboardEvent, index: number): void => {
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
    const next = index + step;
    if (step === 0 || next < 0 || next >= rows.rows.length) return;
    event.preventDefault();
    goTo(next);
  };
  return (
    <div class="live-rows" style={`height:${String(heightPx)}px`}>
      <svg
        class="dw"
        width={widthPx}
        height={heightPx}
        viewBox={`0 ${String(topPx)} ${String(widthPx)} ${String(heightPx)}`}
        aria-hidden="true"
      >
        {whole.node}
      </svg>
      {rows.rows.slice(from, to).map((row) => (
        <button
          type="button"
          class="live-row"
          data-row={row.index}
          style={`top:${String(headPx + (row.index - from) * rowPx)}px;height:${String(rowPx)}px`}
          aria-expanded={row.index === open}
          aria-label={`${rowName(row)}: ${rowWords(scene, row)}`}
          tabIndex={row.index === last ? 0 : -1}
          onClick={() => press(row.index)}
          onKeyDown={(event) => onKeyDown(event, row.index)}
        />
      ))}
    </div>
  );
}

function rowName({ days }: Row): string {
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return '';
  return first === last ? dateText(first) : `${dateText(first)} to ${dateText(last)}`;
}

/** What a row shows, in words: its openings, and how many went wrong. */
function rowWords(scene: Scene, row: Row): string {
  const { openings, alerts } = scene.verdict;
  const inRow = (ms: number): boolean => ms >= row.fromMs && ms < row.toMs;
  let missed = 0;
  let late = 0;
  for (const index of openings.leaveOpens) {
    const { outcome, fromMs } = openings.at(index);
    if (!inRow(fromMs)) continue;
    if (outcome === 'missed' || outcome === 'unpowered') missed += 1;
    if (outcome === 'late') late += 1;
  }
  const falseAlarms = alerts.filter(
    ({ kind, decidedMs }) => kind === 'false' && inRow(decidedMs),
  ).length;
  return [
    counted(openingsIn(scene, row), 'opening'),
    ...(missed > 0 ? [`${String(missed)} missed`] : []),
    ...(late > 0 ? [`${String(late)} late`] : []),
    ...(falseAlarms > 0 ? [counted(falseAlarms, 'false alarm')] : []),
  ].join(', ');
}
