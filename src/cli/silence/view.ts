// What `silence` found, for its report, its JSON and its tests at the door, with the words that they share.
import { dayMs, meanYearMs } from '../../base/index.js';
import { lifeText } from '../../battery/index.js';
import type { MessagesNotInFile } from '../../compare/index.js';
import type {
  DoorTests,
  Explanation,
  Observed,
  Priors,
  SilenceAnswer,
} from '../../silence/index.js';
import type { Renewal } from '../../wording/index.js';
import type { MissingBeats } from './missing-beats.js';

export interface SilenceView {
  /** Null: the defaults apply. */
  readonly file: string | null;
  readonly profile: string;
  readonly seed: string;
  readonly zone: string;
  readonly assumes: readonly string[];
  readonly observed: Observed;
  readonly answer: SilenceAnswer;
  readonly priors: Priors;
  /** Between two openings in the simulated years. */
  readonly longestGapMs: number;
  readonly tests: DoorTests;
  readonly renewal: Renewal;
  /** Where the life of a charge comes from; null: nothing is known of it. */
  readonly lifeFrom: 'supply' | 'given' | 'message' | null;
  /** Of a watch that waits for a reset after its alert; null: it goes on watching. */
  readonly hold: HeldDevice | null;
  readonly hasHeartbeat: boolean;
  /** Of the watch file; 0: no outage is among the explanations. */
  readonly longestOutageMs: number;
  /** A log of messages is given. */
  readonly hasMessages: boolean;
  /** Heartbeats that did not come before the last message. */
  readonly missing: MissingBeats;
  /** Messages since the charge that the watch file does not send. */
  readonly notInFile: readonly MessagesNotInFile[];
}

export interface HeldDevice {
  /** What it draws awake until a reset; null: the watch file does not say. */
  readonly currentNa: number | null;
  /** How long a full charge lasts then; null: not known, or over a hundred years. */
  readonly lastsMs: number | null;
}

/** An explanation less probable than this is not shown in the table. */
export const shownFrom = 0.0005;

/** In a table and after "most probably". */
export const names: Readonly<Record<Explanation, string>> = {
  quiet: 'nobody left the door open',
  lost: 'it works, and a message was lost',
  outage: 'it works, and its heartbeats met outages',
  flat: 'the battery is empty',
  holding: 'it still waits for a reset after its last alert',
  'holding-lost': 'it waits for a reset after an alert that was lost',
  network: 'it has no network',
  contact: 'the contact reads shut for good',
  firmware: 'the firmware hangs',
};

/** Two digits, since lives of the same device spread by a fifth, and rounded down as in the other commands. */
export function aboutLife(ms: number): string {
  if (ms < 10 * dayMs || ms >= 2 * meanYearMs) return lifeText(ms);
  const days = Math.floor(ms / dayMs);
  const step = 10 ** (String(days).length - 2);
  return `${String(Math.floor(days / step) * step)} d`;
}
