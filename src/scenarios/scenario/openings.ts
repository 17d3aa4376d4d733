// The door of a scenario, from entries to openings in order.
import type * as z from 'zod';
import { trueMs, um } from '../../base/index.js';
import type { ScenarioOpening } from '../types.js';
import type { openingItem } from './definition.js';
import { type Entry, noteOverlaps, type Reading, readStretch } from './entries.js';

/** Ascending; openings that touch are left as they were written. */
export function readOpenings(
  reading: Reading,
  entries: readonly Entry<z.output<typeof openingItem>>[],
): readonly ScenarioOpening[] {
  const openings = entries.flatMap(({ given, path }) => {
    const stretch = readStretch(reading, given, { path, key: 'at' });
    if (given.approach === 'creeping' && given.gap === undefined) {
      const says = 'has approach: creeping, but no gap';
      const problem = { code: 'missing-key', says, found: '', hint: 'add gap: 10mm' };
      reading.errors.push(reading.document.diagnose(path, problem));
    }
    return stretch === null ? [] : [{ ...stretch, given, path }];
  });
  openings.sort((a, b) => a.fromMs - b.fromMs);
  noteOverlaps(reading, openings, 'opening');
  return openings.map(({ fromMs, toMs, given, path }) => ({
    fromMs: trueMs(fromMs),
    toMs: toMs > reading.lengthMs ? Number.POSITIVE_INFINITY : toMs,
    gapUm: given.gap === undefined ? null : um(given.gap),
    approach: given.approach ?? 'closing',
    note: given.note ?? null,
    source: reading.document.place(path),
    gapSource: reading.document.place([...path, 'gap']),
  }));
}
