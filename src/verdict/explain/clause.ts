// What a reason consists of: claims about one run, each of which can be checked against it. The words are in words.ts.

/** How an opening without a check lay between two. */
interface Between {
  readonly kind: 'between';
  /** From the last check before it to its start; null: no check came before it. */
  readonly afterMs: number | null;
  /** From its end to the next check; null: none came, or it was open to the end of the timeline. */
  readonly beforeMs: number | null;
  /** Without power from its end to that check, or to the end of the timeline. */
  readonly offMs: number;
}

/** The device was off, or held for a reset, all the time. */
type AllTheTime =
  | { readonly kind: 'offThroughout' }
  | { readonly kind: 'heldThroughout'; readonly deliveredBeforeMs: number };

/** An alert of before the opening was delivered in it, and from then on the device made no check while it was open. */
interface HeldFromDelivery {
  readonly kind: 'heldFromDelivery';
  readonly decidedBeforeMs: number;
  /** From the start of the opening to the delivery. */
  readonly deliveredAfterMs: number;
  readonly heldMs: number;
  /** Whether it still waited for a reset when the opening ended. */
  readonly toTheEnd: boolean;
  /** The reason has named the alert already. */
  readonly named: boolean;
}

/** The charge was used up: `lastedMs` from the last charge or power-on. */
interface Unpowered {
  readonly kind: 'unpowered';
  /** How long it had been flat as the door opened; null: it went flat later. */
  readonly beforeMs: number | null;
  /** How long after the door opened it went flat, where it did later. */
  readonly afterMs: number | null;
  readonly lastedMs: number;
  /** In the opening. */
  readonly offMs: number;
  /** The device was off all the time. */
  readonly all: boolean;
}

/** All checks in it read shut. */
interface AllShut {
  readonly kind: 'allShut';
  readonly checks: number;
}

/** Why checks that found it open often enough made no alert. */
type NoDecision =
  /** `deliveredBeforeMs`: from the delivery that the cooldown began with to the first of the checks; null: there was none. */
  | {
      readonly kind: 'quiet';
      readonly checks: number;
      readonly deliveredBeforeMs: number | null;
      /** The number of shut checks in a row that would have ended the cooldown; the door was shut in between, for fewer checks. */
      readonly unseenShut?: number;
    }
  /** An alert decided before the opening was pending. */
  | { readonly kind: 'unsent'; readonly checks: number; readonly decidedBeforeMs: number };

/** It was never found open often enough. */
type TooFew =
  /** `ms` from the last check before it; null: it opened before the first check. */
  | { readonly kind: 'opened'; readonly afterMs: number | null }
  /** `offMs`: without power from the end of the opening to that check, or to the end of the timeline. */
  | { readonly kind: 'shutTooSoon'; readonly byMs: number; readonly offMs: number }
  | { readonly kind: 'noneInTime'; readonly offMs: number }
  /** Without power when it ended, and for this long before. No check could come, whatever the door did. */
  | { readonly kind: 'offUntilShut'; readonly ms: number }
  | { readonly kind: 'readShutBefore' }
  | { readonly kind: 'endedFirst' }
  | { readonly kind: 'counted'; readonly most: number; readonly enough: number }
  /** A logic of one's own, whose rule is unknown; `aside`: after how the opening ended. */
  | { readonly kind: 'readOpen'; readonly checks: number; readonly aside: boolean };

/** How many attempts ended how. */
export interface AttemptCounts {
  readonly failed: number;
  readonly cutByReset: number;
  readonly cutByPower: number;
  readonly cutByCharge: number;
  readonly cutByEnd: number;
}

/** What became of alerts that were not delivered. */
export interface Fates {
  /** Lost in a power loss. */
  readonly forgotten: number;
  /** Lost as the charge ended. */
  readonly emptied: number;
  /** Lost in a reset that clears retained memory. */
  readonly cleared: number;
  readonly dropped: number;
  readonly unsent: number;
}

type Decided =
  | { readonly kind: 'undelivered'; readonly fates: Fates; readonly attempts: AttemptCounts }
  | { readonly kind: 'late'; readonly byMs: number }
  | {
      readonly kind: 'decided';
      readonly afterMs: number;
      readonly sentForMs: number;
      readonly attempts: AttemptCounts;
    }
  /** Alerts of the same opening before the one that was delivered. */
  | { readonly kind: 'earlier'; readonly fates: Fates };

/** What happened in the opening, or in the part of it before the decision, that kept the device from deciding sooner. */
export type Circumstance =
  | { readonly kind: 'off'; readonly ms: number }
  | { readonly kind: 'held'; readonly ms: number }
  | { readonly kind: 'sending'; readonly ms: number }
  | { readonly kind: 'wakesCut'; readonly wakes: number }
  | { readonly kind: 'readShut'; readonly checks: number; readonly of: number }
  | { readonly kind: 'countLost'; readonly times: number; readonly checks: number }
  /** Lost as a charge ended. */
  | { readonly kind: 'countEmptied'; readonly times: number; readonly checks: number }
  | { readonly kind: 'countCleared'; readonly times: number; readonly checks: number };

interface Meanwhile {
  readonly kind: 'meanwhile';
  readonly until: 'shut' | 'decision';
  readonly what: readonly (Circumstance | NoDecision)[];
}

/** What a false alert was decided on. */
type FalseAlarm =
  | {
      readonly kind: 'openChecks';
      readonly checks: number;
      /** Within the timeline; never empty. */
      readonly openings: readonly { readonly ms: number; readonly brief: boolean }[];
    }
  | { readonly kind: 'ghosts'; readonly checks: number; readonly all: boolean }
  | { readonly kind: 'decidedShut' }
  /** A logic that does not show what it counts decided at a check that read open, in this opening; null: the door was shut. */
  | {
      readonly kind: 'ownRule';
      readonly opening: { readonly ms: number; readonly brief: boolean } | null;
    }
  | { readonly kind: 'noOpenCheck' };

export type Clause =
  | Between
  | AllTheTime
  | HeldFromDelivery
  | Unpowered
  | AllShut
  | NoDecision
  | TooFew
  | Decided
  | Meanwhile
  | FalseAlarm;

export type ClauseOf<Kind extends Clause['kind']> = Extract<Clause, { kind: Kind }>;
