// The bar of lengths as a picture of its own, for the top of a page.
import type { Bounds } from '../bounds/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { lengthBarOf } from '../wording/index.js';
import { lengthBarBlock } from './page/length-bar.js';
import { documentText, Sheet, sheetWidthPx } from './page/sheet.js';
import { themes } from './theme.js';

/** @returns a whole SVG document for a page, with the theme `page`. */
export function lengthBarChart(bounds: Bounds, watchFile: WatchFile, wantedPx: number): string {
  const widthPx = sheetWidthPx(wantedPx, true);
  const bar = lengthBarOf(bounds, watchFile);
  return documentText(
    <Sheet
      title="Never, maybe, always"
      description={bar.sentence}
      theme={themes.page}
      widthPx={widthPx}
      blocks={[lengthBarBlock(bar, widthPx)]}
      bare
    />,
  );
}
