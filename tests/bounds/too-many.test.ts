// A search that outgrows its limit: it says what to leave out, and the larger one after it is not begun.
import { expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { modelOf, searchesFor } from '../../src/bounds/bounds.js';
import { searchesOf } from '../../src/bounds/bounds-of.js';
import { search } from '../../src/bounds/search.js';
import { questionOf } from './question.js';

const faults = {
  longestOutageMs: trueMs(3_600_000),
  powerLosses: 2,
  longestPowerLossMs: trueMs(60_000),
  resets: 1,
};

it('says which faults to leave out, those that multiply the states most first', () => {
  const environment = { ...faults, outages: 2, longestChatterMs: trueMs(30_000) };
  const { searches, unknown } = searchesOf(questionOf({ wakeOn: 'opening' }, { environment }), 500);
  expect([searches.atRest, searches.anyState]).toEqual([null, null]);
  const [atRest, anyState, ...others] = unknown;
  expect(atRest?.sentence).toContain(
    'without longestChatter, without resets, with powerLosses: 1 or with outages: 1 it may finish',
  );
  expect(atRest?.mostStates).toBe(500);
  expect(anyState?.bounds).toContain('alwaysReportedFromMs.anyState');
  expect(others.map(({ bounds }) => bounds[0])).toEqual(['neverAlarmedUpToMs']);
});

it('names what else makes the states many where no fault may happen', () => {
  const watch = { heartbeatIntervalMs: null, escalationThreshold: { open: 3, outOf: 5 } };
  const { unknown } = searchesOf(questionOf(watch), 3);
  expect(unknown[0]?.sentence).toContain('with a smaller escalationThreshold it may finish');
});

it('meets more states from any state than at rest', () => {
  for (const wakeOn of ['timer', 'opening'] as const) {
    const model = modelOf(questionOf({ wakeOn }, { environment: faults }));
    const nodes = (name: 'atRest' | 'anyState') => search(model, searchesFor[name]).nodes;
    expect(nodes('anyState')).toBeGreaterThan(nodes('atRest'));
  }
});
