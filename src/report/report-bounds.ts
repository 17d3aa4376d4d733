// What is proved of a watch in the words of a report.
import { durationText, sentence } from '../base/index.js';
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

export function reportBounds(view: BoundsView, picture: string): ReportBounds {
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
