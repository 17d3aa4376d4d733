// Mistakes about what survives sleep, resets and power-on.
import type { DeviceInput } from '../../machine/index.js';
import type { Mutant } from '../mutant.js';

function wakesFromSleep(input: DeviceInput): boolean {
  return input.type === 'wake' && (input.cause === 'timer' || input.cause === 'contact');
}

export const rememberingMutants: readonly Mutant[] = [
  {
    name: 'open-checks-not-retained',
    scene: 'left-open',
    mistake: 'it counts the open checks in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) => (wakesFromSleep(input) ? { ...memory, recentChecks: 0 } : memory),
    }),
  },
  {
    name: 'alert-not-retained',
    scene: 'outage',
    mistake: 'it keeps an undelivered alert in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) =>
        wakesFromSleep(input) ? { ...memory, alertPending: false, failedAttempts: 0 } : memory,
    }),
  },
  {
    name: 'cooldown-not-retained',
    scene: 'long-open',
    mistake: 'it keeps the running cooldown in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) =>
        wakesFromSleep(input) ? { ...memory, coolingDown: false } : memory,
    }),
  },
  {
    name: 'memory-lost-on-reset',
    scene: 'reset',
    mistake: 'it takes a reset for a power-on and clears retained memory',
    needsKeptReset: true,
    logic: () => ({
      finds: (memory, input, fresh) =>
        input.type === 'wake' && input.cause === 'reset' ? fresh : memory,
    }),
  },
  {
    name: 'alert-on-first-open-check',
    scene: 'power-on',
    mistake:
      'it does not initialise its memory at power-on, so the first open check decides an alert',
    logic: ({ escalationThreshold: { open } }) => ({
      keeps: (after, _, input) =>
        input.type === 'wake' && input.cause === 'power-on'
          ? { ...after, recentChecks: 2 ** (open - 1) - 1, shutRun: 0 }
          : after,
    }),
  },
];
