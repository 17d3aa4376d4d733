// What is proved of a watch in the words of a report.
import { durationText } from '../../base/index.js';
import type { ReportBounds } from '../../report/index.js';
import { askedWords, boundsPoints, verdict } from './bounds-report.js';
import { sheetRows } from './bounds-sheet.js';
import { askedFor, type BoundsView } from './bounds-view.js';
import { paint } from './paint.js';
import { sentence } from './plain.js';

export function reportBounds(view: BoundsView, picture: string): ReportBounds {
  return {
    verdict: sentence(verdict(view, paint(false))),
    picture,
    sheet: sheetRows(view.bounds),
    asked: askedFor(view).map(({ key, ms, atRest, anyState }) => ({
      what: `${key}: ${askedWords[key]} ${durationText(ms)}`,
      atRest: heldWord(atRest),
      anyState: heldWord(anyState),
    })),
    points: boundsPoints(view),
  };
}

function heldWord(holds: boolean | null | undefined): string {
  if (holds === undefined) return '–';
  if (holds === null) return 'not found out';
  return holds ? 'yes' : 'NO';
}
