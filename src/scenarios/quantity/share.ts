// A share that stands alone on a command line.
import type { Result, SourceRef } from '../../base/index.js';
import { bad, resultOf } from '../text/problem.js';
import { readMeasure, shareMeasure } from './measure.js';

/**
 * Reads a share such as `95%`.
 * @param range the least and the greatest share, from 0 to 1.
 * @returns the share, from 0 to 1. Errors: `share-unreadable` and the like, `out-of-range`.
 */
export function parseShare(
  text: string,
  source: SourceRef,
  range: { readonly least: number; readonly most: number },
): Result<number> {
  const percent = (value: number): string => `${String(Number((value * 100).toFixed(4)))}%`;
  const fraction = /^\s*0?\.\d{1,6}\s*$/u.test(text) ? Number(text) : null;
  if (fraction !== null && fraction >= range.least && fraction <= range.most) {
    const [found, expected, hint] = [text, 'a share such as 95%', `write ${percent(fraction)}`];
    return resultOf(
      bad('share-without-unit', 'has no unit', { found, expected, hint }),
      'this',
      source,
    );
  }
  const read = readMeasure(shareMeasure, text);
  if (!read.ok) return resultOf(read, 'this', source);
  const share = read.value / 1_000_000;
  if (share >= range.least && share <= range.most) return { ok: true, value: share, warnings: [] };
  const expected = `from ${percent(range.least)} to ${percent(range.most)}`;
  return resultOf(
    bad('out-of-range', 'is out of range', { found: text, expected }),
    'this',
    source,
  );
}
