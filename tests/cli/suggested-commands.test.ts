// Every command line that a kept transcript shows has only options that its command knows: what is suggested works when typed.

import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { Command } from '@commander-js/extra-typings';
import { describe, expect, it } from 'vitest';
import { commandTable } from '../../src/cli/commands.js';
import { estimateTakes } from '../../src/cli/estimate/options.js';
import { optionWords } from '../../src/cli/layout/next-line.js';
import { replayTakes } from '../../src/cli/replay/options.js';
import { tuneTakes } from '../../src/cli/tune/options.js';
import { yearTakes } from '../../src/cli/year/options.js';

const expectedFolder = path.resolve('tests/golden/expected');

const knownOptions = new Map(
  await Promise.all(
    commandTable.map(async ({ name, load }) => {
      const command = new Command(name);
      (await load()).define(command, () => Promise.resolve(), commandTable);
      const flags = command.options.flatMap(({ short, long }) => [short, long]);
      return [name, new Set([...flags, '--help', '--no-color'])] as const;
    }),
  ),
);

interface Suggested {
  readonly file: string;
  readonly line: string;
}

/** The lines that a run suggests: what stands behind `Next:` and its reason, and hints that are whole lines. */
function suggestedIn(file: string): readonly Suggested[] {
  const text = readFileSync(path.join(expectedFolder, file), 'utf8');
  const names = [...knownOptions.keys()].join('|');
  const lines = text.matchAll(
    new RegExp(`^(?:Next:|  hint:|  or:|  try:).*?\\bdozewatch ((?:${names}) [^;)\\n]*)`, 'gmu'),
  );
  return Array.from(lines, ([, line = '']) => ({ file, line }));
}

const files = readdirSync(expectedFolder, { recursive: true, encoding: 'utf8' }).filter((name) =>
  name.endsWith('.txt'),
);
const suggested = files.flatMap(suggestedIn);

function unknownOptions({ line }: Suggested): readonly string[] {
  const [name = '', ...words] = line.split(' ');
  const flags = words.filter((word) => /^--?[a-zA-Z][a-zA-Z-]*$/u.test(word));
  return flags.filter((flag) => knownOptions.get(name)?.has(flag) !== true);
}

/** What a command requires, beside options and their values. */
const required = new Map(
  await Promise.all(
    commandTable.map(async ({ name, load }) => {
      const command = new Command(name);
      (await load()).define(command, () => Promise.resolve(), commandTable);
      const valued = command.options.filter((option) => !option.isBoolean());
      const flags = new Set(valued.flatMap(({ short, long }) => [short, long]));
      const count = command.registeredArguments.filter((one) => one.required).length;
      return [name, { count, flags }] as const;
    }),
  ),
);

function lacksArguments({ line }: Suggested): boolean {
  const [name = '', ...words] = line.trim().split(' ');
  const { count, flags } = required.get(name) ?? { count: 0, flags: new Set() };
  const given = words.filter(
    (word, index) => (word === '-' || !word.startsWith('-')) && !flags.has(words[index - 1] ?? ''),
  );
  return given.length < count && !words.includes('--help');
}

describe('commands that are suggested', () => {
  it('are found in the transcripts', () => {
    expect(suggested.length).toBeGreaterThan(40);
  });

  it('have only options that the command knows', () => {
    const wrong = suggested.filter((one) => unknownOptions(one).length > 0);
    expect(wrong).toEqual([]);
  });

  it('name what the command cannot do without', () => {
    expect(suggested.filter(lacksArguments)).toEqual([]);
    const bare = { file: '', line: 'replay --every-phase' };
    expect(lacksArguments(bare)).toBe(true);
    expect(lacksArguments({ ...bare, line: 'replay doors.csv --every-phase' })).toBe(false);
  });
});

describe('options for the next command', () => {
  /** Every option of a command, as if it had been typed. */
  const allOf = (takes: (command: Command) => { readonly options: Command['options'] }) =>
    Object.fromEntries(takes(new Command()).options.map((one) => [one.attributeName(), 'given']));

  it.each([
    ['estimate', estimateTakes, 'tune', tuneTakes],
    ['year', yearTakes, 'tune', tuneTakes],
    ['replay', replayTakes, 'year', yearTakes],
  ] as const)('of %s are ones that %s knows', (_, from, to, takes) => {
    const flags = optionWords(allOf(from), [], takes).filter((word) => word.startsWith('--'));
    const known = knownOptions.get(to);
    expect(flags.length).toBeGreaterThan(3);
    expect(flags.filter((flag) => known?.has(flag) !== true)).toEqual([]);
  });

  it('leave out what is the default of the next command', () => {
    expect(optionWords({ seed: '1', zone: 'UTC' }, [], tuneTakes)).toEqual(['--zone', 'UTC']);
  });

  it('keep counts as they were typed', () => {
    const counts = { years: 3, all: true, life: '60d' };
    expect(optionWords(counts, ['all'], tuneTakes)).toEqual(['--years', '3', '--life', '60d']);
  });
});
