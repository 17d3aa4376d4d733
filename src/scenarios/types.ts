// What the files say, once they are read and believed.
import type { Diagnostic, Result, SourceRef, TrueMs, Um } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  type AnswerSettings,
  type DeliverySettings,
  type Environment,
  type Requirements,
  type ResetKind,
  type ResetMemory,
  type SupplySettings,
  type TimingRanges,
} from '../model/index.js';
import type {
  ClockError,
  ContactFault,
  ContactSettings,
  DeviceTiming,
  DoorMove,
  Spans,
  TemperatureStep,
  VaryingMs,
  World,
} from '../world/index.js';

/** A watch file. */
export interface WatchFile {
  readonly watch: WatchSettings;
  readonly timing: TimingRanges;
  readonly judge: Requirements;
  /** Null: an ideal contact, which reads open exactly while the door is open. */
  readonly contact: ContactSettings | null;
  readonly sealGapUm: Um;
  /** The smallest gap at which an open door rests; null: the file does not say. */
  readonly opensAtLeastUm: Um | null;
  /** What each kind of reset does to retained memory. */
  readonly reset: ResetMemory;
  /** Null: the file says nothing of a battery. */
  readonly supply: SupplySettings | null;
  /** The person that answers; null: the file says nothing of one. */
  readonly answer: AnswerSettings | null;
  /** What can happen to a message after its delivery. */
  readonly delivery: DeliverySettings;
  /** What may go wrong at worst; a replay does not look at it. */
  readonly environment: Environment;
}

/** Places a timeline in people's time. */
export interface TimelineStart {
  /** Milliseconds since 1970-01-01T00:00:00Z at the timeline's start. */
  readonly epochMs: number;
  /** An IANA zone name, or a fixed offset such as `+02:00`. */
  readonly timeZone: string;
  /** Nothing says when it starts: an instant was taken for it. */
  readonly isAssumed?: true;
}

/** A scenario: its instants are already milliseconds from its start, and everything in it lies inside it. */
export interface Scenario {
  readonly name: string;
  readonly file: string;
  readonly start: TimelineStart;
  readonly lengthMs: TrueMs;
  readonly powerOnAtMs: TrueMs;
  /** Ascending; they may touch but do not overlap. */
  readonly door: readonly ScenarioOpening[];
  readonly generate: GeneratedDoor | null;
  readonly networkDown: Spans;
  readonly powerLost: Spans;
  readonly resetsMs: Float64Array;
  /** What each of them is. */
  readonly resetKinds: readonly ResetKind[];
  /** Instants at which somebody charges the battery. */
  readonly chargedMs: Float64Array;
  /** When the battery counts as low, whatever its charge; absent: by its charge alone. */
  readonly batteryLow?: Spans;
  /** Ascending; they may touch but do not overlap. */
  readonly contactFaults: readonly ContactFault[];
  /** Ascending; each holds until the next, the first also before itself. Empty: nothing is said. */
  readonly temperature: readonly TemperatureStep[];
  /** What the scenario says of the device in place of the watch file; null: nothing. */
  readonly environment: {
    readonly bootTime: VaryingMs | null;
    readonly connectTime: VaryingMs | null;
    readonly clockError: ClockError | null;
    /** Of each kind of reset; null: as the watch file says. */
    readonly reset: ResetMemory;
  };
  readonly seed: string | null;
  readonly expect: Expectations | null;
}

/** One opening of a scenario's door, before the seal gap has its say. */
export interface ScenarioOpening {
  readonly fromMs: TrueMs;
  /** `Infinity` for a door that is not shut again within the scenario. */
  readonly toMs: number;
  /** Where the door stands; null: wide open. */
  readonly gapUm: Um | null;
  /** How it came to its gap: swung wide and then pushed to it, or moved there from shut. */
  readonly approach: 'closing' | 'creeping';
  readonly note: string | null;
  readonly source: SourceRef;
  /** Where its gap is written. */
  readonly gapSource?: SourceRef;
}

/** A door whose openings are drawn from a usage profile. */
export interface GeneratedDoor {
  readonly profile: UsageProfile;
  /** Null: the seed of the timeline. */
  readonly seed: string | null;
}

/** How a door is used. */
export interface UsageProfile {
  /** How many openings, or visits where the profile has visits, to expect in each of the 24 hours of a local day. */
  readonly openingsPerHour: readonly number[];
  /** Factors on the openings of Monday to Friday, and of Saturday and Sunday. */
  readonly weekdayFactor: number;
  readonly weekendFactor: number;
  readonly duration: DurationDistribution;
  /** Null: nobody ever leaves the door open. */
  readonly leaveOpen: LeaveOpenHabit | null;
  /** What happens in a visit; absent: each is one opening. */
  readonly visits?: VisitHabit;
  /** The days of a log, which years are put together from in place of everything above; absent: they are drawn. */
  readonly days?: readonly LoggedDay[];
  /** What the profile was fitted to; absent: it was written by hand. */
  readonly fitted?: FittedTo;
}

/** Several openings, one after the other. No visit begins during another. */
export interface VisitHabit {
  readonly openings: CountDistribution;
  /** From the end of an opening to the start of the next one of the visit. */
  readonly gap: DurationDistribution;
  /** Absent: lengths and gaps do not depend on each other. */
  readonly dependence?: VisitDependence;
}

/** Correlations of the normal scores of neighbours within a visit (a Gaussian copula), each from -1 to 1. */
export interface VisitDependence {
  /** Of the lengths of two openings in a row. */
  readonly lengths: number;
  /** Of an opening's length and the gap after it. */
  readonly gapAfter: number;
  /** Of a gap and the length of the opening after it. */
  readonly lengthAfter: number;
}

/** How many openings a visit has: at least one. */
export type CountDistribution =
  | { readonly kind: 'fixed'; readonly count: number }
  | { readonly kind: 'geometric'; readonly mean: number }
  /** One, and a Poisson number of further ones. */
  | { readonly kind: 'poisson'; readonly mean: number }
  | { readonly kind: 'drawn'; readonly counts: readonly number[] };

/** The openings of one local day of a log. */
export interface LoggedDay {
  readonly weekend: boolean;
  /** When each began, in milliseconds since midnight, and how long it lasted. */
  readonly openings: readonly { readonly atMs: number; readonly forMs: number }[];
}

/** What a profile was fitted to, and how far other samples of the same door would have led to another one. */
export interface FittedTo {
  readonly days: number;
  readonly openings: number;
  readonly leaveOpens: number;
  /** As many independent leave-opens as theirs are worth, which may come several a day; absent: a profile of an earlier version. */
  readonly leaveOpensApart?: number;
  /** From when on an opening counted as left open; absent: a profile of an earlier version. */
  readonly leaveOpenAfterMs?: TrueMs;
  /** Fits to resampled days: each a list of factors on what the profile says, in the order of `resampledFactors`. */
  readonly resamples: readonly (readonly number[])[];
}

/** Some openings are of another kind. */
export interface LeaveOpenHabit {
  /** How many of all openings, from 0 to 1. */
  readonly share: number;
  readonly duration: DurationDistribution;
}

export type DurationDistribution =
  | { readonly kind: 'fixed'; readonly ms: TrueMs }
  | { readonly kind: 'exponential'; readonly meanMs: TrueMs }
  /** The logarithm of the duration is normal, with standard deviation `sigma`. */
  | { readonly kind: 'lognormal'; readonly medianMs: TrueMs; readonly sigma: number }
  /** One of these, each as likely as the next. */
  | { readonly kind: 'drawn'; readonly ms: readonly TrueMs[] };

/** A wish of a scenario about its own verdict: an exact number, or a range with both ends included. */
export interface Expectations {
  readonly counts: readonly {
    readonly name:
      | 'openings'
      | 'leaveOpens'
      | 'reported'
      | 'late'
      | 'missed'
      | 'unpowered'
      | 'undecided'
      | 'alerts'
      | 'falseAlarms'
      | 'earlyAlerts'
      | 'repeats'
      | 'undelivered'
      | 'checks'
      | 'lowBatteryMessages';
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
  /** The door's gap in steps, where the input gave gaps; null: wide open or shut. */
  readonly moves: readonly DoorMove[] | null;
  /** The watch file's, unless the scenario says otherwise. */
  readonly timing: DeviceTiming;
  readonly seed: string;
  readonly expect: Expectations | null;
  /** It is of a log that ends as the door opens: that opening would begin at its end, and is not in `world`. */
  readonly opensAtEnd: boolean;
  /** Its door is drawn from a profile, so that people answer as well; absent: it is not. */
  readonly isGenerated?: boolean;
  /** Null: it is of a scenario. */
  readonly logged: LoggedFacts | null;
  /** Notes of openings, by the index of the opening they fall in. */
  readonly notes: ReadonlyMap<number, string>;
  /** What a reader should know of the input: merged rows, repairs, faults that came to nothing. */
  readonly remarks: readonly Diagnostic[];
}

export type LogFormat = 'csv' | 'tsv' | 'ndjson' | 'json';

/** Chooses the rows of a log that have this value in this column. */
export interface LogCondition {
  readonly column: string;
  readonly value: string;
}

/** How to read a door log. What is not given is found out from the header. */
/** Of a length: of a number, or of two numbers with a colon between them. */
export type DurationUnit = 'ms' | 's' | 'min' | 'h' | 'mm:ss' | 'hh:mm';

export interface DoorLogOptions {
  /** As the user named it; its ending decides the format unless `format` is given. */
  readonly file: string;
  readonly format?: LogFormat | undefined;
  readonly timeColumn?: string | undefined;
  readonly stateColumn?: string | undefined;
  /** Of the date, where the time columns hold times of day. */
  readonly dateColumn?: string | undefined;
  readonly startColumn?: string | undefined;
  readonly endColumn?: string | undefined;
  /** The length of an opening, in place of its end; and the unit of one that is a number, or what its two parts are. */
  readonly durationColumn?: string | undefined;
  readonly durationUnit?: DurationUnit | undefined;
  /** The date of the first row, if the times have none or no year: `2026-05-08`. A time much earlier than the one before it is of the next day, a month much earlier of the next year. */
  readonly date?: string | undefined;
  /** Reads the rows from the last to the first. */
  readonly newestFirst?: boolean | undefined;
  /** For times without an offset of their own: an IANA zone, or an offset such as `+02:00`. */
  readonly zone?: string | undefined;
  /** The form of the times: a pattern of strptime, or `serial` for days as spreadsheets count them. */
  readonly timeFormat?: string | undefined;
  /** Repairs what can be repaired, and lists each repair, in place of errors. */
  readonly lenient?: boolean | undefined;
  /** Words for an open and a shut door, besides the usual ones. */
  readonly openWords?: readonly string[] | undefined;
  readonly shutWords?: readonly string[] | undefined;
  /** Words for a state that is not known, besides the usual ones. */
  readonly unavailableWords?: readonly string[] | undefined;
  /** Readings of a sensor in place of words: above, or below this the door is open, such as `1.2`; `1.1..1.3` with a band in which it stays as it was. */
  readonly openAbove?: string | undefined;
  readonly openBelow?: string | undefined;
  /** Which rows to read: of one column either value will do, and each column has to fit. Default: all. */
  readonly where?: readonly LogCondition[] | undefined;
}

/** A push parser: it holds what it has read so far and calls nobody. */
export interface DoorLogReader {
  /** Takes the next piece of the text, cut anywhere. */
  push(chunk: string): void;
  /** Ends the log. Nothing may be pushed after that. */
  finish(): Result<DoorLog>;
}

/** A door log once read. Instants are milliseconds since 1970-01-01T00:00:00Z. */
export interface DoorLog {
  readonly file: string;
  /** The last opening is endless when the log ends with an open door. */
  readonly openings: Spans;
  /** Spans without evidence: the log says that it does not know the state. The last may be endless. */
  readonly unavailable: Spans;
  /** Openings whose length depends on which of two instants a doubled local time is. */
  readonly doubled: readonly DoubledOpening[];
  /** Whether --lenient allows repairs. */
  readonly lenient: boolean;
  /** Repairs after which a leave-open may be missing from the log. */
  readonly hidingRepairs: number;
  /** The first and the last event, of whatever kind. */
  readonly firstMs: number;
  readonly lastMs: number;
  /** Rows that hold data: without header and blank lines. */
  readonly rows: number;
  /** Rows that only repeat the state before them. */
  readonly mergedRows: number;
  /** Openings that end in the instant of their start: left out. */
  readonly emptyOpenings: number;
  /** How to show its instants: the zone of --zone, else the offset of its first row, else UTC. */
  readonly timeZone: string;
  /** The first repairs, and how many more; all of them are also among the remarks. */
  readonly repairs: readonly Diagnostic[];
  /** Repairs, and what else a reader should know. */
  readonly remarks: readonly Diagnostic[];
}

/** An opening with a local time that occurs twice, in the night the clocks go back. */
export interface DoubledOpening {
  readonly line: number;
  readonly fromMs: number;
  /** The length that was taken, and the least and the greatest that it can have. */
  readonly takenMs: number;
  readonly leastMs: number;
  readonly mostMs: number;
}

/** What only a log can say of its timeline. */
export interface LoggedFacts {
  /** Spans without evidence within the timeline; the last may be endless. */
  readonly unavailable: Spans;
  /**
   * The same for judging openings: a span that began before the timeline keeps its start, and one is added before the timeline if
   * the door was open as it began.
   */
  readonly unseen: Spans;
  /** Each repair, as far as they are listed. */
  readonly repairs: readonly Diagnostic[];
  /** Repairs after which a leave-open may be missing. */
  readonly hidingRepairs: number;
  /** Nothing says when the device powered on: half a check interval after the first row, by assumption. */
  readonly powerOnIsAssumed: boolean;
}

/** A part of a log as a timeline. */
export interface LogTimelineOptions {
  readonly name: string;
  readonly file: string;
  readonly seed?: string | undefined;
  /** Instants since the epoch; default: the first and the last event of the log. */
  readonly fromMs?: number | undefined;
  readonly untilMs?: number | undefined;
  /** Counted from the start of the timeline. Default: 0 with `fromMs`, else half a check interval. */
  readonly powerOnAtMs?: number | undefined;
}

/** An instant as a clock on the wall shows it. */
export interface LocalTime {
  /** `2026-05-08` */
  readonly date: string;
  /** `07:30:00` */
  readonly time: string;
  /** 0 to 999 */
  readonly millisecond: number;
  /** `Fri` */
  readonly weekday: string;
  /** `+02:00` */
  readonly offset: string;
  /** The clock shows this time twice, because the clocks go back: only the offset says which. */
  readonly isRepeated: boolean;
}

/** An expectation against what happened, in numbers: counts, or milliseconds. */
export interface CheckedExpectation {
  /** The key of `expect:`, with `AtLeast` or `AtMost` where it is a limit. */
  readonly name: string;
  readonly wanted: number;
  /** Null: a detection latency is expected, and nothing was reported. */
  readonly got: number | null;
  readonly met: boolean;
}

/** An expectation that did not come true, in words. */
export interface UnmetExpectation {
  readonly name: string;
  readonly wanted: string;
  readonly got: string;
}
