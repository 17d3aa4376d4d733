// A setting on one line, as a person types it into an option or a field: short where its kind has a short form, else as a file
// could write it, `{ firstDay: 5%, perMonth: 2% }`. Either way loses nothing.

import { Document, visit } from 'yaml';
import { isRecord } from '../../base/index.js';
import type { Kind, Setting } from '../../model/index.js';
import { readDocument } from '../text/document.js';
import type { WatchOverride } from './overrides.js';

/** How a kind is written short where a file takes a map or a list: the text's value, and the value's text; null: not so. */
interface ShortForm {
  readonly valueOf: (text: string) => unknown;
  readonly textOf: (value: unknown) => string | null;
}

const shortForms: Readonly<Partial<Record<Kind, ShortForm>>> = {
  timeRange: { valueOf: () => null, textOf: (value) => joined(value, ['min', 'max'], '..') },
  threshold: {
    valueOf: thresholdOf,
    textOf: (value) => joined(value, ['open', 'outOf'], '/'),
  },
  activity: {
    valueOf: activityOf,
    textOf: (value) =>
      joined(value, ['charge'], '') ??
      joined(value, ['current', 'time'], ' for ') ??
      joined(value, ['current'], ''),
  },
  clockError: {
    valueOf(text) {
      const byTemperature = pointsOf(text, ['celsius', 'error']);
      return byTemperature === null ? null : { byTemperature };
    },
    textOf: (value) =>
      pointsText(isRecord(value) ? value['byTemperature'] : null, ['celsius', 'error']) ??
      joined(value, ['min', 'max'], '..'),
  },
  derating: {
    valueOf: (text) => pointsOf(text, ['celsius', 'share']),
    textOf: (value) => pointsText(value, ['celsius', 'share']),
  },
  voltageCurve: {
    valueOf: (text) => pointsOf(text, ['left', 'voltage']),
    textOf: (value) => pointsText(value, ['left', 'voltage']),
  },
};

/** The value of a setting's text, as a parsed file holds it. What cannot be read stays text, for the file's definition to refuse. */
export function typedValue(written: string, kind: Kind): unknown {
  const text = written.trim();
  if (/^[[{]/u.test(text)) return flowValue(text);
  return shortForms[kind]?.valueOf(text) ?? scalarOf(text, kind);
}

/** The text of a value, which `typedValue` reads back as one that means the same. */
export function typedText(value: unknown, kind: Kind): string {
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
    return String(value);
  }
  const short = shortForms[kind]?.textOf(value) ?? null;
  if (short === null) return flowText(value);
  const back = typedValue(short, kind);
  // A range stays a text, which the file takes as well.
  return back === short || isEqual(back, value) ? short : flowText(value);
}

/** What an option takes as a text, as a file writes it: `3 of 5` is `{ open: 3, outOf: 5 }`; null: it is no such text. */
export function spelledOut(text: unknown, kind: Kind): string | null {
  if (typeof text !== 'string') return null;
  const value = shortForms[kind]?.valueOf(text.trim()) ?? null;
  return value === null ? null : flowText(value);
}

/** A setting in place of the file's, as it was typed. @param source where, as messages name it. */
export function overrideOf({ path, row }: Setting, text: string, source: string): WatchOverride {
  return { path, value: typedValue(text, row.kind), text, source };
}

function scalarOf(text: string, kind: Kind): unknown {
  if (kind === 'flag') return text === 'true' ? true : text === 'false' ? false : text;
  const isNumber =
    kind === 'celsius' || kind === 'gap'
      ? /^[+-]?\d{0,15}\.?\d{1,15}$/u.test(text)
      : (kind === 'count' || kind === 'threshold') && /^-?\d{1,15}(?:\.\d{1,6})?$/u.test(text);
  return isNumber ? Number(text) : text;
}

function thresholdOf(text: string): unknown {
  const [, open, outOf] = /^(\d{1,15})\s*(?:\/|of|out of)\s*(\d{1,15})$/u.exec(text) ?? [];
  return open === undefined ? null : { open: Number(open), outOf: Number(outOf) };
}

function activityOf(text: string): unknown {
  if (text === '') return null;
  const [amount = '', time, ...more] = text.split(' for ').map((part) => part.trim());
  if (more.length > 0) return null;
  if (/(?:C|Ah)$/u.test(amount)) return time === undefined ? { charge: amount } : null;
  return time === undefined ? { current: amount } : { current: amount, time };
}

/** The keys under which a point keeps its two halves. */
type Halves = readonly [at: string, value: string];

/** `-20C: 8%, 25C: 0%` */
function pointsOf(text: string, [at, value]: Halves): readonly unknown[] | null {
  if (!text.includes(':')) return null;
  return text.split(',').map((point) => {
    const colon = point.indexOf(':');
    const first = (colon < 0 ? point : point.slice(0, colon)).trim();
    const second = colon < 0 ? '' : point.slice(colon + 1).trim();
    const celsius = (): unknown => scalarOf(first.replace(/\s?°?C$/u, ''), 'celsius');
    return { [at]: at === 'celsius' ? celsius() : first, [value]: second };
  });
}

function pointsText(value: unknown, [at, half]: Halves): string | null {
  if (!Array.isArray(value) || value.length === 0) return null;
  const between = at === 'celsius' ? 'C: ' : ': ';
  const texts = value.map((point: unknown) => joined(point, [at, half], between));
  return texts.includes(null) ? null : texts.join(', ');
}

/** The values of exactly these keys, with something between them. */
function joined(value: unknown, keys: readonly string[], between: string): string | null {
  if (!isRecord(value) || Object.keys(value).length !== keys.length) return null;
  const parts = keys.map((key) => value[key]);
  return parts.every((part) => typeof part === 'string' || typeof part === 'number')
    ? parts.join(between)
    : null;
}

function isEqual(one: unknown, other: unknown): boolean {
  if (Array.isArray(one) && Array.isArray(other)) {
    return one.length === other.length && one.every((item, index) => isEqual(item, other[index]));
  }
  if (!isRecord(one) || !isRecord(other)) return one === other;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length && keys.every((key) => isEqual(one[key], other[key]))
  );
}

/** A value on one line, as a file could write it: `{ firstDay: 5%, perMonth: 2% }`. */
export function flowText(value: unknown): string {
  const document = new Document(value, { version: '1.2' });
  visit(document, {
    Collection: (_, collection) => {
      collection.flow = true;
    },
  });
  return document.toString({ lineWidth: 0 }).trimEnd();
}

/** The value of such a line; if it cannot be read, the text itself. */
function flowValue(text: string): unknown {
  const { root, errors } = readDocument(text, '');
  return errors.length > 0 || root === undefined ? text : root;
}
