// A watch with one small mistake in it: in its settings, as a builder would mistype or miscompute them, or in its
// logic, as a builder would miswrite it.
import type { WatchSettings } from '../machine/index.js';
import type { TimingRanges } from '../model/index.js';
import type { Program, TimeSlips } from '../sim/index.js';
import type { LogicChange } from './changed-logic.js';
import type { SceneName } from './scenes.js';

export interface Mutant {
  /** Stable, kebab-case. */
  readonly name: string;
  /** The simplest scene that shows it. */
  readonly scene: SceneName;
  /** What is wrong with it: one clause. */
  readonly mistake: string;
  /** Only a reset that keeps retained memory shows it. */
  readonly needsKeptReset?: true;
  /** It shows only where something happens while the device is awake: no hand at the door hits that moment. */
  readonly beyondHands?: true;
  /** What the mistake makes of the settings. */
  readonly settings?: (watch: WatchSettings, timing: TimingRanges) => WatchSettings;
  /** From when on its cooldown counts. */
  readonly cooldownFrom?: Program['cooldownFrom'];
  /** What the mistake makes of the logic. */
  readonly logic?: (watch: WatchSettings) => LogicChange;
  /** What it makes of clocks and counters. */
  readonly slips?: (watch: WatchSettings) => TimeSlips;
  /** How long after power-on it can show at the soonest; absent: at once. No test at the door waits for it. */
  readonly showsAfterMs?: (watch: WatchSettings) => number;
  /** The time that a scene calls the one given with the mistake, in words. */
  readonly when?: (watch: WatchSettings, timing: TimingRanges) => string;
}
