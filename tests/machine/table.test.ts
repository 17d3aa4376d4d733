import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InvariantError } from '../../src/base/index.js';
import {
  codeOf,
  compileTable,
  type DeviceEffect,
  type DeviceInput,
  type DeviceLogic,
  effectBit,
  effectCell,
  impossible,
  initialMemory,
  inputCode,
  inputCodes,
  type LogicSettings,
  logicKey,
  nextState,
  watchLogic,
  wokenState,
} from '../../src/machine/index.js';
import { logicSettings } from '../support/arbitraries.js';
import { plainWatch, watchWith } from '../support/experiments.js';
import { once } from '../support/once.js';

const plainTable = once(() => compileTable(watchLogic(plainWatch)));

function cell(state: number, input: DeviceInput): number {
  return state * inputCodes + codeOf(input);
}

describe('the columns of the table', () => {
  it('are all different', () => {
    const facts = [false, true];
    const inputs: DeviceInput[] = [
      ...(['power-on', 'reset', 'timer', 'contact'] as const).map(
        (cause): DeviceInput => ({ type: 'wake', cause }),
      ),
      ...(['open', 'shut'] as const).flatMap((contact) =>
        facts.flatMap((cooldownOver) =>
          facts.flatMap((heartbeatDue) =>
            facts.map(
              (lowBatteryDue): DeviceInput => ({
                type: 'check',
                contact,
                cooldownOver,
                heartbeatDue,
                lowBatteryDue,
              }),
            ),
          ),
        ),
      ),
      ...facts.map((delivered): DeviceInput => ({ type: 'alertAttempted', delivered })),
      ...facts.map((delivered): DeviceInput => ({ type: 'heartbeatAttempted', delivered })),
      ...facts.map((delivered): DeviceInput => ({ type: 'lowBatteryAttempted', delivered })),
      { type: 'powerLost' },
    ];
    const codes = new Set(inputs.map(codeOf));
    expect(codes.size).toBe(inputs.length);
    expect(Math.min(...codes)).toBe(0);
    expect(Math.max(...codes)).toBe(inputCodes - 1);
  });

  it('let the facts of a check be read off', () => {
    for (const bit of [
      inputCode.checkReadsOpen,
      inputCode.checkCooldownOver,
      inputCode.checkHeartbeatDue,
      inputCode.checkLowBatteryDue,
    ]) {
      expect(inputCode.check & bit).toBe(0);
    }
  });
});

describe('the table', () => {
  it('starts without power, where only power can come', () => {
    const table = plainTable();
    expect(table.phases[table.initial]).toBe('off');
    expect(table.next[cell(table.initial, { type: 'wake', cause: 'timer' })]).toBe(impossible);
    expect(table.next[cell(table.initial, { type: 'wake', cause: 'reset' })]).toBe(impossible);
    expect(table.next[cell(table.initial, { type: 'powerLost' })]).toBe(impossible);
    expect(table.next[cell(table.initial, { type: 'wake', cause: 'power-on' })]).toBeGreaterThan(0);
  });

  it('is woken without power by power-on, and by a reset that cleared memory', () => {
    const table = plainTable();
    const { wake } = inputCode;
    const on = nextState(table, table.initial, wake['power-on']);
    expect(wokenState(table, table.initial, wake['power-on'])).toBe(on);
    expect(wokenState(table, table.initial, wake.reset)).toBe(on);
    expect(() => wokenState(table, table.initial, wake.timer)).toThrow(InvariantError);
    expect(wokenState(table, on, wake.reset)).toBe(nextState(table, on, wake.reset));
  });

  it('has a cell for each input in each state, and leads to states that it has', () => {
    const table = plainTable();
    expect(table.next.length).toBe(table.phases.length * inputCodes);
    expect(table.effects.length).toBe(table.next.length);
    for (const next of table.next) {
      expect(next).toBeGreaterThanOrEqual(impossible);
      expect(next).toBeLessThan(table.phases.length);
    }
  });

  it('of the plain watch is small, and grows with what must be remembered', () => {
    const table = plainTable();
    const states = (changes: Parameters<typeof watchWith>[0]) =>
      compileTable(watchLogic(watchWith(changes))).phases.length;
    expect(table.phases.length).toBeLessThan(60);
    expect(
      states({ escalationThreshold: { open: 2, outOf: 4 }, clearThreshold: 3 }),
    ).toBeGreaterThan(table.phases.length);
  });

  it('answers an input that can come, and refuses one that cannot', () => {
    const table = plainTable();
    const powerOn = codeOf({ type: 'wake', cause: 'power-on' });
    const reset = codeOf({ type: 'wake', cause: 'reset' });
    expect(table.phases[nextState(table, table.initial, powerOn)]).toBe('awake');
    expect(() => nextState(table, table.initial, reset)).toThrow(InvariantError);
    expect(() => nextState(table, table.phases.length, powerOn)).toThrow(InvariantError);
    expect(effectCell(table, table.initial, reset)).toBe(0);
    expect(effectCell(table, table.phases.length, powerOn)).toBe(0);
  });

  it('tells the three sleeps apart', () => {
    const { sleepCheck, sleepRecheck, sleepRetry, sleepMask } = effectBit;
    expect(new Set([sleepCheck, sleepRecheck, sleepRetry]).size).toBe(3);
    expect(sleepCheck | sleepRecheck | sleepRetry).toBe(sleepMask);
  });

  it('refuses logic that does one thing twice in a reaction', () => {
    const twice: DeviceEffect[] = [{ type: 'blink' }, { type: 'blink' }];
    const logic: DeviceLogic<string> = {
      initial: 'off',
      react: () => ({ state: 'off', effects: twice }),
      plainest: (_, input) => input,
      phase: () => 'off',
      memory: () => initialMemory(1),
      key: (state) => state,
    };
    expect(() => compileTable(logic)).toThrow(InvariantError);
  });

  it('keeps whether a heartbeat was delivered, for logic that uses it', () => {
    const logic: DeviceLogic<string> = {
      initial: 'off',
      react: (_, input) => {
        const named = input.type === 'heartbeatAttempted' ? String(input.delivered) : 'sending';
        return { state: named, effects: [] };
      },
      plainest: (_, input) => input,
      phase: (state) => (state === 'off' ? 'off' : 'sendingHeartbeat'),
      memory: (state) => ({ ...initialMemory(1), shutRun: state === 'true' ? 1 : 0 }),
      key: (state) => state,
    };
    const table = compileTable(logic);
    const sending = nextState(table, 0, codeOf({ type: 'wake', cause: 'power-on' }));
    for (const delivered of [false, true]) {
      const to = nextState(table, sending, codeOf({ type: 'heartbeatAttempted', delivered }));
      expect(table.memories[to]?.shutRun).toBe(delivered ? 1 : 0);
    }
  });
});

describe('the key of a logic', () => {
  it('is another for every setting that is another', () => {
    fc.assert(
      fc.property(logicSettings, logicSettings, (logic, other) => {
        for (const [name, value] of Object.entries(other)) {
          const changed: LogicSettings = { ...logic, [name]: value };
          expect(logicKey(changed) === logicKey(logic), name).toBe(
            isDeepStrictEqual(changed, logic),
          );
        }
      }),
    );
  });
});
