// Mistakes in waking: the wrong interval, arithmetic with too few bits, edges not armed.
import { deviceMs } from '../../base/index.js';
import type { Mutant } from '../mutant.js';
import { overflowing } from '../wrapped.js';

export const wakingMutants: readonly Mutant[] = [
  {
    name: 'recheck-after-check-interval',
    scene: 'left-open',
    mistake: 'after an open check it sleeps the check interval, not the recheck interval',
    settings: (watch) => ({ ...watch, recheckIntervalMs: watch.checkIntervalMs }),
  },
  {
    name: 'retry-after-check-interval',
    scene: 'outage',
    mistake: 'after a failed attempt it sleeps the check interval, not the retry interval',
    settings: (watch) => ({ ...watch, retryIntervalMs: watch.checkIntervalMs }),
  },
  {
    name: 'check-after-retry-interval',
    scene: 'left-open',
    mistake: 'between checks it sleeps the retry interval, not the check interval',
    settings: (watch) => ({ ...watch, checkIntervalMs: watch.retryIntervalMs }),
  },
  {
    name: 'recheck-after-alert',
    scene: 'opened-later',
    mistake: 'after an alert it sleeps the recheck interval, not the check interval',
    logic: () => ({
      does: (effects, input) =>
        input.type === 'alertAttempted' && input.delivered
          ? effects.map((effect) =>
              effect.type === 'sleep' ? { type: 'sleep', interval: 'recheck' } : effect,
            )
          : effects,
    }),
  },
  {
    name: 'sleep-overflow',
    scene: 'left-open',
    mistake: 'sleeps are counted in microseconds and overflow at 32 bits (71 min 35 s)',
    settings: (watch) => ({
      ...watch,
      checkIntervalMs: overflowing(watch.checkIntervalMs),
      recheckIntervalMs: overflowing(watch.recheckIntervalMs),
      retryIntervalMs: overflowing(watch.retryIntervalMs),
    }),
  },
  {
    name: 'recheck-in-milliseconds',
    scene: 'left-open',
    mistake: 'the recheck interval is given in seconds but used as milliseconds',
    settings: (watch) => ({
      ...watch,
      recheckIntervalMs: deviceMs(Math.max(1, Math.floor(watch.recheckIntervalMs / 1_000))),
    }),
  },
  {
    name: 'edges-not-armed',
    scene: 'left-open',
    mistake: 'it does not arm the contact before it sleeps, so only the timer wakes it',
    settings: (watch) => ({ ...watch, wakeOn: 'timer' }),
  },
  {
    name: 'shut-edge-not-armed',
    scene: 'shut-for-a-moment',
    mistake: 'only an opening door wakes it, not one that shuts',
    settings: (watch) => ({
      ...watch,
      wakeOn: watch.wakeOn === 'any-change' ? 'opening' : watch.wakeOn,
    }),
  },
  {
    name: 'wrong-edge-armed',
    scene: 'shut-for-a-moment',
    mistake: 'a door that shuts also wakes it, although only one that opens should',
    settings: (watch) => ({
      ...watch,
      wakeOn: watch.wakeOn === 'opening' ? 'any-change' : watch.wakeOn,
    }),
  },
];
