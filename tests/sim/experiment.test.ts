// What many settings that are tried share: each logic is compiled once.
import { expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { compileWatch, compileWatches } from '../../src/sim/index.js';
import { watchWith } from '../support/experiments.js';

const plain = watchWith({});
const slower = watchWith({ checkIntervalMs: deviceMs(240_000) });
const stricter = watchWith({ escalationThreshold: { open: 3, outOf: 3 } });

it('watches that differ in times alone share one table, which is that of each', () => {
  const programOf = compileWatches();
  const first = programOf(plain);
  const second = programOf(slower);
  expect(second.table).toBe(first.table);
  expect([first.watch, second.watch]).toEqual([plain, slower]);
  expect(first.table).toEqual(compileWatch(plain).table);
});

it('watches with different logic have a table each', () => {
  const programOf = compileWatches();
  const first = programOf(plain);
  const other = programOf(stricter);
  expect(other.table).toEqual(compileWatch(stricter).table);
  expect(other.table).not.toEqual(first.table);
  expect(programOf(plain).table).toBe(first.table);
});

it('a watch that is compiled before is not compiled again', () => {
  const known = compileWatch(plain);
  const programOf = compileWatches(known);
  expect(programOf(slower).table).toBe(known.table);
  expect(programOf(stricter).table).not.toBe(known.table);
});
