// What the readers make of many inputs, kept as text: a line an outcome. After a change that is meant:
// DOZEWATCH_GOLDEN=renew npx vitest run tests/scenarios/recorded, and read every line that differs.
import { createHash } from 'node:crypto';
import type { Diagnostic } from '../../src/base/index.js';
import { expectRecordedOf } from '../support/recorded.js';

/** Compares lines with those kept under a name. */
export function expectRecorded(name: string, lines: readonly string[]): void {
  expectRecordedOf('scenarios', name, lines);
}

/** A short name of a value, the same on every machine. */
export function digestOf(value: unknown): string {
  return createHash('sha256').update(plainText(value)).digest('hex').slice(0, 10);
}

/** JSON that keeps maps, lists of numbers, endless times, and what is not a number. */
export function plainText(value: unknown): string {
  return JSON.stringify(value, (_, part: unknown) => {
    if (part instanceof Map) return [...part];
    if (part instanceof Float64Array) return Array.from(part, String);
    return typeof part === 'number' && !Number.isFinite(part) ? String(part) : part;
  });
}

/** A text on one line. */
export function onOneLine(text: string): string {
  return JSON.stringify(text).slice(1, -1).replaceAll('\\"', '"');
}

/**
 * Words for what was found. Each sentence is listed once, numbered by the order in which those of its code came, so that a line of
 * outcomes names it and stays the same where only the words change.
 */
export function openSentences() {
  const ofCode = new Map<string, string[]>();
  const numberOf = (code: string, sentence: string): string => {
    const said = ofCode.get(code) ?? [];
    ofCode.set(code, said);
    if (!said.includes(sentence)) said.push(sentence);
    const number = said.indexOf(sentence);
    return number === 0 ? code : `${code}/${String(number + 1)}`;
  };
  return {
    /** `2:7 state-unknown/2 [auf] (try --open-word auf)`. */
    brief({ code, source, message, found, expected, hint, tries = [] }: Diagnostic): string {
      const parts = [message, expected === undefined ? '' : `expected ${expected}`, hint ?? ''];
      const name = numberOf(code, parts.filter((part) => part !== '').join(' / '));
      const { file, line, column } = source;
      const option = file.startsWith('--') ? `${file} ` : '';
      const place = line === undefined ? option : `${String(line)}:${String(column ?? '-')} `;
      const what = found === undefined ? '' : ` [${found}]`;
      return `${place}${name}${what}${tries.map((one) => ` (try ${one})`).join('')}`;
    },
    list: (): readonly string[] =>
      [...ofCode]
        .toSorted(([a], [b]) => (a < b ? -1 : 1))
        .flatMap(([code, said]) =>
          said.map((sentence, at) => `${code}${at === 0 ? '' : `/${String(at + 1)}`}: ${sentence}`),
        ),
  };
}
