// The bar of lengths as a picture of its own, for the top of a page.
import type { LengthBar } from '../wording/index.js';
import { lengthBarBlock } from './page/length-bar.js';
import { documentText, Sheet, sheetWidthPx } from './page/sheet.js';
import { themes } from './theme.js';

/** @returns a whole SVG document for a page, with the theme `page`. */
export function lengthBarChart(bar: LengthBar, wantedPx: number): string {
  const widthPx = sheetWidthPx(wantedPx, true);
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
