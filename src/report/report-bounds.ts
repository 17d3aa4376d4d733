// What is proved of a watch in the words of a report.
import { durationText, sentence } from '../base/index.js';
import { detectionChart } from '../chart/index.js';
import {
  askedFor,
  askedWords,
  type BoundsView,
  boundsPoints,
  boundsVerdict,
  heldText,
  sheetRows,
  unpainted,
} from '../wording/index.js';
import type { ReportBounds } from './input.js';

export function reportBounds(view: BoundsView): ReportBounds {
  const { bounds, watchFile, watchName } = view;
  const file = watchName ?? 'the watch';
  const picture = detectionChart({ bounds, watchFile, file, options: { theme: 'page' } });
  return {
    verdict: sentence(boundsVerdict(view, unpainted)),
    picture,
    sheet: sheetRows(view.bounds),
    asked: askedFor(view).map(({ key, ms, atRest, anyState }) => ({
      what: `${key}: ${askedWords[key]} ${durationText(ms)}`,
      atRest: heldText(atRest, unpainted),
      anyState: heldText(anyState, unpainted),
    })),
    points: boundsPoints(view),
  };
}
