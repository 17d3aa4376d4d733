// Mistakes about what survives sleep, resets and power-on.
import type { DeviceInput } from '../../machine/index.js';
import type { Mutant } from '../mutant.js';

function wakesFromSleep(input: DeviceInput): boolean {
  return input.type === 'wake' && (input.cause === 'timer' || input.cause === 'contact');
}

export const rememberingMutants: readonly Mutant[] = [
  {
    name: 'open-checks-not-retained',
    mistake: 'the open checks are counted in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) => (wakesFromSleep(input) ? { ...memory, recentChecks: 0 } : memory),
    }),
  },
  {
    name: 'alert-not-retained',
    mistake: 'an alert not yet delivered is kept in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) =>
        wakesFromSleep(input) ? { ...memory, alertPending: false, failedAttempts: 0 } : memory,
    }),
  },
  {
    name: 'cooldown-not-retained',
    mistake: 'that an alert was sent is kept in memory that sleep clears',
    logic: () => ({
      finds: (memory, input) =>
        wakesFromSleep(input) ? { ...memory, coolingDown: false } : memory,
    }),
  },
  {
    name: 'memory-lost-on-reset',
    mistake: 'a reset is taken for a power-on and clears retained memory',
    logic: () => ({
      finds: (memory, input, fresh) =>
        input.type === 'wake' && input.cause === 'reset' ? fresh : memory,
    }),
  },
  {
    name: 'alert-on-first-open-check',
    mistake: 'memory is not set up at power-on: the first open check after it decides an alert',
    logic: ({ escalationThreshold: { open } }) => ({
      keeps: (after, _, input) =>
        input.type === 'wake' && input.cause === 'power-on'
          ? { ...after, recentChecks: 2 ** (open - 1) - 1, shutRun: 0 }
          : after,
    }),
  },
];
