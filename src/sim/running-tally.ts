// The totals of a run while they grow.
import type { SendOutcome } from './trace.js';

/** What a connection is made for. */
export type SendKind = 'alert' | 'heartbeat' | 'lowBattery';

/** How many sends of a kind ended how, and how long all lasted, without waits for the network. */
export type Sends = Record<SendOutcome, number> & { ms: number };

/** Totals while they grow; wakes are indexed by the input code of their cause. */
export interface RunningTally {
  checks: number;
  openChecks: number;
  readonly wakes: [number, number, number, number];
  bootMs: number;
  shutBootMs: number;
  /** Awake in sends, after the connect time, waiting for the network. */
  waitMs: number;
  heldMs: number;
  offMs: number;
  flatMs: number;
  readonly sends: {
    readonly alert: Sends;
    readonly heartbeat: Sends;
    /** Low-battery messages in connections of their own. */
    readonly lowBattery: Sends;
    /** Of the alerts and low-battery messages, those that met the network down, or would have at their end. */
    readonly failed: { count: number; ms: number };
  };
}
