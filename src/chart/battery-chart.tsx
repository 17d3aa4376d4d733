// From the answer on a battery to the text of a picture: where the charge goes, and life against check interval.
import { chargeText, currentText, lifeText, shareText } from '../battery/index.js';
import { chargePanel } from './battery/charge-panel.js';
import { lifePanel } from './battery/life-panel.js';
import { type BatteryInput, chargeRows } from './battery/scene.js';
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
  const title = `Where the charge of ${fileNameOf(file)} goes`;
  const preset = supply.preset === null ? '' : ` · preset ${supply.preset.name}`;
  const subtitle = `${chargeText(supply.capacityNah)}, ${shareText(supply.usablePpm)} usable${preset} · estimates from the currents given`;
  const life = lifePanel(answer.intervals, fullPx);
  const blocks = [
    ...(bare ? [] : [headOf({ title, subtitles: [subtitle], figures: figuresOf(input) }, fullPx)]),
    chargePanel(chargeRows(answer), fullPx),
    ...(life === null ? [] : [life]),
    ...(bare ? [] : [lineOf(cutText(`dozewatch · ${fileNameOf(file)}`, fullPx, { sizePx: 11 }))]),
  ];
  return documentText(
    <Sheet
      title={title}
      description={`At a door that nobody opens a charge lasts ${lifeText(quiet.lifeMs)}, at ${currentText(quiet.meanNa)} on average.`}
      theme={themes[options.theme ?? 'light']}
      widthPx={widthPx}
      blocks={blocks}
      bare={bare}
    />,
  );
}

function figuresOf({ answer }: BatteryInput): readonly Figure[] {
  const { quiet, hold, low } = answer;
  const figure = (name: string, value: string): Figure => ({
    name,
    value,
    alarm: null,
    late: false,
    share: 1,
  });
  return [
    figure('a charge lasts', lifeText(quiet.lifeMs)),
    figure('mean current', currentText(quiet.meanNa)),
    figure('warn of a low battery at', low === null ? 'never in time' : shareText(low.leftPpm)),
    ...(hold === null ? [] : [figure('awake until reset, flat in', lifeText(hold.lastsMs))]),
  ];
}
