// Records of what parts of `bounds` make of drawn watches: a line for each part and watch, with a digest of all that it answers.
// After a wanted change: DOZEWATCH_GOLDEN=renew npx vitest run tests/bounds/recorded-parts.test.ts, and read which parts differ.
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** What a part answers: a figure or two for the reader, and everything else. */
export interface Answered {
  readonly figures: string;
  readonly all: unknown;
}

export interface Records {
  /** The recorded line, and the one that is true now. */
  compared(key: string, answer: Answered): { readonly now: string; readonly recorded: string };
  /** Keeps what was compared where records are renewed. @returns how many lines the file has. */
  kept(): number;
}

const renewing = process.env['DOZEWATCH_GOLDEN'] === 'renew';

export function recordsIn(name: string): Records {
  const file = path.resolve('tests', 'bounds', 'recorded', name);
  const lines = existsSync(file) ? readFileSync(file, 'utf8').trimEnd().split('\n') : [];
  const known = new Map(lines.map((line) => [line.slice(0, line.indexOf(':')), line]));
  const made: string[] = [];
  return {
    compared(key, { figures, all }) {
      const now = `${key}: ${figures} ${digestOf(all)}`;
      made.push(now);
      return { now, recorded: renewing ? now : (known.get(key) ?? 'nothing recorded') };
    },
    kept() {
      if (!renewing) return known.size;
      writeFileSync(file, `${made.join('\n')}\n`);
      return made.length;
    },
  };
}

function digestOf(value: unknown): string {
  return createHash('sha256').update(JSON.stringify(value, plain)).digest('hex').slice(0, 12);
}

/** What JSON has no word for. */
function plain(_: string, value: unknown): unknown {
  if (value instanceof Map || value instanceof Set) return [...value];
  if (value === undefined) return 'undefined';
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}
