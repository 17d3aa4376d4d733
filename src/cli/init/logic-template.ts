// The state machine that `init --logic` writes: the plain watch, in few lines that are easy to change.

export const logicTemplate = `// Logic for dozewatch: what the device does at each event. docs/logic.md lists every event and action.
//   dozewatch replay first-scenario.yaml -c watch.yaml --logic logic.mjs
//
// Events carry facts and actions name what to do; the machine has no clock. Keep in the context only what the device
// retains while it sleeps: reset values that no longer matter, and stop counting at the highest value that matters.
const fresh = { openChecks: 0, pending: false, failures: 0, alerted: false };

export const machine = ({ setup, assign }) =>
  setup({
    // Named here; dozewatch carries them out.
    actions: {
      blink: () => {},
      dropAlert: () => {},
      decideAlert: () => {},
      attemptAlert: () => {},
      attemptHeartbeat: () => {},
      sleep: () => {},
      hold: () => {},
    },
    guards: {
      readsShut: ({ event }) => event.contact === 'shut',
      enough: ({ context }) => context.openChecks >= context.threshold,
      mayDecide: ({ context, event }) =>
        context.openChecks >= context.threshold && (!context.alerted || event.cooldownOver),
      isPending: ({ context }) => context.pending,
      isDue: ({ event }) => event.heartbeatDue,
      isLastRetry: ({ context }) => context.failures + 1 >= context.attempts,
      wasDelivered: ({ event }) => event.delivered,
    },
  }).createMachine({
    // The input is the watch file's settings.
    context: ({ input }) => ({
      ...fresh,
      threshold: input.escalationThreshold.open,
      attempts: input.retryAttempts,
    }),
    initial: 'off',
    states: {
      off: { on: { 'wake.power-on': 'powered' } },
      powered: {
        initial: 'awake',
        on: {
          powerLost: { target: 'off', actions: assign(fresh) },
          'wake.reset': '.awake',
        },
        states: {
          awake: {
            on: {
              check: [
                {
                  guard: 'readsShut',
                  target: 'deciding',
                  actions: assign({ openChecks: 0, alerted: false }),
                },
                {
                  target: 'deciding',
                  actions: [
                    'blink',
                    assign({
                      openChecks: ({ context }) =>
                        Math.min(context.openChecks + 1, context.threshold),
                    }),
                  ],
                },
              ],
            },
          },
          deciding: {
            always: [
              { guard: 'isPending', target: 'sendingAlert' },
              {
                guard: 'mayDecide',
                target: 'sendingAlert',
                actions: ['decideAlert', assign({ pending: true, alerted: false })],
              },
              { guard: 'isDue', target: 'sendingHeartbeat' },
              { target: 'fallingAsleep' },
            ],
          },
          sendingAlert: {
            entry: 'attemptAlert',
            on: {
              alertAttempted: [
                {
                  guard: 'wasDelivered',
                  target: 'fallingAsleep',
                  actions: assign({ pending: false, failures: 0, alerted: true }),
                },
                {
                  guard: 'isLastRetry',
                  target: 'asleep',
                  actions: [
                    assign({ failures: 0 }),
                    { type: 'sleep', params: { interval: 'check' } },
                  ],
                },
                {
                  target: 'asleep',
                  actions: [
                    assign({ failures: ({ context }) => context.failures + 1 }),
                    { type: 'sleep', params: { interval: 'retry' } },
                  ],
                },
              ],
            },
          },
          sendingHeartbeat: {
            entry: 'attemptHeartbeat',
            on: { heartbeatAttempted: 'fallingAsleep' },
          },
          fallingAsleep: {
            always: [
              {
                // An open check, with fewer counted than the threshold.
                guard: ({ context }) =>
                  context.openChecks > 0 && context.openChecks < context.threshold,
                target: 'asleep',
                actions: { type: 'sleep', params: { interval: 'recheck' } },
              },
              { target: 'asleep', actions: { type: 'sleep', params: { interval: 'check' } } },
            ],
          },
          asleep: { on: { 'wake.timer': 'awake', 'wake.contact': 'awake' } },
        },
      },
    },
  });
`;
