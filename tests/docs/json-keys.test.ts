// Every key that `--json` prints is explained in the documents. What the commands print is in the golden files.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';

const expected = path.join('tests', 'golden', 'expected');

/** Written for programs of ours only: `merge` and `verify` read them, and a certificate has its own JSON Schema. */
const notForReaders = /^dozewatch\/(?:estimate-part|certificate)\//u;

/** Every JSON object of ours in the golden files. */
function printedObjects(): readonly { readonly schema: string }[] {
  return readdirSync(expected, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.txt'))
    .flatMap((name) =>
      Array.from(
        readFileSync(path.join(expected, name), 'utf8').matchAll(
          /^\{\n {2}"schema": "dozewatch.*\n(?: .*\n)+?\}$/gmu,
        ),
        ([text]): { readonly schema: string } => JSON.parse(text),
      ),
    )
    .filter(({ schema }) => !notForReaders.test(schema));
}

/** The keys of a value and of all in it; names of a user's own, such as those of settings or columns, are not like these. */
function keysIn(value: unknown): readonly string[] {
  if (Array.isArray(value)) return value.slice(0, 5).flatMap(keysIn);
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [key, ...keysIn(inner)]);
}

const explained = new Set(
  readdirSync('docs')
    .filter((name) => name.endsWith('.md'))
    .flatMap((name) => readFileSync(path.join('docs', name), 'utf8').match(/`[^`\n]+`/gu) ?? [])
    .flatMap((code) => code.match(/[A-Za-z]\w*/gu) ?? []),
);

describe('the documents', () => {
  const objects = printedObjects();

  it('explain every key that --json prints', () => {
    const unexplained = objects.flatMap(({ schema, ...rest }) =>
      keysIn(rest)
        .filter((key) => /^[a-z][A-Za-z0-9]*$/u.test(key) && !explained.has(key))
        .map((key) => `${schema}: ${key}`),
    );
    expect([...new Set(unexplained)]).toEqual([]);
    expect(new Set(objects.map(({ schema }) => schema)).size).toBeGreaterThan(12);
  });
});
