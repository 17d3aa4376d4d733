// From the answer on a battery to the text of a picture: where the charge goes, and life against check interval.
import { greatestOf, leastOf } from '../base/index.js';
import {
  chargeText,
  currentText,
  lifeRangeText,
  lifeText,
  usableText,
  warningPercent,
} from '../battery/index.js';
import { renewalOf } from '../wording/index.js';
import { chargePanel } from './battery/charge-panel.js';
import { closeUpPanel } from './battery/close-up-panel.js';
import { costliestDay, quietDay } from './battery/day.js';
import { dayPanel, peakNa } from './battery/day-panel.js';
import { lifePanel } from './battery/life-panel.js';
import { type BatteryInput, chargeRows } from './battery/scene.js';
import type { Block } from './drawing.js';
import type { Figure } from './page/figures.js';
import { headOf } from './page/head.js';
import { documentText, innerPx, lineOf, Sheet, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { cutText, fileNameOf } from './text.js';
import { type PictureTheme, themes } from './theme.js';

export interface BatteryChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Without title, figures, foot and margin: for a page that says them itself. */
  readonly bare?: boolean | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
}

/** Draws the answer on a battery as a whole SVG document, the same bytes every time. */
export function batteryChart(
  input: BatteryInput & { readonly options?: BatteryChartOptions | undefined },
): string {
  const { answer, file, options = {} } = input;
  const widthPx = sheetWidthPx(options.widthPx ?? usualWidthPx, options.bare);
  const bare = options.bare === true;
  const fullPx = innerPx(widthPx, bare);
  const { supply, quiet } = answer;
  const { lasts } = renewalOf(supply);
  const title = `Where the charge of ${fileNameOf(file)} goes`;
  const preset = supply.preset === null ? '' : ` · preset ${supply.preset.name}`;
  const subtitle = `${chargeText(supply.capacityNah)}, ${usableText(supply)}${preset} · estimates from the currents given`;
  const rows = chargeRows(input);
  const life = lifePanel(answer, fullPx);
  const blocks = [
    ...(bare ? [] : [headOf({ title, subtitles: [subtitle], figures: figuresOf(input) }, fullPx)]),
    ...dayPanels(input, fullPx),
    ...(rows.length === 0 ? [] : [chargePanel(rows, fullPx)]),
    ...(life === null ? [] : [life]),
    ...(bare ? [] : [lineOf(cutText(`dozewatch · ${fileNameOf(file)}`, fullPx, { sizePx: 11 }))]),
  ];
  return documentText(
    <Sheet
      title={title}
      description={`At a door that nobody opens ${lasts} ${lifeRangeText(quiet)}, at ${currentText(quiet.meanNa)} on average.`}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={bare}
    />,
  );
}

/** Days of one scale, unless one of them is so much higher that nothing would be seen of the other. */
const mostTimesHigher = 8;

function dayPanels({ answer, runs = [] }: BatteryInput, fullPx: number): readonly Block[] {
  const { quiet, supply, timelines } = answer;
  const days = [quietDay(quiet), ...runs.map((run) => costliestDay(run, supply))];
  const peaks = days.map(peakNa);
  const most = greatestOf(peaks);
  const isShared = most <= mostTimesHigher * leastOf(peaks);
  const { lasts } = renewalOf(supply);
  const lives = [quiet, ...timelines.map(({ cost }) => cost)].map(lifeRangeText);
  const panels = days.map((day, index) => {
    const use = index === 0 ? 'At this use' : 'At the use of the whole timeline';
    const scale = isShared ? '' : ' The days here have different scales.';
    return dayPanel(day, {
      mostNa: isShared ? most : (peaks[index] ?? most),
      fullPx,
      lasts: `${use} ${lasts} ${lives[index] ?? ''}.${scale}`,
    });
  });
  const closeUp = (days.at(-1) ?? null)?.closeUp ?? null;
  return closeUp === null
    ? panels
    : [...panels, closeUpPanel(closeUp, { sleepNa: supply.sleepNa, fullPx })];
}

function figuresOf({ answer }: BatteryInput): readonly Figure[] {
  const { quiet, hold, low, supply } = answer;
  const figure = (name: string, value: string): Figure => ({
    name,
    value,
    alarm: null,
    late: false,
    share: 1,
  });
  return [
    figure(renewalOf(supply).lasts, lifeRangeText(quiet)),
    figure('mean current', currentText(quiet.meanNa)),
    figure(
      'warn at, of the usable charge',
      low === null ? 'never in time' : `${warningPercent(low.usableLeftPpm)} %`,
    ),
    ...(hold === null ? [] : [figure('awake until reset, flat in', lifeText(hold.lastsMs))]),
  ];
}
