// From a judged timeline to the text of a picture.
import type { Explanation, Wanted } from '../verdict/index.js';
import type { LengthBar } from '../wording/index.js';
import { chooseCloseUps, lookedAt } from './close-ups.js';
import type { Note } from './page/head.js';
import { titleWords } from './page/heading.js';
import { Page } from './page/page.js';
import { documentText, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { type ChartInput, sceneOf } from './scene.js';
import { type PictureTheme, themes } from './theme.js';

export interface ChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. Its height follows from what it shows. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
  /** The most leave-opens and alerts that are shown close up; default 6. The worst ones are. */
  readonly closeUps?: number | undefined;
  /** In place of the timeline's name. */
  readonly title?: string | undefined;
  /** Reasons of the verdict, for the close-ups. */
  readonly explanations?: readonly Explanation[] | undefined;
  /** What is proved of the watch, below what the picture is of. */
  readonly note?: Note | undefined;
  /** The bar of lengths, below the verdict; undefined: nothing is proved of it. */
  readonly bar?: LengthBar | undefined;
  /** The watch file, as a picture names it; undefined: it is not named. */
  readonly watchName?: string | undefined;
}

const usualCloseUps = 6;

/**
 * Draws a judged timeline as a whole SVG document, the same bytes every time. Its text asks for Inter first.
 * @throws InvariantError when trace, verdict and timeline do not belong together.
 */
export function timelineChart(
  input: ChartInput & { readonly options?: ChartOptions | undefined },
): string {
  const { options = {} } = input;
  const { explanations = [], widthPx = usualWidthPx } = options;
  const scene = sceneOf(input, explanations);
  const settings = {
    title: titleWords(scene, options.title),
    theme: themes[options.theme ?? 'light'],
    widthPx: sheetWidthPx(widthPx),
    mostCloseUps: closeUpsOf(options),
    note: options.note ?? null,
    bar: options.bar ?? null,
    watchName: options.watchName ?? null,
  };
  return documentText(<Page scene={scene} settings={settings} />);
}

function closeUpsOf({ closeUps = usualCloseUps }: ChartOptions): number {
  return Math.max(0, Math.floor(closeUps));
}

/**
 * Which wakes a picture of a run looks at: `simulate` need record no others. Years of a device that wakes each second have
 * millions, and a picture shows a few hundred of them.
 * @param input.trace of the same run, with or without its wakes.
 */
export function wakesToRecord(
  input: ChartInput & { readonly options?: ChartOptions | undefined },
): 'all' | readonly (readonly [fromMs: number, toMs: number])[] {
  return lookedAt(sceneOf(input, []), closeUpsOf(input.options ?? {})) ?? 'all';
}

/** Of which openings and alerts a picture of a run shows the reason: of those that it shows close up. */
export function reasonsToShow(
  input: ChartInput & { readonly options?: ChartOptions | undefined },
): Wanted {
  const { closeUps } = chooseCloseUps(sceneOf(input, []), closeUpsOf(input.options ?? {}));
  const shown = new Set(
    closeUps.flatMap(({ opening, alerts }) => [
      ...(opening === null ? [] : [`opening ${opening}`]),
      ...alerts.map((index) => `alert ${index}`),
    ]),
  );
  return ({ kind, index }) => shown.has(`${kind} ${index}`);
}
