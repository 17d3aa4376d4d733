import { describe, expect, it } from 'vitest';
import { deviceMs, InvariantError } from '../../src/base/index.js';
import {
  type DeviceInput,
  effectOf,
  type LogicSettings,
  openChecks,
  type WakeCause,
  watchEvent,
  watchLogic,
  withMemory,
} from '../../src/machine/index.js';
import { watchWith } from '../support/experiments.js';

/** A device to talk to: each method answers with what the device does, in its order. */
function device(changes: Partial<LogicSettings> = {}) {
  const logic = watchLogic(watchWith(changes));
  let state = logic.initial;
  const hear = (input: DeviceInput): string[] => {
    const reaction = logic.react(state, input);
    state = reaction.state;
    return reaction.effects.map((effect) =>
      effect.type === 'sleep' ? `sleep ${effect.interval}` : effect.type,
    );
  };
  const wake = (cause: WakeCause = 'timer') => hear({ type: 'wake', cause });
  const check = (
    contact: 'open' | 'shut',
    {
      cooldownOver = true,
      heartbeatDue = false,
      cause = 'timer',
    }: { cooldownOver?: boolean; heartbeatDue?: boolean; cause?: WakeCause } = {},
  ) => {
    wake(cause);
    return hear({ type: 'check', contact, cooldownOver, heartbeatDue });
  };
  wake('power-on');
  hear({ type: 'check', contact: 'shut', cooldownOver: true, heartbeatDue: false });
  return {
    wake,
    check,
    heartbeat: (delivered: boolean) => hear({ type: 'heartbeatAttempted', delivered }),
    attempt: (delivered: boolean) => hear({ type: 'alertAttempted', delivered }),
    losePower: () => hear({ type: 'powerLost' }),
    memory: () => logic.memory(state),
    phase: () => logic.phase(state),
  };
}

const alertAtOnce = { escalationThreshold: { open: 1, outOf: 1 } };

describe('a low battery', () => {
  const lowBattery = {
    level: { kind: 'share', sharePpm: 200_000 },
    repeatMs: deviceMs(1_000),
  } as const;
  const shut = {
    type: 'check',
    contact: 'shut',
    cooldownOver: true,
    heartbeatDue: false,
  } as const;

  it('is nothing to a watch that does not report it', () => {
    for (const [changes, given, sends] of [
      [{}, true, 'sleep'],
      [{ lowBattery }, true, 'attemptLowBattery'],
      [{ lowBattery }, false, 'sleep'],
    ] as const) {
      const logic = watchLogic(watchWith(changes));
      const { state } = logic.react(logic.initial, { type: 'wake', cause: 'power-on' });
      const check: DeviceInput = { ...shut, lowBatteryDue: given };
      expect(logic.react(state, check).effects.map(({ type }) => type)).toEqual([sends]);
      expect(logic.plainest(state, check)).toEqual(
        sends === 'sleep' ? shut : { ...shut, lowBatteryDue: true },
      );
    }
  });
});

describe('a reset', () => {
  it('leaves nothing of the wake that it cuts off', () => {
    const logic = watchLogic(watchWith({}));
    const hear = (state: typeof logic.initial, ...inputs: readonly DeviceInput[]) =>
      inputs.reduce((at, input) => logic.react(at, input).state, state);
    const on = { type: 'wake', cause: 'power-on' } as const;
    const reset = { type: 'wake', cause: 'reset' } as const;
    const timer = { type: 'wake', cause: 'timer' } as const;
    const open = {
      type: 'check',
      contact: 'open',
      cooldownOver: true,
      heartbeatDue: false,
    } as const;
    const sending = hear(logic.initial, on, open, timer, open);
    expect(logic.phase(sending)).toBe('sendingAlert');
    const asleep = hear(sending, { type: 'alertAttempted', delivered: false });
    const { failedAttempts } = logic.memory(asleep);
    expect(failedAttempts).toBe(1);
    const cut = hear(sending, reset);
    expect(logic.key(cut)).toBe(logic.key(hear(cut, reset)));
    expect(logic.key(hear(asleep, reset))).toBe(logic.key(hear(asleep, timer)));
  });
});

describe('the watch at a check', () => {
  it('sleeps on after a shut one', () => {
    expect(device().check('shut')).toEqual(['sleep check']);
  });

  it('blinks and looks again sooner after an open one that is no alert yet', () => {
    expect(device().check('open')).toEqual(['blink', 'sleep recheck']);
  });

  it('decides an alert at the threshold and attempts it at once', () => {
    const watch = device();
    watch.check('open');
    expect(watch.check('open')).toEqual(['blink', 'decideAlert', 'attemptAlert']);
  });

  it('with a threshold of one decides at the first open check', () => {
    expect(device(alertAtOnce).check('open')).toEqual(['blink', 'decideAlert', 'attemptAlert']);
  });

  it('starts counting open checks again after a shut one that clears', () => {
    const watch = device();
    watch.check('open');
    watch.check('shut');
    expect(watch.check('open')).toEqual(['blink', 'sleep recheck']);
  });

  it('with m of n looks past shut checks that do not clear', () => {
    const watch = device({ escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 });
    watch.check('open');
    expect(watch.check('shut')).toEqual(['sleep check']);
    expect(openChecks(watch.memory())).toBe(1);
    expect(watch.check('open')).toContain('decideAlert');
  });

  it('with m of n forgets an open check that lies too far back', () => {
    const watch = device({ escalationThreshold: { open: 2, outOf: 2 }, clearThreshold: 3 });
    watch.check('open');
    watch.check('shut');
    expect(watch.check('open')).toEqual(['blink', 'sleep recheck']);
  });
});

describe('the watch after an attempt', () => {
  it('sleeps the check interval after a delivery, and is quiet while the cooldown runs', () => {
    const watch = device(alertAtOnce);
    watch.check('open');
    expect(watch.attempt(true)).toEqual(['sleep check']);
    expect(watch.check('open', { cooldownOver: false })).toEqual(['blink', 'sleep check']);
    expect(watch.check('open')).toEqual(['blink', 'decideAlert', 'attemptAlert']);
  });

  it('sleeps the recheck interval after a delivery at an open check that is not escalated', () => {
    const watch = device({ escalationThreshold: { open: 2, outOf: 2 } });
    watch.check('open');
    watch.check('open');
    watch.attempt(false);
    expect(watch.check('shut')).toEqual(['attemptAlert']);
    watch.attempt(false);
    expect(watch.check('open')).toEqual(['blink', 'attemptAlert']);
    expect(watch.attempt(true)).toEqual(['sleep recheck']);
  });

  it('retries, falls back to the check interval after the last attempt, and starts counting again', () => {
    const watch = device({ ...alertAtOnce, retryAttempts: 2 });
    watch.check('open');
    expect(watch.attempt(false)).toEqual(['sleep retry']);
    watch.check('open');
    expect(watch.attempt(false)).toEqual(['sleep check']);
    watch.check('open');
    expect(watch.attempt(false)).toEqual(['sleep retry']);
  });

  it('with one attempt never uses the retry interval', () => {
    const watch = device({ ...alertAtOnce, retryAttempts: 1 });
    watch.check('open');
    expect(watch.attempt(false)).toEqual(['sleep check']);
  });

  it('sends what is pending though the door is shut again', () => {
    const watch = device(alertAtOnce);
    watch.check('open');
    watch.attempt(false);
    expect(watch.check('shut')).toEqual(['attemptAlert']);
    expect(watch.attempt(true)).toEqual(['sleep check']);
  });

  it('drops what is pending at any shut check, where that is asked for', () => {
    const watch = device({ ...alertAtOnce, unsentWhenShut: 'drop', clearThreshold: 3 });
    watch.check('open');
    watch.attempt(false);
    expect(watch.check('shut')).toEqual(['dropAlert', 'sleep check']);
    expect(watch.memory().alertPending).toBe(false);
  });

  it('holds until a reset, where that is asked for', () => {
    const watch = device({ ...alertAtOnce, afterAlert: 'hold-until-reset' });
    watch.check('open');
    expect(watch.attempt(true)).toEqual(['hold']);
    expect(watch.phase()).toBe('holding');
    expect(watch.check('open', { cause: 'reset', cooldownOver: false })).toEqual([
      'blink',
      'sleep check',
    ]);
  });

  it('does not hold after a failure', () => {
    const watch = device({ ...alertAtOnce, afterAlert: 'hold-until-reset' });
    watch.check('open');
    expect(watch.attempt(false)).toEqual(['sleep retry']);
  });
});

describe('the cooldown', () => {
  function delivered(changes: Partial<LogicSettings>) {
    const watch = device({ ...alertAtOnce, ...changes });
    watch.check('open');
    watch.attempt(true);
    return watch;
  }

  it('ends with a door seen shut', () => {
    const watch = delivered({});
    watch.check('shut', { cooldownOver: false });
    expect(watch.check('open', { cooldownOver: false })).toContain('decideAlert');
  });

  it('ends only with as many shut checks as clear', () => {
    const watch = delivered({ clearThreshold: 2 });
    watch.check('shut', { cooldownOver: false });
    expect(watch.check('open', { cooldownOver: false })).toEqual(['blink', 'sleep check']);
    watch.check('shut', { cooldownOver: false });
    watch.check('shut', { cooldownOver: false });
    expect(watch.check('open', { cooldownOver: false })).toContain('decideAlert');
  });

  it('begun while the door is long shut ends with the next shut check', () => {
    const watch = device(alertAtOnce);
    watch.check('open');
    watch.attempt(false);
    watch.check('shut');
    watch.attempt(true);
    expect(watch.memory().coolingDown).toBe(true);
    watch.check('shut', { cooldownOver: false });
    expect(watch.memory().coolingDown).toBe(false);
  });

  it('runs on past a shut door, where that is asked for', () => {
    const watch = delivered({ cooldownEndsWhenShut: false });
    watch.check('shut', { cooldownOver: false });
    expect(watch.check('open', { cooldownOver: false })).toEqual(['blink', 'sleep check']);
  });
});

describe('a heartbeat', () => {
  const heartbeats = { heartbeats: true };

  it('is sent when due, and then the device sleeps as the check asks', () => {
    const watch = device(heartbeats);
    expect(watch.check('shut', { heartbeatDue: true })).toEqual(['attemptHeartbeat']);
    expect(watch.heartbeat(true)).toEqual(['sleep check']);
    expect(watch.check('open', { heartbeatDue: true })).toEqual(['blink', 'attemptHeartbeat']);
    expect(watch.heartbeat(false)).toEqual(['sleep recheck']);
  });

  it('gives way to an alert', () => {
    const watch = device({ ...alertAtOnce, ...heartbeats });
    expect(watch.check('open', { heartbeatDue: true })).not.toContain('attemptHeartbeat');
  });

  it('follows a dropped alert in the same check', () => {
    const watch = device({ ...alertAtOnce, ...heartbeats, unsentWhenShut: 'drop' });
    watch.check('open');
    watch.attempt(false);
    expect(watch.check('shut', { heartbeatDue: true })).toEqual(['dropAlert', 'attemptHeartbeat']);
  });

  it('is never sent without the setting', () => {
    expect(device().check('shut', { heartbeatDue: true })).toEqual(['sleep check']);
  });
});

describe('faults', () => {
  it('a reset keeps retained memory and wakes the device from anything', () => {
    const watch = device(alertAtOnce);
    watch.check('open');
    expect(watch.phase()).toBe('sendingAlert');
    const { memory } = watch;
    const before = memory();
    expect(watch.wake('reset')).toEqual([]);
    expect(watch.phase()).toBe('awake');
    expect(memory()).toEqual(before);
  });

  it('a power loss takes all memory, a pending alert included', () => {
    const watch = device({ ...alertAtOnce, clearThreshold: 2 });
    watch.check('open');
    watch.losePower();
    expect(watch.phase()).toBe('off');
    expect(watch.memory()).toEqual({
      recentChecks: 0,
      shutRun: 2,
      alertPending: false,
      failedAttempts: 0,
      coolingDown: false,
    });
  });

  it('a contact edge wakes the device like its timer', () => {
    expect(device().check('open', { cause: 'contact' })).toEqual(['blink', 'sleep recheck']);
  });
});

describe('the seam to the statechart', () => {
  it('gives each cause of a wake an event of its own', () => {
    expect(watchEvent({ type: 'wake', cause: 'reset' })).toEqual({ type: 'wake.reset' });
    expect(watchEvent({ type: 'powerLost' })).toEqual({ type: 'powerLost' });
  });

  it('takes the named actions as effects, and no others', () => {
    expect(effectOf({ type: 'hold' })).toEqual({ type: 'hold' });
    expect(effectOf({ type: 'xstate.assign' })).toBeUndefined();
    expect(effectOf({ type: 'sleep', params: { interval: 'retry' } })).toEqual({
      type: 'sleep',
      interval: 'retry',
    });
  });

  it.each([undefined, null, {}, { interval: 'fortnight' }])(
    'refuses a sleep that names no interval: %j',
    (params) => {
      expect(() => effectOf({ type: 'sleep', params })).toThrow(InvariantError);
    },
  );

  it('lets memory be changed, and nothing else', () => {
    const logic = watchLogic(watchWith({ escalationThreshold: { open: 3, outOf: 3 } }));
    const { state } = logic.react(logic.initial, { type: 'wake', cause: 'power-on' });
    const memory = { ...logic.memory(state), recentChecks: 0b11, shutRun: 0 };
    const changed = withMemory(state, memory);
    expect(logic.phase(changed)).toBe('awake');
    expect(logic.memory(changed)).toEqual(memory);
    const check = {
      type: 'check',
      contact: 'open',
      cooldownOver: true,
      heartbeatDue: false,
    } as const;
    const types = (at: typeof state) => logic.react(at, check).effects.map(({ type }) => type);
    expect(types(state)).toEqual(['blink', 'sleep']);
    expect(types(changed)).toEqual(['blink', 'decideAlert', 'attemptAlert']);
  });

  it('sets aside what a state does not look at: a cooldown that has not begun, a heartbeat that is never sent', () => {
    const check = {
      type: 'check',
      contact: 'open',
      cooldownOver: false,
      heartbeatDue: true,
    } as const;
    for (const heartbeats of [false, true]) {
      const logic = watchLogic(watchWith({ ...alertAtOnce, heartbeats }));
      const { state } = logic.react(logic.initial, { type: 'wake', cause: 'power-on' });
      const seen = { ...check, cooldownOver: true, heartbeatDue: heartbeats };
      expect(logic.plainest(state, check)).toEqual(seen);
      const sending = logic.react(state, check).state;
      const sent: DeviceInput = { type: 'alertAttempted', delivered: true };
      const asleep = logic.react(sending, sent).state;
      const { state: cooling } = logic.react(asleep, { type: 'wake', cause: 'timer' });
      expect(logic.plainest(cooling, check)).toEqual({ ...check, heartbeatDue: heartbeats });
      expect(logic.plainest(sending, sent)).toBe(sent);
    }
  });

  it('counts open checks as the bits of memory', () => {
    expect([0, 1, 0b101, 0b111].map((recentChecks) => openChecks({ recentChecks }))).toEqual([
      0, 1, 2, 3,
    ]);
  });
});
