// One wake close up: the currents themselves on a scale of powers of ten, on which those asleep and those of a send are
// both seen. Area is no charge here, so each act has its charge written beside it.
import { scaleLinear, scaleLog } from 'd3-scale';
import { durationText, greatestOf, leastOf } from '../../base/index.js';
import { chargeText, currentText } from '../../battery/index.js';
import { DurationAxis, ShareAxis, sideWordsPx } from '../detection/axes.js';
import { At, Bar, type Block, Words } from '../drawing.js';
import { panelTitle } from '../page/panel-title.js';
import { printable, wrapText } from '../text.js';
import type { CloseUp } from './day.js';
import { activityLooks, nahOfPc } from './day-panel.js';
import { activityWords } from './scene.js';
import { type Entry, entriesColumn } from './side-column.js';
import type { Stretch } from './stretches.js';

const plotPx = 120;
const axisPx = 22;
const columnPx = 330;
const leastBesidePx = 820;
/** Asleep, before and after. */
const asleepPx = 26;

export function closeUpPanel(
  { name, steps }: CloseUp,
  { sleepNa, fullPx }: { readonly sleepNa: number; readonly fullPx: number },
): Block {
  const isBeside = fullPx >= leastBesidePx;
  const widthPx = fullPx - sideWordsPx - (isBeside ? columnPx : 0);
  const endMs = greatestOf(steps.map(({ toMs }) => toMs));
  const x = scaleLinear([0, endMs], [asleepPx, widthPx - asleepPx]);
  const { y, ticks } = powersOfTen(steps, sleepNa);
  const title = panelTitle(printable(name), fullPx);
  const caption = wrapText(
    'Each line up is a higher power of ten, so area is not charge here.',
    fullPx,
    { font: { sizePx: 11 }, mostLines: 2 },
  );
  const topY = title.height + caption.length * 15 + 8;
  const column = entriesColumn(
    entriesOf(steps, sleepNa),
    isBeside ? columnPx - 24 : fullPx - sideWordsPx,
  );
  const columnAt = isBeside
    ? { x: sideWordsPx + widthPx + 24, y: topY + 2 }
    : { x: sideWordsPx, y: topY + plotPx + axisPx + 8 };
  const asleep = sleepNa > 0 ? plotPx - y(sleepNa) : 0;
  return {
    height: Math.max(topY + plotPx + axisPx, columnAt.y + column.height),
    node: (
      <g>
        {title.node}
        {caption.map((line, index) => (
          <Words x={0} y={title.height + 6 + index * 15} class="dw-soft">
            {line}
          </Words>
        ))}
        <At x={sideWordsPx} y={topY}>
          <Bar x={0} y={0} width={widthPx} height={plotPx} class="dw-panel" />
          <ShareAxis ticks={ticks} widthPx={widthPx} />
          {[0, x(endMs)].map((from) => (
            <Bar
              x={from}
              y={plotPx - asleep}
              width={asleepPx}
              height={asleep}
              class={activityLooks.sleep}
            />
          ))}
          {steps.map((step) => (
            <Bar
              x={x(step.fromMs)}
              y={y(currentOf(step))}
              width={Math.max(1, x(step.toMs) - x(step.fromMs))}
              height={plotPx - y(currentOf(step))}
              class={activityLooks[step.activity]}
              title={activityWords[step.activity]}
            />
          ))}
          <DurationAxis toMs={endMs} x={x} widthPx={widthPx} y={plotPx} topY={plotPx} />
        </At>
        <At {...columnAt}>{column.node}</At>
      </g>
    ),
  };
}

function powersOfTen(steps: readonly Stretch[], sleepNa: number) {
  const currents = steps.map(currentOf);
  const lowest = 10 ** Math.floor(Math.log10(leastOf([...currents, Math.max(1, sleepNa)])) - 0.01);
  const highest = 10 ** Math.ceil(Math.log10(greatestOf(currents)));
  const y = scaleLog([lowest, highest], [plotPx, 0]);
  const decades = Math.round(Math.log10(highest / lowest));
  const every = Math.ceil(decades / 5);
  const ticks = Array.from({ length: Math.floor(decades / every) + 1 }, (_, index) => {
    const na = lowest * 10 ** (index * every);
    return { y: y(na), words: currentText(Math.round(na)) };
  });
  return { y, ticks };
}

function currentOf({ chargePc, fromMs, toMs }: Stretch): number {
  return Math.max(1, chargePc / (toMs - fromMs));
}

function entriesOf(steps: readonly Stretch[], sleepNa: number): readonly Entry[] {
  const asleep: Entry = {
    look: activityLooks.sleep,
    words: activityWords.sleep,
    figure: currentText(sleepNa),
  };
  const acts = steps.map((step): Entry => {
    const { activity, fromMs, toMs, chargePc } = step;
    const current = currentText(Math.round(currentOf(step)));
    return {
      look: activityLooks[activity],
      words: activityWords[activity],
      figure: `${durationText(Math.round(toMs - fromMs))} at ${current}, ${chargeText(nahOfPc(chargePc))}`,
    };
  });
  return [...acts, asleep];
}
