// Shell completion. What bash offers is taken from bash itself, where it is installed.
import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { commandTable } from '../../src/cli/commands.js';
import { ownFolder, runHere } from './run-here.js';

async function script(shell: string): Promise<string> {
  const { status, stdout } = await runHere(ownFolder(), ['completion', shell]);
  expect(status).toBe(0);
  return stdout;
}

const hasBash = process.platform !== 'win32' && spawnSync('bash', ['--version']).status === 0;

/** What bash would offer after these words. */
function offered(text: string, words: readonly string[]): readonly string[] {
  const list = words.map((word) => `'${word}'`).join(' ');
  const asked = `${text}\nCOMP_WORDS=(${list})\nCOMP_CWORD=${words.length - 1}\n_dozewatch\nprintf '%s\\n' "\${COMPREPLY[@]}"`;
  const { stdout, stderr } = spawnSync('bash', ['-c', asked], { encoding: 'utf8' });
  expect(stderr).toBe('');
  return stdout.trimEnd().split('\n');
}

describe('completion', () => {
  it.each(['bash', 'zsh', 'fish'])('knows every command for %s', async (shell) => {
    const text = await script(shell);
    for (const { name } of commandTable) expect(text).toContain(name);
    expect(text).toContain('close-ups');
  });

  it('tells as JSON what it knows', async () => {
    const { stdout } = await runHere(ownFolder(), ['completion', 'fish', '--json']);
    const { schema, commands } = JSON.parse(stdout);
    expect(schema).toBe('dozewatch/completion/1');
    expect(commands.map(({ name }: { readonly name: string }) => name)).toEqual(
      commandTable.map(({ name }) => name),
    );
  });

  it('refuses a shell that it does not know', async () => {
    const { status, stderr } = await runHere(ownFolder(), ['completion', 'sea']);
    expect(status).toBe(2);
    expect(stderr).toContain('bash, zsh, fish');
  });

  it.runIf(hasBash)('makes bash offer commands, options and their values', async () => {
    const text = await script('bash');
    expect(offered(text, ['dozewatch', 'rep'])).toEqual(
      commandTable.map(({ name }) => name).filter((name) => name.startsWith('rep')),
    );
    expect(offered(text, ['dozewatch', 'chart', '--cl'])).toEqual(['--close-ups']);
    expect(offered(text, ['dozewatch', 'replay', '--format', 'nd'])).toEqual(['ndjson']);
    expect(offered(text, ['dozewatch', 'completion', 'z'])).toEqual(['zsh']);
    expect(offered(text, ['dozewatch', 'replay', 'package.j'])).toEqual(['package.json']);
  });
});
