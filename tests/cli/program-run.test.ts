// The built program as a process: streams, signals and exit statuses as a shell sees them.
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { openSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { text } from 'node:stream/consumers';
import { setTimeout } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt, root } from '../../scripts/support/set-up.mjs';
import { filesIn, ownFolder } from './run-here.js';
import { calmDay, exactWatch, missedDay } from './scenes.js';

const program = path.join(root, 'dist', 'cli.js');

beforeAll(async () => ensureBuilt(), 120_000);

function start(folder: string, args: readonly string[]): ChildProcess {
  return spawn(process.execPath, [program, ...args], { cwd: folder, stdio: 'pipe' });
}

async function endOf(
  child: ChildProcess,
): Promise<{ code: number | null; stdout: string; stderr: string }> {
  const [stdout, stderr] = [child.stdout, child.stderr].map((stream) =>
    stream === null ? Promise.resolve('') : text(stream),
  );
  const [code] = await once(child, 'close');
  return { code, stdout: (await stdout) ?? '', stderr: (await stderr) ?? '' };
}

describe('the built program', () => {
  it('ends with 0, 1 and 2 as the input is', async () => {
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      'calm.yaml': calmDay,
      'missed.yaml': missedDay,
    });
    const codes = ['calm.yaml', 'missed.yaml', 'nowhere.yaml'].map(
      async (name) => (await endOf(start(folder, ['replay', name, '-c', 'watch.yaml']))).code,
    );
    expect(await Promise.all(codes)).toEqual([0, 1, 2]);
  });

  it('reads standard input', async () => {
    const child = start(ownFolder(), ['replay', '-', '--format', 'scenario', '--json']);
    child.stdin?.end(calmDay);
    const { code, stdout } = await endOf(child);
    expect(code).toBe(0);
    expect(JSON.parse(stdout).schema).toBe('dozewatch/replay/2');
  });

  it('runs a suite again when a file changes, and ends with a signal', async () => {
    const folder = ownFolder({ 'watch.yaml': exactWatch, 'calm.yaml': calmDay });
    const child = start(folder, ['suite', '.', '--on-change']);
    let printed = '';
    child.stdout?.setEncoding('utf8').on('data', (piece: string) => {
      printed += piece;
    });
    const passed = async (count: number): Promise<void> => {
      for (let tries = 0; printed.split(' passed').length <= count; tries += 1) {
        expect(tries, printed).toBeLessThan(600);
        await setTimeout(50);
      }
    };
    await passed(1);
    writeFileSync(path.join(folder, 'again.yaml'), calmDay);
    await passed(2);
    expect(printed).toContain('2 scenarios passed');
    child.kill('SIGINT');
    const [code, signal] = await once(child, 'exit');
    // To a shell both are 130.
    expect([130, 'SIGINT']).toContain(code ?? signal);
  });

  it('is quiet when its reader goes away', async () => {
    const openings = Array.from(
      { length: 20_000 },
      (_, index) => `  - { at: +${index * 20}s, for: 5s }`,
    );
    const folder = ownFolder({
      'long.yaml': `name: Long\nlength: 5d\ndoor:\n${openings.join('\n')}\n`,
    });
    const child = start(folder, ['replay', 'long.yaml', '--json']);
    child.stdout?.once('data', () => child.stdout?.destroy());
    const errors = child.stderr === null ? Promise.resolve('') : text(child.stderr);
    const [code] = await once(child, 'exit');
    expect(await errors).toBe('');
    expect([0, 1]).toContain(code);
  });

  it('says so, with 2, when what it writes to is full', async () => {
    const folder = ownFolder({ 'calm.yaml': calmDay });
    const full = openSync('/dev/full', 'w');
    const child = spawn(process.execPath, [program, 'replay', 'calm.yaml'], {
      cwd: folder,
      stdio: ['ignore', full, 'pipe'],
    });
    const { code, stderr } = await endOf(child);
    expect(code).toBe(2);
    expect(stderr).toContain('[cannot-write]');
  });

  it.each([
    ['SIGINT', 130],
    ['SIGTERM', 143],
  ] as const)('ends on %s with %i and leaves no file behind', async (signal, wanted) => {
    const folder = ownFolder();
    const child = start(folder, ['replay', '-', '--format', 'csv', '--trace', 'wakes.ndjson']);
    // More than a pipe holds: once all of it is taken, the program is up and reading.
    const rows = '2026-05-08T06:02:30Z,2026-05-08T06:02:30Z\n'.repeat(20_000);
    await new Promise((resolve) => child.stdin?.write(`start,end\n${rows}`, resolve));
    child.kill(signal);
    const ended = once(child, 'exit');
    const { stderr } = await endOf(child);
    const [code, by] = await ended;
    // To a shell both are the status.
    expect([wanted, signal]).toContain(code ?? by);
    expect(stderr).toBe('');
    expect(filesIn(folder)).toEqual([]);
  });

  it('ends at once while it reads a long scenario, which it does in one go', async () => {
    const folder = ownFolder();
    const child = start(folder, ['replay', '-', '--format', 'scenario']);
    // Takes most of a minute to read.
    const entries = Array.from(
      { length: 150_000 },
      (_, index) => `  - { at: +${String(index * 60)}s, for: 20s }\n`,
    );
    const scenario = `name: Long\nlength: 3650d\ndoor:\n${entries.join('')}`;
    await new Promise((resolve) => child.stdin?.end(scenario, () => resolve(null)));
    await setTimeout(1_000);
    child.kill('SIGINT');
    const [code, signal] = await once(child, 'close');
    // A handler of the program would have ended it with a code, and only after all was read.
    expect([code, signal]).toEqual([null, 'SIGINT']);
    expect(filesIn(folder)).toEqual([]);
  });

  it('ends at once while it simulates years that take long, also where Ctrl-C reports those done', async () => {
    const folder = ownFolder({
      'busy.yaml': 'openingsPerHour: { "0-24": 360 }\nduration: { exponential: { mean: 2s } }\n',
      'watch.yaml': 'watch: { checkInterval: 1s, retry: { interval: 1s } }\n',
    });
    const years = ['--profile', 'busy.yaml', '--years', '400', '-c', 'watch.yaml'];
    const child = start(folder, ['estimate', ...years]);
    await setTimeout(1_500);
    child.kill('SIGTERM');
    const [code, signal] = await once(child, 'close');
    expect([code, signal]).toEqual([null, 'SIGTERM']);
  });

  it('replays a suite of hundreds in workers, with the same findings in the same order', async () => {
    const names = Array.from(
      { length: 260 },
      (_, index) => `s${String(index).padStart(3, '0')}.yaml`,
    );
    const texts = names.map(
      (name, index) => [name, index % 100 === 7 ? missedDay : calmDay] as const,
    );
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      ...Object.fromEntries(texts),
      'zz.yaml': 'x: 1\n',
    });
    const { code, stdout } = await endOf(start(folder, ['suite', '.', '--json']));
    expect(code).toBe(2);
    const found = JSON.parse(stdout);
    expect(found).toMatchObject({ total: 261, passed: 257, failed: 3, errors: 1 });
    const files: string[] = found.scenarios.map((one: { file: string }) => one.file);
    expect(files).toEqual([...names, 'zz.yaml']);
    expect(found.scenarios[7].unmet).toMatchObject([{ name: 'missed' }]);
  });
});

/** Some CI systems count as terminals with colours. */
const plainEnv = { ...process.env, NO_COLOR: '1' };

describe('the built program and what is no plain file', () => {
  it.skipIf(process.platform === 'win32')('says with 2 that its folder is gone', async () => {
    const folder = ownFolder({ 'calm.yaml': calmDay });
    const line = 'mkdir gone && cd gone && rmdir ../gone && exec "$0" "$@"';
    const args = ['-c', line, process.execPath, program, 'replay', path.join(folder, 'calm.yaml')];
    const { code, stderr } = await endOf(
      spawn('sh', args, { cwd: folder, stdio: 'pipe', env: plainEnv }),
    );
    expect(code).toBe(2);
    expect(stderr).toMatch(/^error: .* \[folder-gone\]\n {2}hint:/u);
    expect(stderr).not.toMatch(/\n {4}at /u);
  });

  it.skipIf(process.platform === 'win32')(
    'writes into a pipe by its name, and into standard output by its own',
    async () => {
      const folder = ownFolder({ 'calm.yaml': calmDay });
      const draw = `"$0" "$1" chart calm.yaml --no-config --svg -o`;
      const line = `mkfifo pipe; ${draw} plain.svg; ${draw} pipe & cat pipe > a.svg; wait; ${draw} /dev/stdout > b.svg; ${draw} /dev/null`;
      const args = ['-c', line, process.execPath, program];
      const { stderr } = await endOf(spawn('sh', args, { cwd: folder, stdio: 'pipe' }));
      expect(stderr).toBe('');
      const read = (name: string): string => readFileSync(path.join(folder, name), 'utf8');
      expect(read('a.svg')).toBe(read('plain.svg'));
      expect(read('b.svg').startsWith(read('plain.svg'))).toBe(true);
      expect(filesIn(folder)).toEqual(['a.svg', 'b.svg', 'calm.yaml', 'plain.svg']);
    },
  );

  it.skipIf(process.platform === 'win32')('refuses an input that is redirected to it', async () => {
    const folder = ownFolder({ 'watch.yaml': exactWatch, 'calm.yaml': calmDay });
    const line = `"$0" "$1" bounds -c - --certificate watch.yaml < watch.yaml; "$0" "$1" replay calm.yaml --chart out.svg > out.svg`;
    const args = ['-c', line, process.execPath, program];
    const { stderr } = await endOf(spawn('sh', args, { cwd: folder, stdio: 'pipe' }));
    expect(stderr).toContain('[output-is-input]');
    expect(stderr).toContain('[output-twice]');
    expect(readFileSync(path.join(folder, 'watch.yaml'), 'utf8')).toBe(exactWatch);
  });
});
