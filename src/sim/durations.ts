// Boot and connect times, one after the other, each from its own stream.
import { itemAt, randomStream } from '../base/index.js';
import type { VaryingMs } from '../world/index.js';

/** Gives one duration a call; `steadyMs` is set when every call gives the same. */
export interface Durations {
  readonly steadyMs: number | null;
  next(): number;
}

/** @param purpose names the stream, so that more attempts do not change the boots. */
export function durations(varying: VaryingMs, seed: string, purpose: string): Durations {
  switch (varying.kind) {
    case 'fixed':
      return { steadyMs: varying.ms, next: () => varying.ms };
    case 'range': {
      const stream = randomStream(seed, purpose);
      return {
        steadyMs: null,
        next: () => stream.whole(varying.leastMs, varying.greatestMs),
      };
    }
    case 'inTurn': {
      let index = -1;
      const last = varying.ms.length - 1;
      return {
        steadyMs: null,
        next: () => itemAt(varying.ms, (index = Math.min(index + 1, last))),
      };
    }
  }
}
