// What the files say, once they are read and believed.
import type { Diagnostic, Ppm, TrueMs, Um } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { JudgeSettings } from '../verdict/index.js';
import type { ContactSettings, DeviceTiming, DoorMove, World } from '../world/index.js';

/** A watch file. */
export interface WatchFile {
  readonly watch: WatchSettings;
  /** Clock error by temperature is set aside in `clockErrorByTemperature`; here it stands as fixed at 25 °C. */
  readonly timing: DeviceTiming;
  /** Points of a curve, ascending in temperature, linear in between; null: the clock ignores temperature. */
  readonly clockErrorByTemperature: readonly TemperaturePoint[] | null;
  readonly judge: JudgeSettings;
  /** Null: an ideal contact, which reads open exactly while the door is open. */
  readonly contact: ContactSettings | null;
  readonly sealGapUm: Um;
}

export interface TemperaturePoint {
  readonly celsius: number;
  readonly ppm: Ppm;
}

/** Places a timeline in people's time. */
export interface TimelineStart {
  /** Milliseconds since 1970-01-01T00:00:00Z at the timeline's start. */
  readonly epochMs: number;
  /** An IANA zone name, or a fixed offset such as `+02:00`. */
  readonly timeZone: string;
}

/** A wish of a scenario about its own verdict: an exact number, or a range with both ends included. */
export interface Expectations {
  readonly counts: readonly {
    readonly name: 'openings' | 'leaveOpens' | 'reported' | 'late' | 'missed' | 'undecided'
      | 'alerts' | 'falseAlarms' | 'earlyAlerts' | 'repeats' | 'checks';
    readonly least: number;
    readonly most: number;
  }[];
  readonly worstDelayAtMostMs: TrueMs | null;
  readonly worstDelayAtLeastMs: TrueMs | null;
}

/** A door timeline from a scenario or a log, ready to be driven through a watch. */
export interface Timeline {
  readonly name: string;
  /** The file it came from, as the user named it. */
  readonly file: string;
  readonly start: TimelineStart;
  readonly world: World;
  /** The door's gap in steps, where the input told of gaps; null: wide open or shut. */
  readonly moves: readonly DoorMove[] | null;
  /** The watch file's, unless the scenario says otherwise. */
  readonly timing: DeviceTiming;
  readonly seed: string;
  readonly expect: Expectations | null;
  /** Notes of openings, by the index of the opening they fall in. */
  readonly notes: ReadonlyMap<number, string>;
  /** What a reader should know of the input: merged rows, repairs, faults that came to nothing. */
  readonly remarks: readonly Diagnostic[];
}

