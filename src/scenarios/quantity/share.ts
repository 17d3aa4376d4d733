// A share that stands alone on a command line.
import type { Result, SourceRef } from '../../base/index.js';
import { bad, resultOf } from '../text/problem.js';
import { readMeasure, shareMeasure, writeMeasure } from './measure.js';

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
  const percent = (value: number): string =>
    writeMeasure(shareMeasure, Math.round(value * 1_000_000), '%');
  if (/^\s*(?:\d{1,3}(?:\.\d{1,6})?|\.\d{1,6})\s*$/u.test(text)) {
    const bare = Number(text);
    // 0.95 means 95 %, and 95 does also.
    const meant = (bare < 1 ? [bare, bare / 100] : [bare / 100]).find(
      (share) => share >= range.least && share <= range.most,
    );
    const expected = `a share from ${percent(range.least)} to ${percent(range.most)}`;
    const hint = meant === undefined ? {} : { hint: `write ${percent(meant)}` };
    return resultOf(
      bad('share-without-unit', 'has no unit', { found: text, expected, ...hint }),
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
