// `--logic`, in this process: the template of `init`, a machine of one's own, and files that are none.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadLogic } from '../../src/cli/host/load-logic.js';
import { automatonOf } from '../../src/emit/index.js';
import { plainWatch, programOf } from '../support/experiments.js';
import { codesIn, ioOf, ownFolder, runHere } from './run-here.js';

async function started(): Promise<string> {
  const folder = ownFolder();
  const ran = await runHere(folder, ['init', '--logic']);
  expect(ran.stdout).toContain('Wrote logic.mjs');
  return folder;
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
      ['estimate', '--profile', 'standard-day', '--years', '2', ...own],
    ];
    for (const args of runs) {
      const plain = args.filter((word) => word !== '--logic' && word !== 'logic.mjs');
      // Of states only the own logic knows which come to the same; how long a case took is not told alike, either.
      const told = async (words: readonly string[]) => {
        const ran = await runHere(folder, [...words, '--json']);
        return { ...ran, stdout: ran.stdout.replace(/"states": \d+/gu, '"states": n') };
      };
      expect(await told(args), args.join(' ')).toEqual(await told(plain));
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
    ['hunt', '--fault', 'alert-never-retried'],
    ['suite', '.', '--against-faults'],
    ['bounds', '--certificate', 'proof.json'],
  ])('does not go with what speaks of the own logic of the watch: %s %s', async (...args) => {
    const folder = await started();
    const ran = await runHere(folder, [...args, '--logic', 'logic.mjs']);
    expect(ran.status).toBe(2);
    expect(codesIn(ran.stderr)).toEqual(['options-exclude']);
  });
});
