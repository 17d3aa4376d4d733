// Files in and out: what cannot be text is refused in words; what is written is written whole or not at all.
import { execFile, execFileSync } from 'node:child_process';
import { chmodSync, lstatSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it, vi } from 'vitest';
import { removeLeftovers } from '../../src/cli/host/interrupt.js';
import { readText } from '../../src/cli/host/read-text.js';
import { writeOutput } from '../../src/cli/host/write-output.js';
import { InputProblem } from '../../src/cli/problem.js';
import { range } from '../support/range.js';
import { filesIn, ioOf, ownFolder } from './run-here.js';

const encoder = new TextEncoder();

async function codeOf(work: Promise<unknown>): Promise<string | undefined> {
  try {
    await work;
  } catch (error) {
    if (error instanceof InputProblem) return error.diagnostics[0]?.code;
    throw error;
  }
  return undefined;
}

describe('reading a text', () => {
  it.each([
    ['nothing.yaml', 'file-missing'],
    ['folder', 'file-is-folder'],
    ['empty.yaml', 'file-empty'],
    ['zero.yaml', 'file-not-text'],
    ['latin.yaml', 'file-not-text'],
    ['wide.yaml', 'file-not-text'],
    ['cut.yaml', 'file-not-text'],
    ['empty.yaml/x', 'file-missing'],
    ['bad\u0000name', 'file-missing'],
    ['x'.repeat(300), 'file-missing'],
  ])('refuses %j with %s', async (name, code) => {
    const folder = ownFolder({
      'empty.yaml': '',
      'zero.yaml': 'a: \u0000',
      'latin.yaml': Uint8Array.of(0x61, 0xe9, 0x62),
      'wide.yaml': Uint8Array.of(0xff, 0xfe, 0x61),
      'cut.yaml': Uint8Array.of(0x61, 0xe2, 0x82),
    });
    mkdirSync(path.join(folder, 'folder'));
    expect(await codeOf(readText(name, ioOf(folder)))).toBe(code);
  });

  it('refuses a file that may not be read', async () => {
    // Root may read everything: there the file is simply read.
    const folder = ownFolder({ 'secret.yaml': 'a: 1' });
    chmodSync(path.join(folder, 'secret.yaml'), 0);
    const root = process.getuid?.() === 0;
    expect(await codeOf(readText('secret.yaml', ioOf(folder)))).toBe(
      root ? undefined : 'file-unreadable',
    );
  });

  it('refuses what is too large to be written by hand', async () => {
    const folder = ownFolder({ 'large.yaml': 'x'.repeat(17 * 1024 * 1024) });
    expect(await codeOf(readText('large.yaml', ioOf(folder)))).toBe('file-too-large');
  });

  it('joins letters cut between chunks, and drops a byte order mark', async () => {
    const text = '\ufeffname: Kühlraum 冷蔵室 🚪\n';
    expect(await readText('-', ioOf('.', { stdin: text }))).toBe(text.slice(1));
    expect(await codeOf(readText('-', ioOf('.', { stdin: '' })))).toBe('file-empty');
    const half = encoder.encode('🚪').subarray(0, 2);
    expect(await codeOf(readText('-', ioOf('.', { stdin: half })))).toBe('file-not-text');
  });
});

describe('writing a file', () => {
  it('replaces the old one and leaves nothing else behind, in a folder made for it', async () => {
    const folder = ownFolder({ 'out.svg': 'old' });
    await writeOutput('out.svg', ['new', encoder.encode('er')], ioOf(folder));
    await writeOutput('deep/er/out.svg', ['x'], ioOf(folder), { inFolder: true });
    expect(filesIn(folder)).toEqual(['deep/er/out.svg', 'out.svg']);
    expect(readFileSync(path.join(folder, 'out.svg'), 'utf8')).toBe('newer');
  });

  it('keeps the old one when the new one fails half-way', async () => {
    const folder = ownFolder({ 'out.svg': 'old' });
    const failing = (function* () {
      yield 'x'.repeat(1_000_000);
      throw new RangeError('half-way');
    })();
    await expect(writeOutput('out.svg', failing, ioOf(folder))).rejects.toThrow('half-way');
    expect(filesIn(folder)).toEqual(['out.svg']);
    expect(readFileSync(path.join(folder, 'out.svg'), 'utf8')).toBe('old');
  });

  it('replaces what a link leads to, not the link', async () => {
    const folder = ownFolder({ 'real.svg': 'old' });
    symlinkSync('real.svg', path.join(folder, 'link.svg'));
    await writeOutput('link.svg', ['new'], ioOf(folder));
    expect(lstatSync(path.join(folder, 'link.svg')).isSymbolicLink()).toBe(true);
    expect(readFileSync(path.join(folder, 'real.svg'), 'utf8')).toBe('new');
  });

  it('writes to what is no plain file as it is', async () => {
    await writeOutput('/dev/null', ['gone'], ioOf('.'));
    expect(lstatSync('/dev/null').isCharacterDevice()).toBe(true);
  });

  it.skipIf(process.platform !== 'linux')(
    'says so where a system takes no folders, and at once',
    async () => {
      const io = ioOf(ownFolder());
      expect(await codeOf(writeOutput('/proc/no/such/a.svg', ['x'], io))).toBe('folder-missing');
      const made = writeOutput('/proc/no/such/a.svg', ['x'], io, { inFolder: true });
      expect(await codeOf(made)).toBe('cannot-write');
    },
  );

  it('makes every folder on the way, also when several files ask for it at once', async () => {
    const folder = ownFolder();
    const names = ['a', 'b', 'c'].map((name) => path.join('x', 'y', name));
    await Promise.all(
      names.map((name) => writeOutput(name, ['x'], ioOf(folder), { inFolder: true })),
    );
    expect(filesIn(folder)).toEqual(names);
  });

  it('says so where it cannot', async () => {
    const folder = ownFolder({ file: 'x' });
    mkdirSync(path.join(folder, 'folder'));
    writeFileSync(path.join(folder, 'folder', 'kept'), 'x');
    for (const [name, code] of [
      ['folder', 'output-is-folder'],
      ['folder/', 'output-is-folder'],
      ['new/', 'output-is-folder'],
      ['.', 'output-is-folder'],
      ['', 'output-unnamed'],
      ['nowhere/out.svg', 'folder-missing'],
      ['file/below', 'cannot-write'],
      ['bad\u0000name', 'cannot-write'],
      ['x'.repeat(300), 'cannot-write'],
      ['/dev/full', 'cannot-write'],
    ] as const) {
      expect(await codeOf(writeOutput(name, ['x'], ioOf(folder))), name).toBe(code);
    }
    expect(filesIn(folder)).toEqual(['file', 'folder/kept']);
  });
});

describe('an interrupt while a file is being written', () => {
  it('leaves the old one as it was, and nothing half-written', async () => {
    const folder = ownFolder({ 'out.svg': 'old' });
    let goOn: () => void = () => undefined;
    const paused = new Promise<void>((resolve) => (goOn = resolve));
    const chunks = (async function* () {
      yield 'half';
      await paused;
      yield 'rest';
    })();
    const writing = writeOutput('out.svg', chunks, ioOf(folder));
    const refused = expect(codeOf(writing)).resolves.toBe('cannot-write');
    await vi.waitFor(() => expect(filesIn(folder)).toHaveLength(2));
    removeLeftovers();
    expect(filesIn(folder)).toEqual(['out.svg']);
    expect(readFileSync(path.join(folder, 'out.svg'), 'utf8')).toBe('old');
    goOn();
    await refused;
  });
});

describe.skipIf(process.platform !== 'linux')('named pipes that nobody serves yet', () => {
  const runFile = promisify(execFile);
  /** More than Node has threads to wait in. */
  const names = range(0, 8).map((index) => `pipe-${String(index)}`);

  function folderOfPipes(): string {
    const folder = ownFolder({ plain: 'x' });
    execFileSync('mkfifo', names, { cwd: folder });
    return folder;
  }

  it('hold up nothing else while they are to be written', async () => {
    const folder = folderOfPipes();
    const io = ioOf(folder);
    const writing = names.map((name) => writeOutput(name, [name], io));
    expect(await readText('plain', io)).toBe('x');
    // By other processes: opening the pipes here would take the threads that the writers need.
    const read = names.map((name) => runFile('cat', [name], { cwd: folder }));
    expect((await Promise.all(read)).map(({ stdout }) => stdout)).toEqual(names);
    await Promise.all(writing);
  });

  it('hold up nothing else while they are to be read', async () => {
    const folder = folderOfPipes();
    const io = ioOf(folder);
    const read = names.map((name) => readText(name, io));
    expect(await readText('plain', io)).toBe('x');
    for (const name of names) {
      await runFile('sh', ['-c', 'printf %s "$1" > "$1"', 'sh', name], { cwd: folder });
    }
    expect(await Promise.all(read)).toEqual(names);
  });
});
