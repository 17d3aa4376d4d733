// All that a report of one watch's bounds is made from, and which requirements they meet.
import type { BoundName, Bounds } from '../bounds/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { isUnknown } from './sheet.js';

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
  readonly atRest: Held;
  /** Undefined: it applies at rest only. */
  readonly anyState: Held | undefined;
}

/** True or false: proved. Null: the search stopped before it was known. Not shown: the bounce of the contact leaves it open. */
export type Held = boolean | 'not shown' | null;

/** The requirements, in the order of the watch file. */
export function askedFor({ watchFile, bounds, isJudged }: BoundsView): readonly AskedFor[] {
  if (!isJudged) return [];
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = watchFile.judge;
  const row = (key: AskedFor['key'], ms: number | null): readonly AskedFor[] =>
    ms === null ? [] : [{ key, ms, ...heldOf(bounds, key) }];
  return [
    ...row('leaveOpenAfter', leaveOpenAfterMs),
    ...row('reportWithin', reportWithinMs),
    ...row('quietUpTo', quietUpToMs),
  ];
}

const boundOf = {
  leaveOpenAfter: (from) => `alwaysReportedFromMs.${from}`,
  reportWithin: (from) => `worstDelayMs.${from}`,
  quietUpTo: () => 'neverAlarmedUpToMs',
} as const satisfies Readonly<Record<AskedFor['key'], (from: 'atRest' | 'anyState') => BoundName>>;

function heldOf(bounds: Bounds, key: AskedFor['key']): Pick<AskedFor, 'atRest' | 'anyState'> {
  const held = (from: 'atRest' | 'anyState'): Held => {
    const holds = bounds.holds[key][from];
    return holds === null && !isUnknown(bounds, boundOf[key](from)) ? 'not shown' : holds;
  };
  return { atRest: held('atRest'), anyState: key === 'quietUpTo' ? undefined : held('anyState') };
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
