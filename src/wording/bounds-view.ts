// All that a report of one watch's bounds is made from, and which requirements they meet.
import type { Bounds, HoldsAtRestAndAnyState } from '../bounds/index.js';
import type { WatchFile } from '../scenarios/index.js';

export interface BoundsView {
  /** As the user named it; null: the defaults, perhaps with options over them. */
  readonly watchName: string | null;
  /** Options that override it, such as `--interval 3m`. */
  readonly overrides: readonly string[];
  readonly watchFile: WatchFile;
  /** The file of your own machine that replaces the watch's logic; absent: the watch's own decides. */
  readonly logicName?: string | undefined;
  readonly bounds: Bounds;
  /** False: neither a file nor an option states a requirement. */
  readonly isJudged: boolean;
  /** True: a requirement that is met only at rest is a failure. */
  readonly isStrict?: boolean;
  /** The usage of the door, as the user named it, with the years simulated for it; absent: none is given. */
  readonly usage?: {
    readonly name: string;
    readonly years: number;
    readonly falseAlarmsPerYear: number | null;
  };
}

/** A requirement of the watch file or of an option. */
export interface AskedFor {
  readonly key: 'leaveOpenAfter' | 'reportWithin' | 'quietUpTo';
  readonly ms: number;
  /** True or false: proved; null: the search stopped before it was known. Undefined: it applies at rest only. */
  readonly atRest: boolean | null;
  readonly anyState: boolean | null | undefined;
}

/** The requirements, in the order of the watch file. */
export function askedFor({ watchFile, bounds, isJudged }: BoundsView): readonly AskedFor[] {
  if (!isJudged) return [];
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = watchFile.judge;
  const { holds } = bounds;
  const rows: (AskedFor | null)[] = [
    { key: 'leaveOpenAfter', ms: leaveOpenAfterMs, ...both(holds.leaveOpenAfter) },
    reportWithinMs === null
      ? null
      : { key: 'reportWithin', ms: reportWithinMs, ...both(holds.reportWithin) },
    quietUpToMs === null
      ? null
      : { key: 'quietUpTo', ms: quietUpToMs, atRest: holds.quietUpTo.atRest, anyState: undefined },
  ];
  return rows.filter((row) => row !== null);
}

function both({ atRest, anyState }: HoldsAtRestAndAnyState) {
  return { atRest, anyState };
}

/** Whether every requirement is proved to be met: at rest, or from any state. */
export function allHolds(view: BoundsView, from: 'atRest' | 'anyState'): boolean {
  return askedFor(view).every((asked) => {
    const holds = from === 'atRest' ? asked.atRest : asked.anyState;
    return holds === true || holds === undefined;
  });
}

/** A name for the watch in a sentence or a column. */
export function nameOf({ watchName }: BoundsView): string {
  if (watchName === null) return 'the watch';
  return watchName === '-' ? 'standard input' : watchName;
}
