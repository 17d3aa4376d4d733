// The statechart behind the seam against XState's own function for one step of it.
import { describe, expect, it } from 'vitest';
import { initialTransition, transition } from 'xstate';
import { type DeviceInput, effectOf, watchEvent, watchLogic } from '../../src/machine/index.js';
import { watchMachine } from '../../src/machine/watch-machine.js';
import { watchWith } from '../support/experiments.js';

describe('a reaction of the watch', () => {
  it("is what XState's function `transition` makes of the machine", () => {
    const settings = watchWith({ heartbeats: true, unsentWhenShut: 'drop' });
    const logic = watchLogic(settings);
    let state = logic.initial;
    let [wanted] = initialTransition(watchMachine, settings);
    const inputs: DeviceInput[] = [
      { type: 'wake', cause: 'power-on' },
      ...(['open', 'open', 'shut', 'open'] as const).flatMap((contact): DeviceInput[] => [
        { type: 'check', contact, cooldownOver: true, heartbeatDue: contact === 'shut' },
        { type: 'alertAttempted', delivered: false },
        { type: 'heartbeatAttempted', delivered: true },
        { type: 'wake', cause: 'timer' },
      ]),
      { type: 'wake', cause: 'reset' },
      { type: 'powerLost' },
    ];
    for (const input of inputs) {
      const [next, actions] = transition(watchMachine, wanted, watchEvent(input));
      const reaction = logic.react(state, input);
      expect(reaction.effects).toEqual(actions.map(effectOf).filter((one) => one !== undefined));
      expect([reaction.state.value, reaction.state.context]).toEqual([next.value, next.context]);
      [state, wanted] = [reaction.state, next];
    }
    expect(state.value).toBe('off');
  });
});
