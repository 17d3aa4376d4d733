// Texts to read, from files of this folder's `texts`: one a line, escaped as in JSON, or several lines each.
import { readFileSync } from 'node:fs';
import path from 'node:path';

function textOf(name: string): string {
  return readFileSync(path.resolve('tests', 'scenarios', 'texts', `${name}.txt`), 'utf8');
}

/** One text a line. */
export function linesOf(name: string): readonly string[] {
  return textOf(name)
    .slice(0, -1)
    .split('\n')
    .map((line) => String(JSON.parse(`"${line}"`)));
}

/** Texts apart by blank lines; `~` stands for an empty line in one of them. */
export function blocksOf(name: string): readonly string[] {
  return textOf(name)
    .trimEnd()
    .split('\n\n')
    .map((one) => `${one.replaceAll(/^~$/gmu, '')}\n`);
}
