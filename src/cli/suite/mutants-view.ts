// How a suite's scenarios judge the faulty watches: plain data for the report and for JSON.
import type { Coverage } from '../../coverage/index.js';
import type { SceneName } from '../../mutants/index.js';

export type Noticed =
  /** A scenario that the sound watch meets is not met by the faulty one. */
  | 'noticed'
  /** The verdict on a scenario differs, but no expectation covers that. */
  | 'shown-only'
  /** Every verdict is the same. */
  | 'unnoticed'
  /** With the settings of these watches the mistake changes nothing, whatever happens. */
  | 'no-difference';

export interface MutantFinding {
  readonly name: string;
  readonly mistake: string;
  /** When it shows in the first watch in which it makes a difference, where its scene needs that; else null. */
  readonly when: string | null;
  readonly outcome: Noticed;
  /** What happens in a scenario that would notice it. */
  readonly scene: SceneName;
  /** The first scenario that notices or shows it. */
  readonly by: string | null;
  /** A line for the `expect:` of the scenario that shows it, with which it would notice it; null: it is not only shown. */
  readonly add: string | null;
}

/** `failed`: with the sound watch. */
export interface LeftOut {
  readonly path: string;
  readonly why: 'failed' | 'unreadable';
}

export interface AgainstMutants {
  readonly faults: readonly MutantFinding[];
  /** Scenarios left out, each by its file: they say nothing about a mistake. */
  readonly leftOut: readonly LeftOut[];
  readonly watches: readonly {
    /** Null: the defaults apply. */
    readonly file: string | null;
    /** After an alert it waits for a reset. */
    readonly holds: boolean;
    /** Its clock error, or its boot or connect time, is picked from a range. */
    readonly hasRanges: boolean;
    /** The mistakes that make a difference in this watch. */
    readonly differing: readonly string[];
    readonly coverage: Coverage;
  }[];
}
