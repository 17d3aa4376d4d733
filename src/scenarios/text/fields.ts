// Building blocks of the file definitions: each reads one kind of value and says how an editor should check it.
// One definition makes both the parser and the JSON Schema.
import * as z from 'zod';
import { durationText, type TrueMs, trueMs } from '../../base/index.js';
import { durationInner, durationPattern, readDuration } from '../quantity/duration.js';
import { type Measure, readMeasure, writeMeasure } from '../quantity/measure.js';
import { bad, type Decoded, good } from './problem.js';
import { didYouMean } from './suggest.js';

/** Both ends included. */
export interface Range {
  readonly least: number;
  readonly most: number;
}

type SchemaPart = Readonly<Record<string, unknown>>;

/** A value that is read by a function of our own; `part` is its JSON Schema. */
export function leaf<T>(read: (value: unknown) => Decoded<T>, part: SchemaPart) {
  const missing = missingValue(part['examples']);
  return z
    .unknown()
    .meta({ ...part })
    .transform((value, context): T => {
      const decoded = value === undefined ? missing : value === null ? empty : read(value);
      if (decoded.ok) return decoded.value;
      const { says, ...params } = decoded.problem;
      context.addIssue({ code: 'custom', message: says, params });
      return z.NEVER;
    });
}

function missingValue(examples: unknown) {
  const [such] = Array.isArray(examples) ? examples.map(String) : [];
  return bad('missing-key', 'is missing', {
    expected: such === undefined ? undefined : `a value such as ${such}`,
  });
}

const empty = bad('empty-value', 'has no value', {
  hint: 'give it a value, or delete the line',
});

/** Something of the wrong type altogether. */
export function wrongType(expected: string, hint?: string) {
  return bad('wrong-type', 'has the wrong type', { expected, hint });
}

/** How a kind of value is read, and the JSON Schema of its text. */
interface Form<T> {
  readonly read: (value: unknown) => Decoded<T>;
  readonly part: SchemaPart & { readonly pattern: string; readonly examples: readonly string[] };
  /** A pattern of one value without its ends, for patterns that hold more. */
  readonly inner: string;
}

/**
 * A duration within a range, in milliseconds.
 * @param orWord a word that may stand there in place of a duration, such as `off`
 */
export function durationField(description: string, range: Range, orWord?: string) {
  const { read, part } = durationForm(description, range, orWord);
  return leaf(read, part);
}

export function durationForm(description: string, range: Range, orWord?: string): Form<TrueMs> {
  const hint = orWord === undefined ? undefined : `or write ${orWord}`;
  const read = (value: unknown): Decoded<TrueMs> => {
    const decoded = durationOf(value);
    if (!decoded.ok) {
      const { problem } = decoded;
      const { expected } = problem;
      // Where no form fits the type, all of them are named.
      const isNamed = problem.code === 'wrong-type' || expected === undefined;
      if (orWord === undefined || isNamed) return decoded;
      return { ok: false, problem: { ...problem, expected: `${expected}, or ${orWord}` } };
    }
    const outside = outOf(range, decoded.value, durationText);
    return outside === null
      ? good(trueMs(decoded.value))
      : { ok: false, problem: { hint, ...outside } };
  };
  const part = {
    type: 'string',
    description: `${description} From ${durationText(range.least)} to ${durationText(range.most)}.`,
    pattern: durationPattern,
    examples: ['400ms', '90s', '3m', '1h30m'],
  };
  return { read, part, inner: durationInner };
}

function durationOf(value: unknown): Decoded<number> {
  if (typeof value === 'number') return readDuration(String(value));
  return typeof value === 'string'
    ? readDuration(value)
    : wrongType('a duration such as 400ms, 90s or 3m');
}

/** What is wrong with a number that should be within a range, or null. */
function outOf(range: Range, value: number, show: (value: number) => string) {
  if (value >= range.least && value <= range.most) return null;
  const side = value < range.least ? 'is too small' : 'is too large';
  const expected = `from ${show(range.least)} to ${show(range.most)}`;
  return { code: 'out-of-range', says: side, expected };
}

/** A number with a unit, within a range, as a whole number of the measure's smallest unit. */
export function measureField(
  description: string,
  measure: Measure,
  range: Range & { readonly unit: string },
) {
  const { read, part } = measureForm(description, measure, range);
  return leaf(read, part);
}

export function measureForm(
  description: string,
  measure: Measure,
  range: Range & { readonly unit: string },
): Form<number> {
  const show = (value: number): string => writeMeasure(measure, value, range.unit);
  const bare = measure.bareUnit !== null;
  const expected = `a ${measure.name.replace('-', ' ')} such as ${measure.examples.join(' or ')}`;
  const read = (value: unknown): Decoded<number> => {
    if (typeof value !== 'string' && typeof value !== 'number') return wrongType(expected);
    const decoded = readMeasure(measure, value);
    if (!decoded.ok) return decoded;
    const outside = outOf(range, decoded.value, show);
    return outside === null ? decoded : { ok: false, problem: outside };
  };
  const units = Object.keys(measure.units).join('|');
  const number = `${measure.signed ? '[+-]?' : ''}\\d*\\.?\\d+`;
  const inner = `${number}\\s*(${units})${bare ? '?' : ''}\\s*`;
  const part = {
    type: bare ? ['string', 'number'] : 'string',
    description: `${description} From ${show(range.least)} to ${show(range.most)}.`,
    pattern: `^\\s*${inner}$`,
    examples: measure.examples,
  };
  return { read, part, inner };
}

/** One value, or a range of them as text: `3s..9s`, the least first. */
export function orRange<T extends number>(form: Form<T>, example: string) {
  const read = (value: unknown): Decoded<{ readonly least: T; readonly most: T }> => {
    const ends = typeof value === 'string' ? rangeEnds(value) : null;
    if (ends === null) {
      const one = form.read(value);
      return one.ok ? good({ least: one.value, most: one.value }) : one;
    }
    const found = String(value);
    if (ends.includes('')) {
      return bad('range-without-end', 'is a range with only one end', {
        found,
        expected: `a range such as ${example}`,
      });
    }
    const [least, most] = [form.read(ends[0]), form.read(ends[1])];
    if (!least.ok) return least;
    if (!most.ok) return most;
    if (least.value <= most.value) return good({ least: least.value, most: most.value });
    const hint = `write the smaller value first: ${ends[1]}..${ends[0]}`;
    return bad('min-above-max', 'has its larger value first', { found, hint });
  };
  const { part, inner } = form;
  const pattern = `${part.pattern}|^\\s*(${inner})\\.\\.\\s*(${inner})$`;
  return leaf(read, { ...part, pattern, examples: [...part.examples, example] });
}

/** The two sides of the dots in `3s..9s`; null: no dots. */
function rangeEnds(text: string): readonly [least: string, most: string] | null {
  const dots = text.indexOf('..');
  return dots < 0 ? null : [text.slice(0, dots).trim(), text.slice(dots + 2).trim()];
}

/** A plain number within a range; whole unless `fraction`. */
export function numberField(
  description: string,
  range: Range & { readonly fraction?: boolean; readonly word?: string },
) {
  const what = range.word ?? (range.fraction === true ? 'a number' : 'a whole number');
  const expected = `${what} from ${String(range.least)} to ${String(range.most)}`;
  const read = (value: unknown): Decoded<number> => {
    if (typeof value !== 'number' || Number.isNaN(value)) return wrongType(expected);
    const outside = outOf(range, value, String);
    if (outside !== null) return { ok: false, problem: { ...outside, expected } };
    if (range.fraction === true || Number.isInteger(value)) return good(value);
    return bad('not-whole', 'is not a whole number', { expected });
  };
  return leaf(read, {
    type: range.fraction === true ? 'number' : 'integer',
    description,
    minimum: range.least,
    maximum: range.most,
  });
}

/**
 * One of a few words.
 * @param renamed words of earlier versions, each with the one that took its place.
 */
export function wordField<const Word extends string>(
  description: string,
  words: readonly Word[],
  renamed: Readonly<Record<string, Word>> = {},
) {
  const expected = words.length === 1 ? (words[0] ?? '') : `one of ${words.join(', ')}`;
  const read = (value: unknown): Decoded<Word> => {
    const word = words.find((candidate) => candidate === value);
    if (word !== undefined) return good(word);
    if (typeof value !== 'string') return wrongType(expected);
    const now = Object.hasOwn(renamed, value) ? renamed[value] : undefined;
    if (now !== undefined) {
      return bad('renamed-word', `is now called ${now}`, { expected, hint: `write ${now}` });
    }
    const hint = didYouMean(value, words);
    return bad('unknown-word', 'is not one of the possible words', { expected, hint });
  };
  return leaf(read, { type: 'string', description, enum: words });
}

/** `true` or `false`. */
export function flagField(description: string) {
  const read = (value: unknown): Decoded<boolean> => {
    if (typeof value === 'boolean') return good(value);
    const hint = /^(yes|on)$/i.test(String(value)) ? 'write true' : undefined;
    return wrongType('true or false', /^(no|off)$/i.test(String(value)) ? 'write false' : hint);
  };
  return leaf(read, { type: 'boolean', description });
}

/** One line of text for people. */
export function textField(description: string, mostCharacters = 200) {
  const read = (value: unknown): Decoded<string> => {
    if (typeof value !== 'string') return wrongType('text', 'put it in quotes');
    const text = value.trim();
    if (text === '') return empty;
    if (text.length > mostCharacters) {
      return bad('text-too-long', `has more than ${String(mostCharacters)} characters`);
    }
    // Lone surrogates and control characters would break what is written from it.
    if (/[\p{Cc}\p{Cs}]/u.test(text)) {
      return bad('text-unprintable', 'contains control characters or line breaks');
    }
    return good(text);
  };
  return leaf(read, { type: 'string', description, minLength: 1, maxLength: mostCharacters });
}

/** A map of known keys. Left empty (`watch:` and nothing more), it is as if none of them were given. */
export function section<Shape extends z.core.$ZodLooseShape>(description: string, shape: Shape) {
  return z.preprocess(
    (value) => (value === null ? {} : value),
    z.strictObject(shape).meta({ description, type: ['object', 'null'] }),
  );
}

/** A list; left empty, it has no entries. */
export function list<Item extends z.ZodType>(description: string, item: Item, most: number) {
  return z.preprocess(
    (value) => (value === null ? [] : value),
    z
      .array(item)
      .max(most)
      .meta({ description, type: ['array', 'null'] }),
  );
}
