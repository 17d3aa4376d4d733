// What every command prints and writes, byte for byte. `npm run golden` renews the files; read what changed in review.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesIn, runHere } from '../cli/run-here.js';
import { once } from '../support/once.js';
import { goldenCases } from './cases.js';
import { transcriptOf } from './transcript.js';

const expected = path.resolve('tests', 'golden', 'expected');
const renewing = process.env['DOZEWATCH_GOLDEN'] === 'renew';
// What the rig reads of a firmware's variables is had on Linux.
const hasCompiler = once(
  () => process.platform === 'linux' && spawnSync('cc', ['--version']).status === 0,
);
const fileOf = (name: string): string => path.join(expected, `${name}.txt`);

describe('the golden output of', () => {
  it.for(goldenCases)('$name', async (one, { skip }) => {
    if (one.needsCompiler && !hasCompiler()) skip();
    const { text, otherwise } = await transcriptOf(one);
    const file = fileOf(one.name);
    if (renewing) {
      mkdirSync(path.dirname(file), { recursive: true });
      writeFileSync(file, text);
    }
    const kept = existsSync(file) ? readFileSync(file, 'utf8') : 'missing: npm run golden';
    expect(text).toBe(kept);
    expect(otherwise).toEqual([]);
  });

  it('the help of every command is among them', async () => {
    const { stdout } = await runHere('.', ['completion', 'fish', '--json']);
    const { commands }: { commands: readonly { name: string }[] } = JSON.parse(stdout);
    const names = goldenCases.map(({ name }) => name);
    expect(names).toEqual(expect.arrayContaining(commands.map(({ name }) => `help/${name}`)));
  });

  it('each case has a name of its own, and each file a case', () => {
    const names = goldenCases.map(({ name }) => `${name}.txt`).sort();
    expect(new Set(names).size).toBe(names.length);
    const stray = filesIn(expected).filter((name) => !names.includes(name));
    if (renewing) for (const name of stray) rmSync(path.join(expected, name));
    expect(renewing ? [] : stray).toEqual([]);
  });
});
