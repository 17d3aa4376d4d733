// `--logic`, in this process: the template of `init`, a machine of one's own, and files that are none.
import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { compileAside } from '../../src/cli/logic/compile-aside.js';
import { loadLogic } from '../../src/cli/logic/load.js';
import { InputProblem } from '../../src/cli/problem.js';
import { automatonOf } from '../../src/emit/index.js';
import { plainWatch, programOf } from '../support/experiments.js';
import { codesIn, ioOf, ownFolder, runHere } from './run-here.js';

async function started(): Promise<string> {
  const folder = ownFolder();
  const ran = await runHere(folder, ['init', '--logic']);
  expect(ran.stdout).toContain('Wrote logic.mjs');
  return folder;
}

/** The built program in a process of its own; whatever runs the tests, without colours. */
function ownProcess(folder: string, args: readonly string[]) {
  const env = { ...process.env, NO_COLOR: '1' };
  return spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8', env });
}

describe('--logic', () => {
  it('with the template decides just as the plain watch does', async () => {
    const folder = await started();
    const table = await loadLogic('logic.mjs', plainWatch, ioOf(folder));
    const behaviour = (program: Parameters<typeof automatonOf>[0]) =>
      automatonOf(program).states.map(({ phase, reactions }) => ({ phase, reactions }));
    const program = programOf(plainWatch);
    expect(behaviour({ ...program, table })).toEqual(behaviour(program));
  });

  it('runs in replay, suite, hunt, bounds and estimate, and a mistake in it shows', async () => {
    const folder = await started();
    const own = ['-c', 'watch.yaml', '--logic', 'logic.mjs'];
    const runs = [
      ['replay', 'first-scenario.yaml', ...own],
      ['suite', '.', '--logic', 'logic.mjs'],
      ['bounds', ...own],
      ['estimate', '--profile', 'seed-bank', '--years', '2', ...own],
    ];
    for (const args of runs) {
      const plain = args.filter((word) => word !== '--logic' && word !== 'logic.mjs');
      // Of states only the own logic knows which come to the same; how long a case took is not told alike, either.
      const told = async (words: readonly string[]) => {
        const ran = await runHere(folder, [...words, '--json']);
        return {
          ...ran,
          stdout: ran.stdout.replace(/"states": \d+/gu, '"states": n').replace(/"logic": .+/gu, ''),
        };
      };
      const own = await told(args);
      expect(own, args.join(' ')).toEqual(await told(plain));
      expect([own.stderr, own.stdout === ''], args.join(' ')).toEqual(['', false]);
    }
    // The threshold is forgotten: the first open check alerts.
    const text = readFileSync(path.join(folder, 'logic.mjs'), 'utf8');
    const mistaken = text.replace('threshold: input.escalationThreshold.open', 'threshold: 1');
    writeFileSync(path.join(folder, 'mistaken.mjs'), mistaken);
    const hunt = [
      'hunt',
      '-c',
      'watch.yaml',
      '--logic',
      'mistaken.mjs',
      '--property',
      'no-false-alarm',
      '--json',
    ];
    const ran = await runHere(folder, hunt);
    expect(ran.status, ran.stderr).toBe(1);
    expect(JSON.parse(ran.stdout)).toMatchObject({ found: true });
    expect(ran.stdout).toContain('--logic mistaken.mjs');
  });

  it.each([
    ['file-missing', 'nothing.mjs', ''],
    ['logic-no-machine', 'empty.mjs', ''],
    ['logic-no-machine', 'other.mjs', 'export const machine = 7;'],
    ['logic-throws', 'throws.mjs', "throw new Error('no such door');"],
    ['logic-throws', 'broken.mjs', 'export const machine = {'],
    ['logic-throws', 'made.mjs', 'export const machine = ({ nothing }) => nothing();'],
    [
      'logic-refused',
      'idle.mjs',
      'export const machine = ({ setup }) => setup({}).createMachine({});',
    ],
  ])('tells with one error (%s) what is wrong with %s', async (code, name, text) => {
    const folder = ownFolder(name === 'nothing.mjs' ? {} : { [name]: text });
    const ran = await runHere(folder, ['bounds', '--logic', name]);
    expect({ status: ran.status, stdout: ran.stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(ran.stderr)).toEqual([code]);
  });

  it.each([
    ['suite', '.'],
    ['replay', 'first-scenario.yaml', '-c', 'watch.yaml'],
    ['hunt', '-c', 'watch.yaml'],
    ['bounds', '-c', 'watch.yaml'],
    ['estimate', '-c', 'watch.yaml', '--profile', 'seed-bank'],
  ])('ends with 2 and one error in each command where a machine throws: %s', async (...args) => {
    const folder = await started();
    const text = readFileSync(path.join(folder, 'logic.mjs'), 'utf8');
    const thrown = text.replaceAll('assign(', 'assign(() => { throw new Error("no"); }, ');
    expect(thrown).not.toBe(text);
    writeFileSync(path.join(folder, 'throws.mjs'), thrown);
    const ran = await runHere(folder, [...args, '--logic', 'throws.mjs']);
    expect({ status: ran.status, stdout: ran.stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(ran.stderr)).toEqual(['logic-throws']);
    expect(ran.stderr).not.toMatch(/^ +at /mu);
  });

  it.each([
    ['logic-never-answers', 'export const machine = await new Promise(() => {});'],
    ['logic-throws', 'process.exit(0);'],
    [
      'logic-throws',
      'Promise.reject(new Error("loose")); await new Promise((r) => setTimeout(r, 500));',
    ],
  ])('of a module that does not come to its end is one error: %s', (code, text) => {
    const folder = ownFolder({ 'odd.mjs': text });
    const program = path.resolve('dist', 'cli.js');
    const args = [program, 'bounds', '--logic', 'odd.mjs'];
    const ran = ownProcess(folder, args);
    expect({ status: ran.status, stdout: ran.stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(ran.stderr)).toEqual([code]);
  });

  it.each([
    [
      'from xstate, though its folder has none',
      'imports.mjs',
      "import { setup, assign } from 'xstate';\nexport const machine =",
    ],
    [
      'as a promise of a machine',
      'later.mjs',
      'export const machine = async ({ setup, assign }) =>',
    ],
    ['as a CommonJS module', 'common.cjs', 'module.exports = ({ setup, assign }) =>'],
  ])('takes the template %s', async (_, name, head) => {
    const folder = await started();
    const text = readFileSync(path.join(folder, 'logic.mjs'), 'utf8');
    writeFileSync(
      path.join(folder, name),
      text.replace('export const machine = ({ setup, assign }) =>', head),
    );
    const args = [path.resolve('dist', 'cli.js'), 'bounds', '-c', 'watch.yaml', '--logic', name];
    const ran = ownProcess(folder, args);
    expect({ status: ran.status, stderr: ran.stderr }).toEqual({ status: 0, stderr: '' });
  });

  it('is JavaScript: another language is refused', () => {
    const folder = ownFolder({ 'store.json': '{}' });
    const args = [path.resolve('dist', 'cli.js'), 'bounds', '--logic', 'store.json'];
    const ran = ownProcess(folder, args);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toEqual(['logic-not-javascript']);
  });

  it.each([
    ['its module', 'for (;;);'],
    [
      'its machine',
      'export const machine = ({ setup }) => setup({ guards: { never: () => { for (;;); } } }).createMachine({' +
        " initial: 'off', states: { off: { always: { guard: 'never', target: 'off' } } } });",
    ],
  ])('is given up, and its thread ended, where %s goes round for ever', async (_, text) => {
    const folder = ownFolder({ 'round.mjs': text });
    const worker = path.resolve('dist', 'logic-worker.js');
    const task = { target: path.join(folder, 'round.mjs'), settings: plainWatch };
    const on = { file: 'round.mjs', io: ioOf(folder), mostMs: 1_000 };
    const found: unknown = await compileAside(worker, task, on).catch((error: unknown) => error);
    // What is thrown so ends a command with status 2, as above.
    if (!(found instanceof InputProblem))
      throw new Error(`no problem of the input: ${String(found)}`);
    expect(found.diagnostics).toMatchObject([
      {
        code: 'logic-never-answers',
        source: { file: 'round.mjs' },
        expected: 'a result within 1 s',
      },
    ]);
  });

  it('is told in the parts of an estimate, and parts of another logic do not merge', async () => {
    const folder = await started();
    const base = ['estimate', '-c', 'watch.yaml', '--profile', 'seed-bank', '--years', '4'];
    const text = readFileSync(path.join(folder, 'logic.mjs'), 'utf8');
    const eager = text.replace('threshold: input.escalationThreshold.open', 'threshold: 1');
    writeFileSync(path.join(folder, 'eager.mjs'), eager);
    const shard = async (index: number, logic: readonly string[]): Promise<void> => {
      const out = ['--shard', `${String(index)}/2`, '-o', `part-${String(index)}.json`];
      expect((await runHere(folder, [...base, ...logic, ...out])).status).toBe(0);
    };
    const own = ['--logic', 'eager.mjs'];
    const merge = ['merge', 'part-1.json', 'part-2.json', '--json'];
    await shard(1, own);
    await shard(2, own);
    expect(await runHere(folder, merge)).toEqual(
      await runHere(folder, [...base, ...own, '--json']),
    );
    await shard(2, []);
    const mixed = await runHere(folder, merge);
    expect([mixed.status, ...codesIn(mixed.stderr)]).toEqual([2, 'part-of-another']);
    expect(mixed.stderr).toContain('another logic');
    // The same name, and another machine in it.
    writeFileSync(path.join(folder, 'eager.mjs'), text);
    // In a process of its own: this one has imported the module of that name before.
    const args = [...base, ...own, '--shard', '2/2', '-o', 'part-2.json'];
    const ran = ownProcess(folder, [path.resolve('dist', 'cli.js'), ...args]);
    expect(ran.status).toBe(0);
    expect(codesIn((await runHere(folder, merge)).stderr)).toEqual(['part-of-another']);
  });

  it.each([
    ['hunt', '--mistake', 'alert-never-retried'],
    ['suite', '.', '--against-mistakes'],
    ['bounds', '--certificate', 'proof.json'],
  ])('does not go with what speaks of the own logic of the watch: %s %s', async (...args) => {
    const folder = await started();
    const ran = await runHere(folder, [...args, '--logic', 'logic.mjs']);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toEqual(['options-exclude']);
  });
});
