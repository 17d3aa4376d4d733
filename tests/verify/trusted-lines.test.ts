// What has to be believed of a certificate is only as good as somebody's patience to read it: docs/bounds.md says how many
// lines that is, file by file, and here they are counted.
import { readFileSync } from 'node:fs';
import * as ts from 'typescript';
import { describe, expect, it } from 'vitest';

/** Lines with something on them that runs: no comment, import, export list or type. */
function linesThatRun(file: string): number {
  const source = ts.createSourceFile(
    file,
    readFileSync(file, 'utf8'),
    ts.ScriptTarget.Latest,
    true,
  );
  const lines = new Set<number>();
  const walk = (node: ts.Node): void => {
    const quiet =
      ts.isImportDeclaration(node) ||
      ts.isExportDeclaration(node) ||
      ts.isInterfaceDeclaration(node) ||
      ts.isTypeAliasDeclaration(node);
    if (quiet) return;
    const parts = node.getChildren(source);
    for (const part of parts) walk(part);
    if (parts.length > 0 || node.getWidth(source) === 0) return;
    const from = source.getLineAndCharacterOfPosition(node.getStart(source)).line;
    const to = source.getLineAndCharacterOfPosition(node.getEnd()).line;
    for (let line = from; line <= to; line += 1) lines.add(line);
  };
  walk(source);
  return lines.size;
}

const files = ['proof', 'verify', 'zone', 'steps', 'rules', 'device'];

describe('what has to be believed of the checker', () => {
  it('has as many lines as docs/bounds.md says', () => {
    const docs = readFileSync('docs/bounds.md', 'utf8');
    const found = files.map((name) => [name, linesThatRun(`src/verify/${name}.ts`)] as const);
    const sums = [found.slice(0, 3), found.slice(3)].map((part) =>
      part.reduce((sum, [, lines]) => sum + lines, 0),
    );
    for (const [name, lines] of found) {
      expect(docs).toMatch(new RegExp(`\\| \`${name}\\.ts\` \\| ${String(lines)} \\|`, 'u'));
    }
    expect(docs).toContain(`The checker is ${String(sums[0])} lines`);
    expect(docs).toContain(`what it checks against another ${String(sums[1])}`);
  });
});
