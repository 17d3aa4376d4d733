// The comb of checks under an opening, at five positions one below the other, and all positions as one bar.
import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import { counted, durationText, roundedDurationText, sideText } from '../../base/index.js';
import { At, Bar, type Block, Shape, type TimeScale, Words } from '../drawing.js';
import { px } from '../numbers.js';
import { panelTitle } from '../page/panel-title.js';
import { textWidth } from '../text.js';
import { type Comb, type CombPosition, combAt, insideMs } from './comb.js';

const rowPx = 34;
const doorPx = 12;
const toothPx = 10;
const barPx = 14;
export const allPx = 46;
/** Right of the rows, for what becomes of the opening. */
export const outcomePx = 215;
const positions = 5;

export function combPanel(comb: Comb, fullPx: number): Block {
  const plotPx = fullPx - outcomePx;
  const x = combScale(comb, plotPx);
  const every = durationText(comb.periodMs);
  const needs = counted(comb.teeth, 'tooth', 'teeth');
  const inside = insideMs(comb);
  const within = inside === null ? '' : ` (${durationText(inside)} after one inside the opening)`;
  const title = panelTitle(
    `Why: the checks are a comb with a tooth every ${every}${within}, and an alert needs ${needs} inside ${inside === null ? 'the opening' : 'it'}`,
    fullPx,
  );
  return {
    height: title.height + positions * rowPx + allPx,
    node: (
      <g>
        {title.node}
        {Array.from({ length: positions }, (_, index) => {
          const firstMs = Math.floor((comb.periodMs * (2 * index + 1)) / (2 * positions));
          return (
            <At x={0} y={title.height + index * rowPx}>
              <CombRow comb={comb} firstMs={firstMs} x={x} />
            </At>
          );
        })}
        <At x={0} y={title.height + positions * rowPx + 6}>
          <AllPositions comb={comb} widthPx={fullPx} />
        </At>
      </g>
    ),
  };
}

/** Room for a tooth before the opening and one after it. */
export function combScale({ lengthMs, periodMs }: Comb, widthPx: number): TimeScale {
  return scaleLinear([-1.1 * periodMs, lengthMs + 1.1 * periodMs], [0, widthPx - 12]);
}

/** One position of the comb, with what becomes of the opening there. */
export function CombRow({
  comb,
  firstMs,
  x,
  withWords = true,
}: {
  readonly comb: Comb;
  readonly firstMs: number;
  readonly x: TimeScale;
  /** False where they have no room on the right, and stand elsewhere. */
  readonly withWords?: boolean;
}): VNode {
  const untilMs = comb.lengthMs + 1.1 * comb.periodMs;
  const position = combAt(comb, firstMs, untilMs);
  const isMissed = position.decidedMs === null;
  const fromPx = x(0);
  const spine = doorPx + 3;
  return (
    <g>
      <Bar
        x={fromPx}
        y={0}
        width={x(comb.lengthMs) - fromPx}
        height={doorPx}
        class={isMissed ? 'dw-comb-missed' : 'dw-comb-reported'}
        title={`open for ${durationText(comb.lengthMs)}`}
      />
      <Shape class="dw-axis" d={`M0 ${px(spine)}H${px(x(untilMs))}`} />
      {position.checksMs
        .filter((ms) => x(ms) >= 0)
        .map((ms) => (
          <Tooth atMs={ms} position={position} comb={comb} x={x} spine={spine} />
        ))}
      {withWords && (
        <Words
          x={x(untilMs) + 14}
          y={doorPx + 5}
          class={isMissed ? 'dw-bold dw-t-missed' : 'dw-soft'}
        >
          {outcomeWords(comb, position)}
        </Words>
      )}
    </g>
  );
}

function Tooth(props: {
  readonly atMs: number;
  readonly position: CombPosition;
  readonly comb: Comb;
  readonly x: TimeScale;
  readonly spine: number;
}): VNode {
  const { atMs, position, comb, x, spine } = props;
  const inside = atMs >= 0 && atMs < comb.lengthMs;
  const decides = atMs === position.decidedMs;
  const width = inside ? 4 : 2;
  return (
    <Bar
      x={x(atMs) - width / 2}
      y={spine}
      width={width}
      height={decides ? toothPx + 4 : toothPx}
      class={inside ? 'dw-check-run-open' : 'dw-check-run-shut'}
      title={inside ? 'a check that reads open' : 'a check that reads shut'}
    />
  );
}

function outcomeWords({ teeth }: Comb, { inside, decidedMs }: CombPosition): string {
  if (decidedMs === null) return `${String(inside)} of ${String(teeth)} inside: missed`;
  return `${String(teeth)} of ${String(teeth)} inside: alert at ${roundedDurationText(decidedMs)}`;
}

/** Every position of the comb, each as likely as any other: those that report the opening, and those that miss it. */
export function AllPositions({
  comb,
  widthPx,
  atShare,
}: {
  readonly comb: Comb;
  readonly widthPx: number;
  /** Marks one position: 0 is a check just as the door opens. */
  readonly atShare?: number;
}): VNode {
  const { reportedShare, lengthMs } = comb;
  const cut = widthPx * reportedShare;
  const reported = `reported: ${sideText(reportedShare, 'down')}`;
  const missed = `missed: ${sideText(1 - reportedShare, 'up')}`;
  const bold = { sizePx: 11, bold: true };
  return (
    <g>
      <Words x={0} y={11} class="dw-soft">
        {`All positions of the comb, each equally likely, for an opening of ${durationText(lengthMs)}`}
      </Words>
      {cut > 0 ? (
        <Bar x={0} y={18} width={cut} height={barPx} class="dw-comb-reported" title={reported} />
      ) : null}
      {cut < widthPx ? (
        <Bar
          x={cut}
          y={18}
          width={widthPx - cut}
          height={barPx}
          class="dw-comb-missed"
          title={missed}
        />
      ) : null}
      {atShare === undefined ? null : (
        <Shape class="dw-worst-line" d={`M${px(atShare * widthPx)} 15V${18 + barPx + 3}`} />
      )}
      {cut < textWidth(reported, bold) ? null : (
        <Words x={0} y={18 + barPx + 13} class="dw-bold dw-t-reported">
          {reported}
        </Words>
      )}
      {widthPx - cut < textWidth(missed, bold) ? null : (
        <Words x={widthPx} y={18 + barPx + 13} anchor="end" class="dw-bold dw-t-missed">
          {missed}
        </Words>
      )}
    </g>
  );
}
