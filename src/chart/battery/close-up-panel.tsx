// One wake close up: the currents themselves on a scale of powers of ten, on which those asleep and those of a send are
// both seen. Area is no charge here, so each act has its charge written beside it.
import { scaleLinear, scaleLog } from 'd3-scale';
import { durationText, greatestOf, leastOf } from '../../base/index.js';
import { chargeText, currentText } from '../../battery/index.js';
import { DurationAxis } from '../detection/axes.js';
import { Bar, type Block } from '../drawing.js';
import { panelTitle } from '../page/panel-title.js';
import { printable, wrapText } from '../text.js';
import type { CloseUp } from './day.js';
import { activityLooks, nahOfPc } from './day-panel.js';
import { activityWords } from './scene.js';
import { type Entry, plotRoom, sidePanel } from './side-column.js';
import type { Stretch } from './stretches.js';

const plotPx = 120;
const columnPx = 330;
const leastBesidePx = 820;
/** Asleep, before and after. */
const asleepPx = 26;

export function closeUpPanel(
  { name, steps }: CloseUp,
  { sleepNa, fullPx }: { readonly sleepNa: number; readonly fullPx: number },
): Block {
  const room = plotRoom(fullPx, { columnPx, leastBesidePx });
  const { widthPx } = room;
  const endMs = greatestOf(steps.map(({ toMs }) => toMs));
  const x = scaleLinear([0, endMs], [asleepPx, widthPx - asleepPx]);
  const { y, ticks } = powersOfTen(steps, sleepNa);
  const title = panelTitle(printable(name), fullPx);
  const caption = wrapText(
    'Each line is ten times the one below it, so area is not charge here.',
    fullPx,
    { font: { sizePx: 11 }, mostLines: 2 },
  );
  const asleep = sleepNa > 0 ? plotPx - y(sleepNa) : 0;
  const plot = (
    <>
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
    </>
  );
  const entries = entriesOf(steps, sleepNa);
  return sidePanel({ title, caption, entries, plotPx, ticks, plot }, room);
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
