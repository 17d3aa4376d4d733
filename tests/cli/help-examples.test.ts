// Every example that a --help shows, taken from its text and run, in a folder that has the files which it names.
import { readdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commandTable } from '../../src/cli/commands.js';
import { exampleFiles, exampleFolder } from './help-example-files.js';
import { type Ran, runHere } from './run-here.js';

/** Less of the same where an example asks for minutes of work. Each is met by some example. */
const less: readonly (readonly [said: string, run: string])[] = [
  [' --for 30s', ' --for 1s'],
  [' --runs 20000', ' --runs 200'],
  [' --years 10000 ', ' '],
  [' --years 100000 ', ' --years 4 '],
  [' --years 1000000 ', ' --years 80 '],
  [' --precision 5%', ' --precision 40%'],
  [' --years 100000 ', ' --years 4 '],
  ['estimate -c watch.yaml --profile flower-store', 'estimate --profile flower-store --years 5'],
  ['estimate -c watch.yaml --profile my-store.yaml', 'estimate --profile my-store.yaml --years 5'],
  [' --profile-from doors.csv', ' --profile-from doors.csv --years 5'],
  [' --sure-from 5m', ' --sure-from 5m --interval 5m --threshold 2 --years 5'],
  [' --conform ', ' --conform --runs 40 '],
  [' --wake-on timer', ' --wake-on timer --interval 5m --threshold 2 --years 5'],
  [' --interval 1m..10m/30s --threshold 2,2/3', ' --interval 5m --threshold 2,2/3 --years 5'],
  [
    ' --interval 2m,5m --clear 1..3 --heartbeat off,12h,1d',
    ' --interval 5m --recheck 1m --threshold 2 --clear 1,2 --heartbeat off,1d --years 5',
  ],
  [' --any-state', ' --any-state --interval 5m --recheck 1m --threshold 2 --years 5'],
  // A watch with fewer states has a shorter drill, sooner found.
  ['drill -c watch.yaml', 'drill -c soon.yaml'],
  // A browser would come up.
  [' --open', ''],
];

interface Example {
  /** As the help shows it, on one line and without its remark. */
  readonly shown: string;
  readonly args: readonly string[];
  readonly stdin: string;
  /** Where what it prints goes. */
  readonly into: string | null;
}

function examplesIn(help: string): readonly string[] {
  const [, block = ''] = /^Examples:\n((?: {2}.*\n)+)/mu.exec(help) ?? [];
  const lines = block.replaceAll(/\\\n\s+/gu, '').split('\n');
  return lines.map((line) => line.replace(/^ {2}/u, '').replace(/ {3,}.*$/u, '')).filter(Boolean);
}

/** What a shell makes of a line, as far as examples go: words, quotes, one file to print to, one pipe to read from. */
function parsed(shown: string, folder: string): Example {
  const cheap = less.reduce((line, [said, run]) => line.replace(said, run), shown);
  const [, source, line = ''] = /^(?:(\S+) \| )?dozewatch (.*)$/u.exec(cheap) ?? [];
  const [, command = '', into = null] = /^(.*?)(?: >>? (.+))?$/u.exec(line) ?? [];
  const words = Array.from(command.matchAll(/"([^"]*)"|\S+/gu), ([word, quoted]) => quoted ?? word);
  const args = words.flatMap((word) => {
    const [, parent, ending] = /^(\w+)\/\*(\.\w+)$/u.exec(word) ?? [];
    if (parent === undefined || ending === undefined) return [word];
    const names = readdirSync(path.join(folder, parent)).filter((name) => name.endsWith(ending));
    return names.sort().map((name) => `${parent}/${name}`);
  });
  return { shown, args, stdin: source === undefined ? '' : exampleFiles['doors.ndjson'], into };
}

async function runExample({ args, stdin, into }: Example, folder: string): Promise<Ran> {
  // The C compiler finds its parts by the path.
  const ran = await runHere(folder, args, {
    stdin,
    environment: { PATH: process.env['PATH'] ?? '' },
  });
  if (into?.endsWith('.yaml') === true) writeFileSync(path.join(folder, into), ran.stdout);
  return ran;
}

const helps = await Promise.all(
  commandTable.map(async ({ name }) => {
    const { stdout } = await runHere('.', [name, '--help']);
    return { name, examples: examplesIn(stdout) };
  }),
);

describe('every example of --help runs as it stands', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await exampleFolder();
  }, 60_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(helps)('$name', async ({ name, examples }) => {
    expect(examples.length).toBeGreaterThanOrEqual(2);
    for (const shown of examples) {
      const example = parsed(shown, folder);
      const named = commandTable.some((entry) => entry.name === example.args[0]);
      expect(named, `${name} --help shows: ${shown}`).toBe(true);
      const { status, stderr } = await runExample(example, folder);
      expect([0, 1], `${shown}\n${stderr}`).toContain(status);
      expect(stderr, shown).not.toContain('error:');
    }
  });

  it('in full, or with less work where that is said here', () => {
    const all = helps.flatMap(({ examples }) => examples);
    for (const [said] of less) expect(all.some((line) => `${line} `.includes(said))).toBe(true);
  });
});
