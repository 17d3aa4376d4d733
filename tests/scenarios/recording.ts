// What the readers make of many inputs, kept as text: a line an outcome. After a change that is meant:
// DOZEWATCH_GOLDEN=renew npx vitest run tests/scenarios/recorded, and read every line that differs.
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import type { Diagnostic } from '../../src/base/index.js';

const folder = path.resolve('tests', 'scenarios', 'recorded');
const renewing = process.env['DOZEWATCH_GOLDEN'] === 'renew';
/** As many lines that differ are shown. */
const mostShown = 10;

/** Compares lines with those kept under a name. */
export function expectRecorded(name: string, lines: readonly string[]): void {
  const file = path.join(folder, `${name}.txt`);
  const now = lines.flatMap((line) => line.replaceAll('\r', '\\r').split('\n'));
  if (renewing) {
    mkdirSync(folder, { recursive: true });
    writeFileSync(file, `${now.join('\n')}\n`);
  }
  const kept = existsSync(file) ? readFileSync(file, 'utf8').slice(0, -1).split('\n') : [];
  const other = now.flatMap((line, index) =>
    line === kept[index] ? [] : [{ line: index + 1, now: line, kept: kept[index] ?? 'nothing' }],
  );
  expect(other.slice(0, mostShown)).toEqual([]);
  expect(now.length).toBe(kept.length);
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

/** Words for what was found, and each sentence once: a line of outcomes has codes and places only. */
export function openSentences() {
  const said = new Set<string>();
  return {
    /** `2:7 state-unknown [auf] (try --open-word auf)`. */
    brief({ code, source, message, found, expected, hint, tries = [] }: Diagnostic): string {
      const parts = [message, expected === undefined ? '' : `expected ${expected}`, hint ?? ''];
      said.add(`${code}: ${parts.filter((part) => part !== '').join(' / ')}`);
      const { line, column } = source;
      const place = line === undefined ? '' : `${String(line)}:${String(column ?? '-')} `;
      const what = found === undefined ? '' : ` [${found}]`;
      return `${place}${code}${what}${tries.map((one) => ` (try ${one})`).join('')}`;
    },
    list: (): readonly string[] => [...said].toSorted(),
  };
}
