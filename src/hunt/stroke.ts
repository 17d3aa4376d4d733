// What a script is made of: strokes, each after a wait that depends on what the device is about to do.
import type { Turn } from './turns.js';

/** A part of a wake. */
export type Moment = 'check' | 'wake' | 'asleep' | 'sent';

/** How long to wait before the next stroke. */
export type Wait =
  /** Until so near to a part of a coming wake; `checks` wakes with a check go by before. */
  | {
      readonly kind: 'moment';
      readonly checks: number;
      readonly moment: Moment;
      readonly byMs: number;
    }
  /** The time after the last stroke. */
  | { readonly kind: 'length'; readonly ms: number }
  /** Until so near to the end of the cooldown of the last delivery, or to the next heartbeat. */
  | { readonly kind: 'cooldown' | 'heartbeat'; readonly byMs: number }
  /** Until so near to the start or the end of the next attempt to send an alert. */
  | { readonly kind: 'attempt'; readonly at: 'start' | 'end'; readonly byMs: number }
  /** A share of what is left of the timeline, on a logarithmic scale. */
  | { readonly kind: 'quiet'; readonly share: number }
  /** Until so near to where something that the device counts comes round; `share` as in `turnAfter`. */
  | {
      readonly kind: 'turn';
      readonly turn: Turn;
      readonly since: 'power-on' | 'now';
      readonly share: number;
      readonly byMs: number;
    };

/** What befalls the device, the door apart. */
export type FaultAct =
  | { readonly kind: 'reset' }
  | { readonly kind: 'outage'; readonly forMs: number }
  | { readonly kind: 'powerCut'; readonly forMs: number };

export type Act =
  /** Only the wait counts. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'open' }
  | { readonly kind: 'shut' }
  /** Open for as long as it says. */
  | { readonly kind: 'visit'; readonly forMs: number }
  /** Open again and again, for the same time each. */
  | {
      readonly kind: 'series';
      readonly count: number;
      readonly everyMs: number;
      readonly forMs: number;
    }
  /** Open for as long as it says, with faults in their order, each at a time counted from the opening. */
  | {
      readonly kind: 'troubled';
      readonly forMs: number;
      readonly faults: readonly { readonly afterMs: number; readonly fault: FaultAct }[];
    }
  /** Shut, and open again so soon after. */
  | { readonly kind: 'reopen'; readonly forMs: number }
  | FaultAct
  | { readonly kind: 'misread'; readonly forMs: number; readonly reads: 'shut' | 'at random' };

export interface Stroke {
  readonly wait: Wait;
  readonly act: Act;
}

/** Strokes one after the other. */
export interface Script {
  readonly strokes: readonly Stroke[];
  /** When a door that still stands open is shut at last; null: never. */
  readonly ending: Wait | null;
  /** Whether the timeline goes on to its full length, or ends soon after the last stroke. */
  readonly runsOn: boolean;
}
