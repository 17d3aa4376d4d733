// Emitted SCXML, run by an independent interpreter of the W3C standard, against XState's pure transitions.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { scxmlEvent, scxmlText } from '../../src/emit/index.js';
import { codeOf, type DeviceInput, watchLogic } from '../../src/machine/index.js';
import { type Program, simulate, type Trace } from '../../src/sim/index.js';
import { experimentsWith, logicSettings, scales, watchSettings } from '../support/arbitraries.js';
import { programOf } from '../support/experiments.js';
import { interpreted } from './scxml-interpreter.js';

/** What the device learnt in a run, in order. */
function inputsOf(trace: Trace): readonly DeviceInput[] {
  return trace.wakes.flatMap((wake, index): DeviceInput[] => {
    const { cause, check, alertSend, heartbeatSend } = wake;
    const lost = cause === 'power-on' && index > 0 ? [{ type: 'powerLost' } as const] : [];
    const send = alertSend ?? heartbeatSend;
    const type = alertSend === null ? 'heartbeatAttempted' : 'alertAttempted';
    return [
      ...lost,
      { type: 'wake', cause },
      ...(check === null ? [] : [{ ...check, type: 'check' } as const]),
      ...(send === null || send.outcome === 'cutOff'
        ? []
        : [{ type, delivered: send.outcome === 'delivered' } as const]),
    ];
  });
}

const names: Readonly<Record<string, string>> = {
  blink: 'do.blink',
  dropAlert: 'do.drop-alert',
  decideAlert: 'do.decide-alert',
  attemptAlert: 'do.send-alert',
  attemptHeartbeat: 'do.send-heartbeat',
  attemptLowBattery: 'do.send-low-battery',
  hold: 'do.hold',
};

/** What the statechart itself does about each input. */
function decisionsOf({ watch }: Program, inputs: readonly DeviceInput[]): readonly string[][] {
  const logic = watchLogic(watch);
  let state = logic.initial;
  return inputs.map((input) => {
    const reaction = logic.react(state, input);
    state = reaction.state;
    return reaction.effects.map((effect) =>
      effect.type === 'sleep' ? `do.sleep.${effect.interval}` : (names[effect.type] ?? ''),
    );
  });
}

it('sends in an interpreter of the standard what the statechart decides', {
  timeout: 60_000,
}, () => {
  const watches = scales.flatMap((scale) =>
    fc
      .sample(
        logicSettings.chain((logic) => watchSettings(logic, scale)),
        3,
      )
      .map((watch) => ({ program: programOf(watch), scale })),
  );
  let decisions = 0;
  for (const { program, scale } of watches) {
    const gen = interpreted(scxmlText(program, 'a test'));
    let first = true;
    for (const experiment of fc.sample(experimentsWith(program, scale), 15)) {
      const inputs = inputsOf(simulate(experiment)).slice(0, 60);
      if (!first) gen('power-lost');
      first = false;
      const sent = inputs.map((input) => gen(scxmlEvent(codeOf(input))));
      expect(sent).toEqual(decisionsOf(program, inputs));
      decisions += sent.flat().length;
    }
  }
  expect(decisions).toBeGreaterThan(1_500);
});
