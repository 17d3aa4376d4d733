// What is shown of a search for settings.
import type { WatchSettings } from '../../machine/index.js';
import type { Proved, TuneAnswer, TuneRequirements } from '../../tune/index.js';
import type { BeyondRates } from './beyond-rates.js';

export interface TuneView {
  readonly answer: TuneAnswer;
  readonly requirements: TuneRequirements;
  /** The settings to start from. */
  readonly watch: WatchSettings;
  readonly head: TuneHead;
  /** Null: no leave-open is late. */
  readonly reportWithinMs: number | null;
  /** What settings do that no rate shows. */
  readonly beyondRates: BeyondRates;
  /** What is proved of the recommended settings from any state; null: none are recommended. */
  readonly anyState: Proved | null;
  /** The same of the present settings; null: none are recommended. */
  readonly yoursFromAnyState: Proved | null;
}

export interface TuneHead {
  /** The watch file; null: the defaults. */
  readonly file: string | null;
  readonly profile: string;
  readonly seed: string;
  readonly years: number;
  readonly confidence: number;
  readonly from: 'atRest' | 'anyState';
  /** The longest network outage that the bounds allow. */
  readonly outageMs: number;
  /** For which openings what is proved holds; null: for all. */
  readonly gaps: string | null;
  /** What lasts: a charge, or cells of a capacity. */
  readonly lasts: string;
  readonly searched: number;
  /** The settings of which several values were tried, with these. */
  readonly tried: string;
  /** Days of the log that the profile was fitted to; null: of none. */
  readonly logDays: number | null;
  /** Settings that were simulated. */
  readonly lived: number;
  /** Profiles that other samples of the log would have led to; 0: the profile is not of a log. */
  readonly resamples: number;
  /** Settings whose search outgrew its limit. */
  readonly unknown: number;
  /** What the years take for granted of people, in words. */
  readonly assumes: readonly string[];
}
