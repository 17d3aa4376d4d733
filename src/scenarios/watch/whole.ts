// The whole watch file as a plain value: each setting as a file would write it, defaults included. A program can read the
// watch of a replay from it, or write it to a file again.

import { isRecord, writeDuration } from '../../base/index.js';
import {
  followedKey,
  type Row,
  type Section,
  settingAt,
  settingOf,
  settings,
} from '../../model/index.js';
import { parseDuration } from '../quantity/duration.js';
import { readDocument } from '../text/document.js';
import { emptyDocument, overlaid, type WatchOverride } from './overrides.js';

/** A setting, or a section of settings; null: absent. */
export type Written = string | number | boolean | null | readonly Written[] | WrittenSection;
export interface WrittenSection {
  readonly [key: string]: Written;
}

/**
 * Every setting of a watch file, by section.
 * @param text a text that `parseWatchFile` reads with these overrides; null for the defaults.
 */
export function wholeWatchFile(
  text: string | null,
  file: string,
  overrides: readonly WatchOverride[] = [],
): WrittenSection {
  const document = overlaid(
    text === null ? emptyDocument(file) : readDocument(text, file),
    overrides,
  );
  const given = isRecord(document.root) ? document.root : {};
  return Object.fromEntries(
    Object.entries<Section>(settings).map(([name, section]) => [
      name,
      sectionOf(section, given[name], none),
    ]),
  );
}

/** @param around what is written of the section that this one is a part of. */
function sectionOf(
  section: Section,
  given: unknown,
  around: ReadonlyMap<string, Written>,
): WrittenSection | null {
  if (section.isOptional === true && (given === undefined || given === null)) return null;
  const values = isRecord(given) ? given : {};
  const written = new Map<string, Written>();
  for (const [key, part] of Object.entries(section.keys)) {
    const value = values[key];
    if (part.kind === 'section') written.set(key, sectionOf(part, value, written));
    else {
      const before = section.isOptional === true ? none : written;
      written.set(key, valueOf(part, value, { before, around }));
    }
  }
  return Object.fromEntries(written);
}

const none: ReadonlyMap<string, Written> = new Map();

function valueOf(
  row: Row,
  given: unknown,
  written: Readonly<Record<'before' | 'around', ReadonlyMap<string, Written>>>,
): Written {
  if (given !== undefined && given !== null) return canonical(row, given);
  if (row.default !== undefined) return row.default;
  const { otherwise } = row;
  // Any other value of an absent setting would mean something else if it were written: it would override a preset, or
  // count outages where none is allowed.
  if (typeof otherwise !== 'object') return null;
  const [part = '', key] = otherwise.like.split('.');
  if (key === undefined) return written.before.get(part) ?? null;
  const other = written.around.get(part);
  const followed = settingAt(followedKey(settingOf(row)) ?? '');
  return (isSection(other) ? other[key] : null) ?? followed?.row.default ?? null;
}

function isSection(value: Written | undefined): value is WrittenSection {
  return isRecord(value);
}

/** Durations in one form, and a range as its two ends; other values as they are written. */
function canonical({ kind }: Row, given: unknown): Written {
  const value = plainOf(given);
  if (typeof value !== 'string') return value;
  if (kind === 'duration' || kind === 'durationOrOff') return durationText(value);
  if (kind !== 'timeRange' && kind !== 'clockError') return value;
  const ends = value.split('..').map((end) => durationText(end.trim()));
  const [min = value, max] = ends;
  return max === undefined ? min : { min, max };
}

/** As files write it; any other text stays as it is. */
function durationText(text: string): string {
  const ms = parseDuration(text, { file: '' });
  return ms.ok ? writeDuration(ms.value) : text;
}

function plainOf(value: unknown): Written {
  if (Array.isArray(value)) return value.map(plainOf);
  if (isRecord(value)) {
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, plainOf(part)]));
  }
  const isScalar =
    typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean';
  return isScalar ? value : null;
}
