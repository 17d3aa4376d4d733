// From the bounds of a watch to the text of a picture: its detection curve and its delay distribution.
import { DetectionPage } from './detection/page.js';
import { type DetectionInput, detectionScene } from './detection/scene.js';
import { documentText, sheetWidthPx, usualWidthPx } from './page/sheet.js';
import { fileNameOf, printable } from './text.js';
import { type PictureTheme, themes } from './theme.js';

export interface DetectionChartOptions {
  /** Width of the picture in pixels, 560 to 4000; default 1120. */
  readonly widthPx?: number | undefined;
  /** Without title, figures, foot and margin: for a page that says them itself. */
  readonly bare?: boolean | undefined;
  /** Default light. */
  readonly theme?: PictureTheme | undefined;
  /** In place of the watch file's name. */
  readonly title?: string | undefined;
}

/** Draws bounds as a whole SVG document, the same bytes every time. Its text asks for Inter first. */
export function detectionChart(
  input: DetectionInput & { readonly options?: DetectionChartOptions | undefined },
): string {
  const { options = {}, ...given } = input;
  const title = printable(options.title ?? `What you can rely on with ${fileNameOf(given.file)}`);
  const settings = {
    title,
    theme: themes[options.theme ?? 'light'],
    widthPx: sheetWidthPx(options.widthPx ?? usualWidthPx, options.bare),
    bare: options.bare === true,
  };
  return documentText(<DetectionPage scene={detectionScene(given)} settings={settings} />);
}
