// From a judged timeline to the text of a picture.
import { renderToString } from 'preact-render-to-string';
import type { Explanation } from '../verdict/index.js';
import { titleWords } from './page/heading.js';
import { Page } from './page/page.js';
import { type ChartInput, sceneOf } from './scene.js';
import { type ThemeName, themes } from './theme.js';

export interface ChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. Its height follows from what it shows. */
  readonly widthPx?: number | undefined;
  /** Default light. */
  readonly theme?: ThemeName | undefined;
  /** The most leave-opens and alerts that are shown close up; default 6. The worst ones are. */
  readonly closeUps?: number | undefined;
  /** In place of the timeline's name. */
  readonly title?: string | undefined;
  /** Reasons of the verdict, for the close-ups. */
  readonly explanations?: readonly Explanation[] | undefined;
}

const leastWidthPx = 560;
const mostWidthPx = 4_000;
const usualWidthPx = 1_120;
const usualCloseUps = 6;

/**
 * Draws a judged timeline as a whole SVG document, the same bytes every time. Its text asks for Inter first.
 * @throws InvariantError when trace, verdict and timeline do not belong together.
 */
export function timelineChart(
  input: ChartInput & { readonly options?: ChartOptions | undefined },
): string {
  const { options = {} } = input;
  const { explanations = [], widthPx = usualWidthPx, closeUps = usualCloseUps } = options;
  const scene = sceneOf(input, explanations);
  const settings = {
    title: titleWords(scene, options.title),
    theme: themes[options.theme ?? 'light'],
    widthPx: Math.round(Math.min(mostWidthPx, Math.max(leastWidthPx, widthPx))),
    mostCloseUps: Math.max(0, Math.floor(closeUps)),
  };
  const svg = renderToString(<Page scene={scene} settings={settings} />);
  // HTML lets "]]>" stand in text, XML does not.
  return `<?xml version="1.0" encoding="UTF-8"?>\n${svg.replaceAll(']]>', ']]&gt;')}\n`;
}
