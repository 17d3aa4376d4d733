// All that a report of one replay is made from.

import type { Use } from '../battery/index.js';
import type { Proved } from '../bounds/index.js';
import type { EveryPhase } from '../phase/index.js';
import type { Failure } from '../rig/index.js';
import type { Timeline, UnmetExpectation, WatchFile } from '../scenarios/index.js';
import type { AlertRecord, Trace } from '../sim/index.js';
import type { Explanation, Verdict } from '../verdict/index.js';
import type { Moments } from './moments.js';

export interface ReplayView {
  readonly timeline: Timeline;
  readonly verdict: Verdict;
  /** What became of each alert, in the order of the verdict's. */
  readonly alerts: readonly AlertRecord[];
  readonly use: Use;
  /** What became of the charge, where the run drained a supply. */
  readonly trace: Pick<Trace, 'flat' | 'charges' | 'lowBattery' | 'lowBatteryDue'>;
  readonly explanations: readonly Explanation[];
  /** Null: the timeline expects nothing of its own. */
  readonly unmet: readonly UnmetExpectation[] | null;
  readonly watchFile: WatchFile;
  /** As the user named it; null: the defaults apply. */
  readonly watchName: string | null;
  /** The file of your own machine that replaces the watch's logic; absent: the watch's own decides. */
  readonly logicName?: string | undefined;
  readonly moments: Moments;
  /** Null: the machine of the watch file ran. */
  readonly firmware: FirmwareView | null;
  /** What is proved of the watch; null: bounds cannot search what ran. */
  readonly proved: Proved | null;
  /** What other phases of the checks do; null: the phase is given, and no others were wanted. */
  readonly phases: PhasesView | null;
  /** Present: it is shown on a page that others read elsewhere. */
  readonly isPage?: true;
}

export interface PhasesView {
  /** Null: it would have taken too long. */
  readonly every: EveryPhase | null;
  /** Every phase is judged; else only a remark is made that others may differ. */
  readonly areJudged: boolean;
  /** A phase with a false alarm, where the one that is shown has none and one was found. */
  readonly alarmed?: AlarmedPhase;
}

/** A power-on at which the device raises a false alarm, and the first opening that it is for; null: the door was shut. */
export interface AlarmedPhase {
  readonly powerOnAtMs: number;
  readonly opening: number | null;
}

/** What there is to say of a firmware besides its verdict. */
export interface FirmwareView {
  readonly file: string;
  /** Of `long` and pointers, in bits; null: it is no program in C. */
  readonly wordBits: number | null;
  /** Null: it ran to the end of the timeline. */
  readonly failure: Failure | null;
  readonly printed: string;
  readonly printedBytes: number;
  /** What it retained around the wake that decided the first finding, line by line. */
  readonly deciding: readonly string[];
}
