// A certificate as its file spells it out. Instants count in true milliseconds from the device's first power-on.
import type { Situation } from './machine.js';
import type { Device, Environment } from './rules.js';
import type { Budget, Phase } from './spot.js';

export const certificateSchema = 'dozewatch/certificate/1';

/** A set of clock readings that a check may come at, and every state that the next check may come in. */
export interface StateRow {
  /** Index into `situations`. */
  readonly situation: number;
  readonly phase: Phase;
  readonly alerted: boolean;
  readonly outage: Budget;
  readonly chatter: Budget;
  readonly lossesLeft: number;
  readonly resetsLeft: number;
  /** Bounds by name: `opening <=`, `cooldown >=`, `opening - cooldown <=`, … */
  readonly clocks: Readonly<Record<string, number>>;
  /** Indexes of states, ascending. */
  readonly next: readonly number[];
}

/** States that any course from a start can come to; `first` are those of its first check. */
export interface Proof {
  readonly first: readonly number[];
  readonly states: readonly StateRow[];
}

/** One world in which a bound is reached, or in which the device never reports the opening. */
export interface Course {
  /** When the opening in question begins; it never ends. */
  readonly opensAtMs: number;
  readonly doorOpenMs: readonly Span[];
  readonly networkDownMs: readonly Span[];
  readonly powerLostMs: readonly Span[];
  readonly resetsMs: readonly number[];
  /** When the contact of the open door reads shut. */
  readonly readsShutMs: readonly Span[];
  /** One after the other, where they vary; empty: each as long as it always is. */
  readonly bootsMs: readonly number[];
  readonly connectsMs: readonly number[];
  readonly sleepsMs: readonly number[];
  readonly checksum: string;
}

export type Span = readonly [fromMs: number, toMs: number];

/** Null: there is no bound. */
export interface AtRestAndAnyState {
  readonly atRest: number;
  readonly anyState: number | null;
}

export interface CertifiedBounds {
  readonly alwaysReportedFromMs: AtRestAndAnyState;
  readonly neverAlarmedUpToMs: number;
  readonly worstDelayMs: AtRestAndAnyState;
  readonly bestDelayMs: number;
}

export interface Certificate {
  readonly schema: typeof certificateSchema;
  /** The `watch:` settings, to be compared with the watch file's. */
  readonly watch: unknown;
  readonly device: Device;
  readonly environment: Environment & { readonly checksum: string };
  readonly bounds: CertifiedBounds;
  readonly situations: readonly Situation[];
  readonly rest: Proof;
  readonly latestAtRest: Proof;
  /** Null: there is no bound from any state. */
  readonly latestFromAnyState: Proof | null;
  readonly earliestAtRest: Proof;
  readonly courses: Courses;
}

/** The courses that reach the bounds; null: none is known, and the bound is no more than a safe one. */
export interface Courses {
  readonly latestDecisionAtRest: Course | null;
  readonly latestDeliveryAtRest: Course | null;
  readonly latestDecisionFromAnyState: Course | null;
  readonly latestDeliveryFromAnyState: Course | null;
  readonly earliestDecisionAtRest: Course | null;
  readonly earliestDeliveryAtRest: Course | null;
  /** Not null exactly where there is no bound from any state. */
  readonly neverReported: Course | null;
}
