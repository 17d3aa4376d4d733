import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compileTable,
  type DeviceLogic,
  type LogicSettings,
  watchLogic,
} from '../../src/machine/index.js';
import { logicSettings } from '../support/arbitraries.js';
import { tableLogic } from '../support/table-logic.js';
import { type Choice, laws, walk, walks } from './device-laws.js';

const walksALogic = fc.array(walks, { minLength: 1, maxLength: 4 });

/** Breaches of the laws on some walks, each with the step that did it. */
function breaches<State>(
  logic: DeviceLogic<State>,
  settings: LogicSettings,
  drawn: readonly (readonly Choice[])[],
): string[] {
  const steps = drawn.flatMap((choices) => walk(logic, choices));
  return Object.entries(laws).flatMap(([law, holds]) =>
    steps.filter((step) => !holds(step, settings)).map((step) => `${law}: ${JSON.stringify(step)}`),
  );
}

describe('device logic keeps the laws', () => {
  it('as the statechart', () => {
    fc.assert(
      fc.property(logicSettings, walksALogic, (settings, drawn) => {
        expect(breaches(watchLogic(settings), settings, drawn)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('as the compiled table', () => {
    fc.assert(
      fc.property(logicSettings, walksALogic, (settings, drawn) => {
        const logic = tableLogic(compileTable(watchLogic(settings)));
        expect(breaches(logic, settings, drawn)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('the compiled table', () => {
  it('does on every walk what the statechart does', () => {
    fc.assert(
      fc.property(logicSettings, walksALogic, (settings, drawn) => {
        const chart = watchLogic(settings);
        const table = tableLogic(compileTable(chart));
        for (const choices of drawn) expect(walk(table, choices)).toEqual(walk(chart, choices));
      }),
      { numRuns: 30 },
    );
  });
});
