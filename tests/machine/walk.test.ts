// The walker of tables: possible inputs, reachable states, and equivalence classes against a table-filling algorithm.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  codeOf,
  compileTable,
  effectCell,
  equivalenceClasses,
  inputCode,
  inputCodes,
  inputsAllowed,
  inputsInTime,
  isCheckCode,
  nextState,
  type PossibleInputs,
  reachableStates,
  type WatchSettings,
  watchLogic,
} from '../../src/machine/index.js';
import { watchWith } from '../support/experiments.js';

function walked(settings: Parameters<typeof watchWith>[0]) {
  const watch: WatchSettings = watchWith(settings);
  const table = compileTable(watchLogic(watch));
  return { watch, table, inputs: inputsAllowed({ watch, table }) };
}

const watches = [
  {},
  { escalationThreshold: { open: 2, outOf: 3 } },
  { wakeOn: 'any-change', clearThreshold: 2 },
  { afterAlert: 'hold-until-reset', unsentWhenShut: 'drop' },
] as const;

/**
 * Pairs of states that some input sequence distinguishes, by marking pairs until nothing changes: the table-filling
 * algorithm of Hopcroft, Motwani and Ullman, Introduction to Automata Theory, section 4.4 (from memory).
 */
function distinguished(
  { table, inputs }: { table: ReturnType<typeof compileTable>; inputs: PossibleInputs },
  states: readonly number[],
): ReadonlySet<string> {
  const marked = new Set<string>();
  const isMarked = (one: number, other: number): boolean => marked.has(`${one},${other}`);
  const differ = (one: number, other: number): boolean => {
    const codes = inputs(one);
    if (table.phases[one] !== table.phases[other]) return true;
    if (codes.join() !== inputs(other).join()) return true;
    return codes.some(
      (code) =>
        effectCell(table, one, code) !== effectCell(table, other, code) ||
        isMarked(nextState(table, one, code), nextState(table, other, code)),
    );
  };
  for (let before = -1; before < marked.size; ) {
    before = marked.size;
    for (const one of states) {
      for (const other of states) {
        if (!isMarked(one, other) && differ(one, other)) marked.add(`${one},${other}`);
      }
    }
  }
  return marked;
}

describe('inputs that can come', () => {
  it('include a contact edge only where edges wake the device', () => {
    for (const wakeOn of ['timer', 'opening', 'any-change'] as const) {
      const { table, inputs } = walked({ wakeOn });
      const codes = new Set(reachableStates(table, inputs).flatMap((state) => inputs(state)));
      expect(codes.has(inputCode.wake.contact)).toBe(wakeOn !== 'timer');
    }
  });

  it('include a low battery to report only where the watch reports one', () => {
    const lowBattery = {
      level: { kind: 'share', sharePpm: 200_000 },
      repeatMs: deviceMs(1_000),
    } as const;
    for (const settings of [{}, { lowBattery }]) {
      const { table, inputs } = walked(settings);
      const codes = reachableStates(table, inputs).flatMap((state) => inputs(state));
      const checks = codes.filter((code) => isCheckCode(code));
      const low = checks.filter((code) => (code & inputCode.checkLowBatteryDue) !== 0);
      expect(low.length).toBe('lowBattery' in settings ? checks.length / 2 : 0);
    }
  });

  it('include a due heartbeat only where heartbeats are sent', () => {
    for (const heartbeats of [false, true]) {
      const { table, inputs } = walked({ heartbeats });
      const codes = reachableStates(table, inputs).flatMap((state) => inputs(state));
      const due = codes.filter(
        (code) => isCheckCode(code) && (code & inputCode.checkHeartbeatDue) !== 0,
      );
      expect(due.length > 0).toBe(heartbeats);
    }
  });

  it.each(watches)('include a loss of power wherever there is power: %j', (settings) => {
    const { table, inputs } = walked(settings);
    for (const state of reachableStates(table, inputs)) {
      const powered = table.phases[state] !== 'off';
      expect(inputs(state).includes(inputCode.powerLost)).toBe(powered);
    }
  });

  it('are checks in sixteen columns', () => {
    const facts = [false, true];
    const checks = (['open', 'shut'] as const).flatMap((contact) =>
      facts.flatMap((cooldownOver) =>
        facts.flatMap((heartbeatDue) =>
          facts.map((lowBatteryDue) =>
            codeOf({ type: 'check', contact, cooldownOver, heartbeatDue, lowBatteryDue }),
          ),
        ),
      ),
    );
    const codes = Array.from({ length: inputCodes }, (_, code) => code);
    expect(codes.filter(isCheckCode)).toEqual(checks.toSorted((a, b) => a - b));
  });

  it.each(watches)('are none, in time, that the settings do not allow: %j', (settings) => {
    const { watch, table, inputs } = walked(settings);
    const inTime = inputsInTime({ watch, table });
    for (const state of reachableStates(table, inputs)) {
      expect(inputs(state)).toEqual(expect.arrayContaining([...inTime(state)]));
    }
  });

  it('include a check in a running cooldown only after a delivered alert', () => {
    const { watch, table } = walked({});
    const inTime = inputsInTime({ watch, table });
    const running = reachableStates(table, inTime).filter((state) =>
      inTime(state).some((code) => isCheckCode(code) && (code & inputCode.checkCooldownOver) === 0),
    );
    expect(running.length).toBeGreaterThan(0);
    expect(running.every((state) => table.memories[state]?.coolingDown === true)).toBe(true);
  });

  it('include no check in a running cooldown where the cooldown takes no time', () => {
    const { watch, table } = walked({});
    const without = inputsInTime({ watch: { ...watch, alertCooldownMs: deviceMs(0) }, table });
    const codes = reachableStates(table, without).flatMap((state) => without(state));
    expect(
      codes.filter(isCheckCode).every((code) => (code & inputCode.checkCooldownOver) !== 0),
    ).toBe(true);
  });
});

describe('reachable states', () => {
  it.each(watches)('are closed under the inputs and begin without power: %j', (settings) => {
    const { table, inputs } = walked(settings);
    const states = reachableStates(table, inputs);
    const all = new Set(states);
    expect(states[0]).toBe(table.initial);
    expect(all.size).toBe(states.length);
    for (const state of states) {
      for (const code of inputs(state)) expect(all.has(nextState(table, state, code))).toBe(true);
    }
  });
});

describe('equivalence classes', () => {
  it.each(watches)('separate exactly the states that some input distinguishes: %j', (settings) => {
    const { table, inputs } = walked(settings);
    const states = reachableStates(table, inputs);
    const classOf = equivalenceClasses(table, inputs, states);
    const marked = distinguished({ table, inputs }, states);
    for (const one of states) {
      for (const other of states) {
        expect(classOf[one] !== classOf[other]).toBe(marked.has(`${one},${other}`));
      }
    }
  });
});
