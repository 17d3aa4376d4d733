// Outcomes kept as text, a line each, in a folder `recorded` beside their tests. With DOZEWATCH_GOLDEN=renew they are written
// again: read every line that differs.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';

const renewing = process.env['DOZEWATCH_GOLDEN'] === 'renew';
/** As many lines that differ are shown. */
const mostShown = 10;

/** Compares lines with those kept under a name. @param of the folder of tests, such as `hunt`. */
export function expectRecordedOf(of: string, name: string, lines: readonly string[]): void {
  const folder = path.resolve('tests', of, 'recorded');
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
