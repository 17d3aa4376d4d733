// Reads the entries of a scenario's lists one by one, so that a problem in one does not hide those in others.

import type * as z from 'zod';
import { type Diagnostic, pushAll } from '../../base/index.js';
import { mostEntries } from '../../model/index.js';
import { check } from '../text/decode.js';
import type { Path, TextDocument } from '../text/document.js';
import { homeHint, keysAt } from '../text/homes.js';
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { localTime } from '../time/local-time.js';
import { resolveInstant, type WrittenInstant, writeAfterStart } from '../time/written-instant.js';
import type { TimelineStart } from '../types.js';
import { scenarioDefinition } from './definition.js';

/** One entry, and where it stands. */
export interface Entry<T> {
  readonly given: T;
  readonly path: Path;
}

/** What the entries of one file are read with. Problems are collected. */
export interface Reading {
  readonly document: TextDocument;
  readonly start: TimelineStart;
  readonly lengthMs: number;
  readonly errors: Diagnostic[];
}

/** The entries of a list that read well. */
export function readEntries<Item extends z.ZodType>(
  document: TextDocument,
  list: { readonly key: string; readonly value: unknown; readonly item: Item },
  errors: Diagnostic[],
): readonly Entry<z.output<Item>>[] {
  const { key, value, item } = list;
  if (value === undefined || value === null) return [];
  if (!Array.isArray(value)) {
    const expected = 'a list';
    const hint = strangerHint(value, item) ?? 'begin each entry with a dash';
    const problem = { code: 'wrong-type', says: 'has the wrong type', expected, hint };
    errors.push(document.diagnose([key], problem));
    return [];
  }
  if (value.length > mostEntries) {
    const says = `has more than ${String(mostEntries)} entries`;
    errors.push(document.diagnose([key], { code: 'list-too-long', says, found: '' }));
    return [];
  }
  return value.flatMap((entry: unknown, index): Entry<z.output<Item>>[] => {
    const path = [key, index];
    const checked = check(item, entry, { document, path, whole: scenarioDefinition });
    if (checked.ok) return [{ given: checked.value, path }];
    pushAll(errors, checked.errors);
    return [];
  });
}

/** Of a map where a list is wanted: where the first of its keys belongs that no entry of the list may have. */
function strangerHint(value: unknown, item: z.ZodType): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const known = keysAt(item, []);
  for (const key of Object.keys(value)) {
    const home = known.includes(key) ? undefined : homeHint(scenarioDefinition, key);
    if (home !== undefined) return `${key}: ${home}`;
  }
  return undefined;
}

/** A stretch of a scenario, in milliseconds from its start; `toMs` may lie beyond its end, or be `Infinity`. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Which keys hold the parts of a stretch. */
interface StretchGiven {
  readonly at: WrittenInstant;
  readonly for?: number | undefined;
  readonly until?: WrittenInstant | undefined;
}

/** Works out a stretch that begins within the scenario, or notes why not. */
export function readStretch(
  reading: Reading,
  given: StretchGiven,
  at: { readonly path: Path; readonly key: string },
): Stretch | null {
  const fromMs = readInside(reading, given.at, [...at.path, at.key]);
  const complain = (key: string | null, problem: Problem): null => {
    const path = key === null ? at.path : [...at.path, key];
    reading.errors.push(reading.document.diagnose(path, problem));
    return null;
  };
  if (given.for === undefined && given.until === undefined) {
    const hint = 'add for: 40s, until: "08:15" or until: end';
    return complain(null, { code: 'missing-key', says: 'has neither for nor until', hint });
  }
  if (given.for !== undefined && given.until !== undefined) {
    const hint = 'delete for or until';
    return complain('until', { code: 'for-and-until', says: 'is given together with for', hint });
  }
  if (fromMs === null) return null;
  if (given.until === undefined) return { fromMs, toMs: fromMs + (given.for ?? 0) };
  const toMs = resolveInstant(given.until, { start: reading.start, notBeforeMs: fromMs + 1 });
  if (!toMs.ok) return complain('until', toMs.problem);
  const stretch = { fromMs, toMs: toMs.value };
  if (stretch.toMs > fromMs && !isLateInNextDay(reading.start, given.until, stretch))
    return stretch;
  const hint = 'make it later; for the next morning, write until: "day 2 07:00"';
  return complain('until', { code: 'ends-before-start', says: 'is not after the start', hint });
}

/**
 * "From 23:50 until 00:10" runs past midnight; "from 14:30 until 14:00" is a slip rather than a day without half an
 * hour.
 */
function isLateInNextDay(start: TimelineStart, until: WrittenInstant, stretch: Stretch): boolean {
  const { fromMs, toMs } = stretch;
  if (until.kind !== 'clock' || until.day !== null || toMs - fromMs <= 43_200_000) return false;
  return localTime(start, fromMs).date !== localTime(start, toMs).date;
}

/** An instant within the scenario, or null when it is noted why not. */
export function readInside(reading: Reading, written: WrittenInstant, path: Path): number | null {
  const resolved = insideOf(reading, written);
  if (resolved.ok) return resolved.value;
  reading.errors.push(reading.document.diagnose(path, resolved.problem));
  return null;
}

function insideOf({ start, lengthMs }: Reading, written: WrittenInstant): Decoded<number> {
  const resolved = resolveInstant(written, { start, notBeforeMs: 0 });
  if (!resolved.ok) return resolved;
  const atMs = resolved.value;
  if (atMs >= 0 && atMs < lengthMs) return good(atMs);
  if (atMs < 0) {
    return bad('outside-timeline', 'is before the start of the scenario', {
      hint: 'move it, or make start: earlier',
    });
  }
  return bad('outside-timeline', 'is after the end of the scenario', {
    expected: `before ${writeAfterStart(lengthMs)}`,
    hint: 'move it, or make length: longer',
  });
}

/** Notes each of the sorted stretches that begins before the one before it has ended. */
export function noteOverlaps(
  reading: Reading,
  sorted: readonly (Stretch & { readonly path: Path })[],
  what: string,
): void {
  let latest: (Stretch & { readonly path: Path }) | undefined;
  for (const stretch of sorted) {
    if (latest !== undefined && stretch.fromMs < latest.toMs) {
      const { line } = reading.document.place(latest.path);
      const where = line === undefined ? '' : ` on line ${String(line)}`;
      const says = `begins before the ${what}${where} ends`;
      const problem = { code: 'overlap', says, hint: 'end that one earlier, or merge the two' };
      reading.errors.push(reading.document.diagnose(stretch.path, problem));
    }
    if (latest === undefined || stretch.toMs > latest.toMs) latest = stretch;
  }
}
