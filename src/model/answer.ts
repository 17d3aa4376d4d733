// The person that answers a device, and what a message may meet after its delivery.
import { dayMs } from '../base/index.js';
import type { ChargingHabit } from './charge.js';

/** How long after the delivery of an alert somebody resets the device. */
export type AnswerDelay =
  | { readonly kind: 'fixed'; readonly ms: number }
  /** The logarithm is normal, with standard deviation `sigma`. */
  | { readonly kind: 'lognormal'; readonly medianMs: number; readonly sigma: number }
  /** By the local time of the delivery, in ms of the day; night may run past midnight. */
  | {
      readonly kind: 'byNight';
      readonly dayMs: number;
      readonly nightMs: number;
      readonly nightFromMs: number;
      readonly nightUntilMs: number;
    };

/** The `answer:` section. Null: nobody does that. */
export interface AnswerSettings {
  readonly afterAlert: AnswerDelay | null;
  readonly afterMissedHeartbeatMs: number | null;
  readonly charges: ChargingHabit | null;
}

/** The `delivery:` section. */
export interface DeliverySettings {
  /** The share of messages lost after the network accepted them, in parts per million. */
  readonly lostPpm: number;
  readonly seenAfterMs: number;
}

/** How long an answer takes to an alert that is delivered at this local time; of a median, the median. */
export function answerAfterMs(delay: AnswerDelay, localMs: number): number {
  switch (delay.kind) {
    case 'fixed':
      return delay.ms;
    case 'lognormal':
      return delay.medianMs;
    case 'byNight': {
      const atMs = ((localMs % dayMs) + dayMs) % dayMs;
      const { nightFromMs, nightUntilMs } = delay;
      const isNight =
        nightFromMs <= nightUntilMs
          ? atMs >= nightFromMs && atMs < nightUntilMs
          : atMs >= nightFromMs || atMs < nightUntilMs;
      if (!isNight) return delay.dayMs;
      const untilMs = (((nightUntilMs - atMs) % dayMs) + dayMs) % dayMs;
      return Math.min(delay.nightMs, untilMs + delay.dayMs);
    }
  }
}
