// The door watch as a statechart: the only source of its logic. Time is outside: events carry facts, actions
// say what to do. One wake runs awake -> (sendingAlert | sendingLowBattery | sendingHeartbeat) -> asleep.
import { assertEvent, assign, setup } from 'xstate';
import type { ContactReading, DeviceInput, SleepInterval, WakeCause } from './logic.js';
import { initialMemory, openChecks, type RetainedMemory, rememberCheck } from './memory.js';
import type { LogicSettings } from './settings.js';

/** Ordinary memory: what this wake has found, gone with the next sleep. */
interface ThisWake {
  readonly contact: ContactReading;
  readonly escalated: boolean;
}

export interface WatchContext {
  readonly settings: LogicSettings;
  readonly retained: RetainedMemory;
  readonly thisWake: ThisWake;
}

/** The machine's events are the seam's inputs, but that each cause of a wake is an event of its own. */
export type WatchEvent =
  | Exclude<DeviceInput, { type: 'wake' }>
  | { readonly [Cause in WakeCause]: { readonly type: `wake.${Cause}` } }[WakeCause];

const nothingFound: ThisWake = { contact: 'shut', escalated: false };

function remember(context: WatchContext, contact: ContactReading): Partial<WatchContext> {
  const { clearThreshold, cooldownEndsWhenShut, escalationThreshold } = context.settings;
  const retained = rememberCheck(context.retained, contact === 'open', {
    outOf: escalationThreshold.outOf,
    clearThreshold,
    cooldownEndsWhenShut,
  });
  const escalated = contact === 'open' && openChecks(retained) >= escalationThreshold.open;
  return { retained, thisWake: { contact, escalated } };
}

const watch = setup({
  /* oxlint-disable typescript/consistent-type-assertions -- XState reads these for their types alone */
  types: {
    context: {} as WatchContext,
    events: {} as WatchEvent,
    input: {} as LogicSettings,
  },
  /* oxlint-enable typescript/consistent-type-assertions */
  actions: {
    // Effects: named here, carried out by the code that runs the machine.
    blink: () => undefined,
    dropAlert: () => undefined,
    decideAlert: () => undefined,
    attemptAlert: () => undefined,
    attemptHeartbeat: () => undefined,
    attemptLowBattery: () => undefined,
    sleep: (_, _params: { interval: SleepInterval }) => undefined,
    hold: () => undefined,
    // Changes of memory.
    forgetEverything: assign(({ context }) => ({
      retained: initialMemory(context.settings.clearThreshold),
      thisWake: nothingFound,
    })),
    forgetThisWake: assign({ thisWake: nothingFound }),
    rememberCheck: assign(({ context, event }) => {
      assertEvent(event, 'check');
      return remember(context, event.contact);
    }),
    rememberAlert: assign(({ context }) => ({
      retained: { ...context.retained, alertPending: true, failedAttempts: 0, coolingDown: false },
    })),
    forgetAlert: assign(({ context }) => ({
      retained: { ...context.retained, alertPending: false, failedAttempts: 0 },
    })),
    rememberDelivery: assign(({ context }) => ({
      retained: { ...context.retained, alertPending: false, failedAttempts: 0, coolingDown: true },
    })),
    countFailure: assign(({ context }) => ({
      retained: { ...context.retained, failedAttempts: context.retained.failedAttempts + 1 },
    })),
    forgetFailures: assign(({ context }) => ({
      retained: { ...context.retained, failedAttempts: 0 },
    })),
  },
  guards: {
    readsOpen: ({ context }) => context.thisWake.contact === 'open',
    isPending: ({ context }) => context.retained.alertPending,
    isPendingForNothing: ({ context }) =>
      context.retained.alertPending &&
      context.settings.unsentWhenShut === 'drop' &&
      context.thisWake.contact === 'shut',
    mayDecide: ({ context, event }) => {
      assertEvent(event, 'check');
      const { alertPending, coolingDown } = context.retained;
      return context.thisWake.escalated && !alertPending && (!coolingDown || event.cooldownOver);
    },
    heartbeatIsDue: ({ context, event }) => {
      assertEvent(event, 'check');
      return context.settings.heartbeats && event.heartbeatDue;
    },
    lowBatteryIsDue: ({ context, event }) => {
      assertEvent(event, 'check');
      return context.settings.lowBattery !== undefined && event.lowBatteryDue === true;
    },
    wasDelivered: ({ event }) => {
      assertEvent(event, 'alertAttempted');
      return event.delivered;
    },
    holdsAfterDelivery: ({ context, event }) => {
      assertEvent(event, 'alertAttempted');
      return event.delivered && context.settings.afterAlert === 'hold-until-reset';
    },
    isLastRetry: ({ context }) =>
      context.retained.failedAttempts + 1 >= context.settings.retryAttempts,
    needsMoreChecks: ({ context }) =>
      context.thisWake.contact === 'open' && !context.thisWake.escalated,
  },
});

/** The door watch; its input is the settings. Starts without power, waiting for `wake.power-on`. */
export const watchMachine = watch.createMachine({
  id: 'watch',
  context: ({ input }) => ({
    settings: input,
    retained: initialMemory(input.clearThreshold),
    thisWake: nothingFound,
  }),
  initial: 'off',
  states: {
    off: { on: { 'wake.power-on': 'powered' } },
    powered: {
      initial: 'awake',
      on: {
        powerLost: { target: 'off', actions: 'forgetEverything' },
        'wake.reset': { target: '.awake', reenter: true, actions: 'forgetThisWake' },
      },
      states: {
        awake: {
          on: { check: { target: 'checked', actions: 'rememberCheck' } },
        },
        checked: {
          always: [
            { guard: 'readsOpen', target: 'deciding', actions: 'blink' },
            {
              guard: 'isPendingForNothing',
              target: 'deciding',
              actions: ['dropAlert', 'forgetAlert'],
            },
            { target: 'deciding' },
          ],
        },
        deciding: {
          always: [
            { guard: 'isPending', target: 'attemptingAlert' },
            {
              guard: 'mayDecide',
              target: 'attemptingAlert',
              actions: ['decideAlert', 'rememberAlert'],
            },
            { guard: 'lowBatteryIsDue', target: 'sendingLowBattery' },
            { guard: 'heartbeatIsDue', target: 'sendingHeartbeat' },
            { target: 'fallingAsleep' },
          ],
        },
        attemptingAlert: {
          entry: 'attemptAlert',
          always: [
            // The message goes in the alert's connection, after it.
            { guard: 'lowBatteryIsDue', target: 'sendingAlert', actions: 'attemptLowBattery' },
            { target: 'sendingAlert' },
          ],
        },
        sendingAlert: {
          on: {
            alertAttempted: [
              { guard: 'holdsAfterDelivery', target: 'holding', actions: 'rememberDelivery' },
              { guard: 'wasDelivered', target: 'fallingAsleep', actions: 'rememberDelivery' },
              {
                guard: 'isLastRetry',
                target: 'asleep',
                actions: ['forgetFailures', { type: 'sleep', params: { interval: 'check' } }],
              },
              {
                target: 'asleep',
                actions: ['countFailure', { type: 'sleep', params: { interval: 'retry' } }],
              },
            ],
          },
        },
        sendingLowBattery: {
          entry: 'attemptLowBattery',
          on: { lowBatteryAttempted: 'fallingAsleep' },
        },
        sendingHeartbeat: {
          entry: 'attemptHeartbeat',
          on: { heartbeatAttempted: 'fallingAsleep' },
        },
        fallingAsleep: {
          always: [
            {
              guard: 'needsMoreChecks',
              target: 'asleep',
              actions: { type: 'sleep', params: { interval: 'recheck' } },
            },
            { target: 'asleep', actions: { type: 'sleep', params: { interval: 'check' } } },
          ],
        },
        asleep: {
          entry: 'forgetThisWake',
          on: { 'wake.timer': 'awake', 'wake.contact': 'awake' },
        },
        holding: { entry: ['hold', 'forgetThisWake'] },
      },
    },
  },
});
