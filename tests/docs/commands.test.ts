// The commands of the documents, run in order as a reader would: each ends with the status that the document gives, and prints
// what it shows. The README's are run by the built program, in a shell; those of docs/ in this process, which takes a third of the
// time, unless a line needs the shell. document.ts explains the marks in the documents.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runIn } from '../laws/support/in-process.js';
import { type Command, stepsOf } from './document.js';

const program = path.resolve('dist/cli.js');
const documents = [
  'README.md',
  ...readdirSync('docs')
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`)
    .filter((name) => stepsOf(readFileSync(name, 'utf8')).some(({ kind }) => kind === 'run')),
];

/** Commands of the project itself: `npm test` would run this test. */
const ofTheProject = /^npm (?:start|test|run) /u;

interface Ended {
  readonly status: number | null;
  readonly printed: string;
}

/** Runs a shell line in a folder where `npx dozewatch` is the program of this build. */
async function shell(line: string, folder: string): Promise<Ended> {
  const PATH = `${path.join(folder, '.bin')}${path.delimiter}${process.env['PATH'] ?? ''}`;
  const ran = spawn('bash', ['-c', line], {
    cwd: folder,
    env: { ...process.env, PATH, NO_COLOR: '1', FORCE_COLOR: undefined },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let printed = '';
  for (const out of [ran.stdout, ran.stderr]) {
    out.setEncoding('utf8').on('data', (text: string) => {
      printed += text;
    });
  }
  await once(ran, 'close');
  return { status: ran.exitCode, printed };
}

/** The arguments of a line that is one command of dozewatch and needs no shell; else null. */
function argumentsIn(line: string): readonly string[] | null {
  const [, words] = /^npx dozewatch ([^"'|<>&;$*~]*?)(?: +#.*)?$/u.exec(line) ?? [];
  return words?.split(/ +/u).filter((word) => word !== '') ?? null;
}

async function runLine(line: string, document: string, folder: string): Promise<Ended> {
  const args = document === 'README.md' ? null : argumentsIn(line);
  if (args === null) return shell(line, folder);
  const { status, stdout, stderr } = await runIn(folder, args);
  return { status, printed: stdout + stderr };
}

/** A reader's folder: the scenarios of the package, and `npx`; for pages of docs/ also what `init` writes. */
async function readersFolder(document: string): Promise<string> {
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-docs-'));
  cpSync('scenarios', path.join(folder, 'scenarios'), { recursive: true });
  const npx = path.join(folder, '.bin', 'npx');
  mkdirSync(path.dirname(npx));
  writeFileSync(npx, `#!/bin/sh\nshift\nexec "${process.execPath}" "${program}" "$@"\n`);
  chmodSync(npx, 0o755);
  if (document !== 'README.md') await runIn(folder, ['init']);
  return folder;
}

const runnable = ({ line }: Command): boolean => !ofTheProject.test(`${line} `);

describe.skipIf(process.platform === 'win32').each(documents)('the commands of %s', (document) => {
  let folder = '';
  beforeAll(async () => {
    if (!existsSync(program)) throw new Error('npm run build comes first');
    folder = await readersFolder(document);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const steps = stepsOf(readFileSync(document, 'utf8'));
  it.each(steps.map((step) => [step.title, step] as const))('%s', async (_, step) => {
    if (step.kind === 'file') {
      writeFileSync(path.join(folder, step.title), step.text);
      return;
    }
    let printed = '';
    for (const { line, status } of step.commands.filter(runnable)) {
      const ended = await runLine(line, document, folder);
      expect({ line, status: ended.status }, ended.printed).toEqual({ line, status });
      printed += ended.printed;
    }
    if (step.shown !== null) expect(printed).toMatch(step.shown);
  });
});
