// What a report says, in words and pictures that are ready: it only sets them.

import type { Timeline, WatchFile } from '../scenarios/index.js';
import type { Standing } from '../wording/index.js';
import type { PageScript } from './page-script.js';

export type Fact = readonly [name: string, value: string];

export interface ReportFinding {
  readonly kind: 'missed' | 'late' | 'false';
  readonly when: string;
  readonly what: string;
  /** Null: beyond the number that is explained. */
  readonly why: string | null;
}

export interface ReportPhases {
  /** No phase misses, is late or raises a false alarm, as at the phase replayed. */
  readonly isSame: boolean;
  readonly verdict: string;
  readonly span: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** How many more there are. */
  readonly moreRows: number;
}

export interface ReportTimeline {
  readonly timeline: Timeline;
  readonly verdict: string;
  /** The worse of what happened and what is proved at rest. */
  readonly standing: Standing;
  /** Nothing was missed, late, false or against an expectation. */
  readonly isClean: boolean;
  readonly facts: readonly Fact[];
  /** All of the timeline at a glance. */
  readonly overview: Fitting;
  /** Findings aligned at the moment of opening; null: nothing went wrong. */
  readonly aligned: Fitting | null;
  /** The leave-opens over all phases; null: they were not judged. */
  readonly phases: ReportPhases | null;
  /** The command that judges them where the page does not. */
  readonly phasesCommand: string;
  readonly findings: readonly ReportFinding[];
  /** How many more there are. */
  readonly moreFindings: number;
  readonly remarks: readonly string[];
}

/** A picture laid out for a page, for a tablet or paper, and for a phone: whole SVG documents with the theme `page`. */
export interface Fitting {
  /** Null, as on a phone: the one in the middle serves every width. */
  readonly page: string | null;
  readonly middle: string;
  readonly phone: string | null;
}

export interface ReportBounds {
  readonly verdict: string;
  readonly picture: Fitting;
  readonly sheet: readonly {
    readonly symbol: string;
    readonly atRest: string;
    readonly anyState: string;
    readonly unit: string;
    readonly meaning: string;
  }[];
  readonly asked: readonly {
    readonly what: string;
    readonly atRest: string;
    readonly anyState: string;
  }[];
  readonly points: readonly string[];
}

export interface ReportBattery {
  readonly picture: Fitting;
  readonly facts: readonly Fact[];
}

export interface ReportInput {
  readonly title: string;
  readonly watchFile: WatchFile;
  readonly timelines: readonly ReportTimeline[];
  /** The bar of lengths, for the top of the page; null: nothing is proved of it. */
  readonly bar: Fitting | null;
  /** Null: not asked for. */
  readonly bounds: ReportBounds | null;
  /** Null: the watch file says nothing of a supply. */
  readonly battery: ReportBattery | null;
  /** As the user named it; null: the defaults apply. */
  readonly watchName: string | null;
  readonly version: string;
  readonly commandLine: string;
  readonly caution: string;
  readonly script: PageScript;
  /** Gzip in base 64, for long data; null: it stays as text. */
  readonly pack: ((text: string) => string) | null;
}
