// What is proved of a watch in the words of a report.
import { durationText, sentence } from '../base/index.js';
import { detectionChart, lengthBarChart } from '../chart/index.js';
import {
  askedFor,
  askedWords,
  type BoundsView,
  boundsPoints,
  boundsVerdict,
  heldText,
  type LengthBar,
  sheetRows,
  unpainted,
} from '../wording/index.js';
import { fitting } from './fitting.js';
import type { Fitting, ReportBounds } from './input.js';

/** The bar of lengths for the top of a page. */
export function reportBar(bar: LengthBar): Fitting {
  return fitting((widthPx) => lengthBarChart(bar, widthPx));
}

export function reportBounds(view: BoundsView): ReportBounds {
  const { bounds, watchFile, watchName } = view;
  const file = watchName ?? 'the watch';
  return {
    verdict: sentence(boundsVerdict(view, unpainted)),
    picture: fitting((widthPx) =>
      detectionChart({
        bounds,
        watchFile,
        file,
        // The page says its title, its sentence and its bar.
        options: { theme: 'page', widthPx, bare: true },
      }),
    ),
    sheet: sheetRows(view.bounds, view.watchFile.environment, view.isJudged),
    asked: askedFor(view).map(({ key, ms, atRest, anyState }) => ({
      what: `${key}: ${askedWords[key]} ${durationText(ms)}`,
      atRest: heldText(atRest, unpainted),
      anyState: heldText(anyState, unpainted),
    })),
    points: boundsPoints(view),
  };
}
