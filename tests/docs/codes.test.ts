// The list of errors and warnings, compared with the codes in the sources: every code has its row, and every row a code.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

/** Functions whose first argument is a code. */
const takeCodes = new Set(['problem', 'bad', 'remark', 'fault', 'complain', 'wholeFile']);

/** Codes of other things than a finding about an input: issues of the schema library, system errors, outcomes. */
const notCodes = new Set(['custom', 'ELOOP', 'refused', 'late', 'until']);

/** Codes that are put together, and their parts as the sources name them. */
const measures = codesFromNames(read('src/scenarios/quantity/measure.ts'));

function read(file: string): string {
  return readFileSync(file, 'utf8');
}

function codesFromNames(source: string): readonly string[] {
  const names = Array.from(source.matchAll(/^ {2}name: '([a-z-]+)',$/gmu), ([, name = '']) => name);
  const endings = Array.from(source.matchAll(/`\$\{name\}(-[a-z-]+)`/gu), ([, end = '']) => end);
  return names.flatMap((name) => endings.map((end) => `${name}${end}`));
}

/** Texts that an expression can have, as far as they are written in it. */
function textsOf(node: ts.Expression): readonly string[] {
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isConditionalExpression(node)) {
    return [...textsOf(node.whenTrue), ...textsOf(node.whenFalse)];
  }
  return [];
}

function codesIn(file: string): readonly string[] {
  const source = ts.createSourceFile(file, read(file), ts.ScriptTarget.Latest, true);
  const codes: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isPropertyAssignment(node) && node.name.getText() === 'code') {
      codes.push(...textsOf(node.initializer));
    }
    if (ts.isCallExpression(node) && node.arguments[0] !== undefined) {
      const name = node.expression.getText().split('.').at(-1) ?? '';
      if (takeCodes.has(name)) codes.push(...textsOf(node.arguments[0]));
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return codes.filter((code) => /^[a-z]+(?:-[a-z0-9]+)*$/u.test(code) && !notCodes.has(code));
}

const inSources = new Set([
  ...readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/u.test(name))
    .flatMap((name) => codesIn(path.join('src', name))),
  ...measures,
  'more-errors',
  'more-repairs',
  ...Array.from(
    read('src/drill/record.ts').matchAll(/'(drill-[a-z-]+)'/gu),
    ([, code = '']) => code,
  ),
]);

for (const [, code = ''] of read('src/cli/arguments/house-error.ts').matchAll(
  /(?:\[|, ')([a-z]+(?:-[a-z]+)+)(?:\]|'\])/gu,
)) {
  inSources.add(code);
}

const page = read('docs/troubleshooting.md');
const listed = page
  .split('\n')
  .filter((line) => line.startsWith('| `'))
  .flatMap((line) =>
    Array.from((line.split(' | ')[0] ?? '').matchAll(/`([\w-]+)`/gu), ([, code = '']) => code),
  );

describe('the list of errors and warnings', () => {
  it('has every code of the sources', () => {
    expect(inSources.size).toBeGreaterThan(200);
    expect([...inSources].filter((code) => !listed.includes(code)).sort()).toEqual([]);
  });

  it('has no other codes, and none twice', () => {
    expect(listed.filter((code) => !inSources.has(code))).toEqual([]);
    expect(listed.length).toBe(new Set(listed).size);
  });
});
