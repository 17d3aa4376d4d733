// Mistakes about sending an alert, and sending it again.
import { deviceMs } from '../../base/index.js';
import type { Mutant } from '../mutant.js';

export const sendingMutants: readonly Mutant[] = [
  {
    name: 'alert-never-retried',
    scene: 'outage',
    mistake: 'it gives up an alert that is not delivered at once',
    logic: () => ({
      keeps: (after, _, input) =>
        input.type === 'alertAttempted' && !input.delivered
          ? { ...after, alertPending: false, failedAttempts: 0 }
          : after,
    }),
  },
  {
    name: 'state-saved-after-send',
    scene: 'reset-in-send',
    mistake: 'it saves its state only after a send, so a reset during the send loses the alert',
    needsKeptReset: true,
    beyondHands: true,
    logic: () => ({ savesAfterSend: true }),
  },
  {
    name: 'retry-never-falls-back',
    scene: 'outage',
    mistake: 'it does not count failed attempts, so it never falls back to the check interval',
    logic: () => ({
      keeps: (after, _, input) =>
        input.type === 'alertAttempted' ? { ...after, failedAttempts: 0 } : after,
      does: (effects, input) =>
        input.type === 'alertAttempted' && !input.delivered
          ? [{ type: 'sleep', interval: 'retry' }]
          : effects,
    }),
  },
  {
    name: 'fall-back-for-good',
    scene: 'outage',
    mistake: 'after falling back, it retries at the check interval until the alert is delivered',
    logic: ({ retryAttempts }) => ({
      keeps: (after, before, input) =>
        input.type === 'alertAttempted' && !input.delivered
          ? { ...after, failedAttempts: Math.min(before.failedAttempts + 1, retryAttempts - 1) }
          : after,
    }),
  },
  {
    name: 'fall-back-one-early',
    scene: 'outage',
    mistake: 'it falls back one failed attempt too early',
    settings: (watch) => ({ ...watch, retryAttempts: Math.max(1, watch.retryAttempts - 1) }),
  },
  {
    name: 'fall-back-one-late',
    scene: 'outage',
    mistake: 'it falls back one failed attempt too late',
    settings: (watch) => ({ ...watch, retryAttempts: watch.retryAttempts + 1 }),
  },
  {
    name: 'failures-not-reset',
    scene: 'two-outages',
    mistake:
      'it does not reset the count of failed attempts on delivery, so the next alert falls back sooner',
    logic: () => ({
      keeps: (after, before, input) =>
        input.type === 'check' || (input.type === 'alertAttempted' && input.delivered)
          ? { ...after, failedAttempts: before.failedAttempts }
          : after,
    }),
  },
  {
    name: 'unsent-dropped',
    scene: 'shut-in-outage',
    mistake: 'it drops an undelivered alert when it sees the door shut',
    settings: (watch) => ({ ...watch, unsentWhenShut: 'drop' }),
  },
  {
    name: 'unsent-kept',
    scene: 'shut-in-outage',
    mistake: 'it does not drop an undelivered alert when it sees the door shut',
    settings: (watch) => ({ ...watch, unsentWhenShut: 'send' }),
  },
  {
    name: 'holds-after-alert',
    scene: 'long-open',
    mistake: 'after an alert it stays awake and does nothing until it is reset',
    settings: (watch) => ({ ...watch, afterAlert: 'hold-until-reset' }),
  },
  {
    name: 'never-holds',
    scene: 'long-open',
    mistake: 'it goes on checking after an alert, though it should wait for a reset',
    settings: (watch) => ({ ...watch, afterAlert: 'keep-watching' }),
  },
  {
    name: 'retry-in-milliseconds',
    scene: 'outage',
    mistake: 'the retry interval is given in seconds but used as milliseconds',
    settings: (watch) => ({
      ...watch,
      retryIntervalMs: deviceMs(Math.max(1, Math.floor(watch.retryIntervalMs / 1_000))),
    }),
  },
];
