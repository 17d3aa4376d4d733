// Mistakes in the cooldown.
import { deviceMs } from '../../base/index.js';
import type { Mutant } from '../mutant.js';
import { overflowing } from '../wrapped.js';

export const cooldownMutants: readonly Mutant[] = [
  {
    name: 'cooldown-never-over',
    scene: 'long-open',
    mistake: 'the cooldown never runs out',
    logic: () => ({
      takes: (input) => (input.type === 'check' ? { ...input, cooldownOver: false } : input),
    }),
  },
  {
    name: 'cooldown-not-ended-by-shut',
    scene: 'shut-after-alert',
    mistake: 'a door seen shut does not end the cooldown',
    settings: (watch) => ({ ...watch, cooldownEndsWhenShut: false }),
  },
  {
    name: 'cooldown-ended-by-shut',
    scene: 'shut-after-alert',
    mistake: 'a door seen shut ends the cooldown, though it should not',
    settings: (watch) => ({ ...watch, cooldownEndsWhenShut: true }),
  },
  {
    name: 'cooldown-ended-by-open',
    scene: 'long-open',
    mistake: 'an open check ends the cooldown',
    logic: () => ({
      keeps: (after, _, input) =>
        input.type === 'check' && input.contact === 'open'
          ? { ...after, coolingDown: false }
          : after,
    }),
  },
  {
    name: 'cooldown-from-attempt',
    scene: 'reset-late-in-cooldown',
    mistake: 'the cooldown is counted from the start of the attempt, not from the delivery',
    settings: (watch, timing) => ({
      ...watch,
      alertCooldownMs: deviceMs(Math.max(0, watch.alertCooldownMs - timing.connectTime.least)),
    }),
  },
  {
    name: 'cooldown-from-decision',
    scene: 'open-after-outage',
    mistake: 'the cooldown is counted from the decision of the alert, however late it is delivered',
    cooldownFrom: 'decision',
  },
  {
    name: 'cooldown-not-after-retry',
    scene: 'open-after-outage',
    mistake: 'an alert that a retry delivers starts no cooldown',
    logic: () => ({
      keeps: (after, before, input) =>
        input.type === 'alertAttempted' && input.delivered && before.failedAttempts > 0
          ? { ...after, coolingDown: false }
          : after,
    }),
  },
  {
    name: 'cooldown-in-milliseconds',
    scene: 'long-open',
    mistake: 'the cooldown is given in seconds but used as milliseconds',
    settings: (watch) => ({
      ...watch,
      alertCooldownMs: deviceMs(Math.floor(watch.alertCooldownMs / 1_000)),
    }),
  },
  {
    name: 'cooldown-overflow',
    scene: 'long-open',
    mistake: 'the cooldown is counted in microseconds and overflows at 32 bits (71 min 35 s)',
    settings: (watch) => ({ ...watch, alertCooldownMs: overflowing(watch.alertCooldownMs) }),
  },
  {
    name: 'alert-only-once',
    scene: 'long-open',
    mistake: 'after its first alert it never decides another',
    settings: (watch) => ({ ...watch, cooldownEndsWhenShut: false }),
    logic: () => ({
      takes: (input) => (input.type === 'check' ? { ...input, cooldownOver: false } : input),
    }),
  },
];
