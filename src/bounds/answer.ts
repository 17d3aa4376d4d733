// What the bounds of a watch are: plain data, in whole milliseconds, with a world for every number that shows it.

import type { WatchSettings } from '../machine/index.js';
import { type Settings } from '../model/index.js';
import type { ContactFault, DeviceTiming, World } from '../world/index.js';

/** A bound at rest (door shut and seen shut long before) and from any state; null: there is none. */
export interface AtRestAndAnyState {
  readonly atRest: number | null;
  readonly anyState: number | null;
}

/** A world and the device's times in it, ready for a simulation of the same watch. */
export interface RunWorld {
  readonly world: World;
  readonly timing: DeviceTiming;
  /** Where the contact does not follow the door; `world.contact` has them already. */
  readonly contactFaults: readonly ContactFault[];
}

/** Breakpoints of a piecewise linear function of a duration: at `ms` the probability is so much; flat outside them. */
export type Curve = readonly (readonly [ms: number, probability: number])[];

/** The bounds that a witness can belong to. */
export type BoundName =
  | 'alwaysReportedFromMs.atRest'
  | 'alwaysReportedFromMs.anyState'
  | 'alwaysDecidedFromMs.atRest'
  | 'alwaysDecidedFromMs.anyState'
  | 'neverAlarmedUpToMs'
  | 'worstDelayMs.atRest'
  | 'worstDelayMs.anyState'
  | 'bestDelayMs'
  | 'unreportable'
  | 'aliasing';

/** One run that shows a bound. */
export interface Witness {
  readonly bound: BoundName;
  /** What is to be seen in it, in one sentence. */
  readonly sentence: string;
  readonly experiment: RunWorld;
  /** Index of the opening that it is about. */
  readonly opening: number;
  /** From the start of that opening to the first alert decided in it; null: none is. */
  readonly decidedAfterMs: number | null;
  /** From its start to the delivery of its alert; null: none, or not what this witness is about. */
  readonly deliveredAfterMs: number | null;
}

/** A door left open for ever that is never reported. */
export interface Unreportable {
  readonly sentence: string;
  /** How it comes to that, a step each. */
  readonly stem: readonly string[];
  /** What happens over and over from then on. */
  readonly repeats: readonly string[];
}

/** Brief openings that together cause a false alarm. */
export interface Aliasing {
  /** The fewest that can. */
  readonly openings: number;
  /** From the start of the first to the alert. */
  readonly withinMs: number;
  readonly sentence: string;
}

/** Gaps in millimetres, over the first and up to the second, at which the door is unsealed and the contact reads shut. */
export type GapBandMm = readonly [fromMm: number, toMm: number];

/** Null: no such gap. */
export interface BlindBandMm {
  /** A door that closes on the gap. */
  readonly closing: GapBandMm | null;
  /** A door that creeps open from shut. */
  readonly creeping: GapBandMm | null;
}

/** For which openings the bounds of a watch with a real contact hold. */
export interface Gaps {
  /** `wider`: only for openings wider than `overMm`; `assumed`: the file says that the door never rests at such gaps; `blind`: it says that it may. */
  readonly kind: 'wider' | 'assumed' | 'blind';
  /** Up to this gap the contact can read shut. */
  readonly overMm: number;
  /** What the file says of the door; null: nothing. */
  readonly opensAtLeastMm: number | null;
  readonly sealMm: number;
}

/** Does the watch meet its requirements? Null where there is no such requirement, it is not known, or the bounce of the contact leaves it open. */
export interface Holds {
  readonly leaveOpenAfter: HoldsAtRestAndAnyState;
  readonly reportWithin: HoldsAtRestAndAnyState;
  /** It applies to a device at rest only. */
  readonly quietUpTo: HoldsAtRestAndAnyState;
}

export interface HoldsAtRestAndAnyState {
  readonly atRest: boolean | null;
  readonly anyState: boolean | null;
}

/** Something about the watch that its owner should know. */
export interface Finding {
  readonly code:
    | 'cooldown-hole'
    | 'hold-until-reset'
    | 'memory-lost'
    | 'resets-assumed'
    | 'alert-lost'
    | 'blind-band'
    | 'eager-contact'
    | 'bounce-left-out'
    | 'messages-delay';
  readonly sentence: string;
}

/** A setting and what to write for it. */
export interface Change {
  readonly key: keyof Settings['watch']['keys'];
  /** As in a watch file. */
  readonly value: string;
}

/** A duration as things are, and with a remedy; null: without limit, or never. */
export interface NowAndThen {
  readonly now: number | null;
  readonly then: number | null;
}

export interface LifePrice extends NowAndThen {
  /** What each of the cells holds, where the watch file names cells of a kind, which may hold more or less; else null. */
  readonly cellsNah: number | null;
}

/** What a remedy costs. */
export interface Price {
  /** How long a charge lasts at a door that nobody opens; null: the watch file has no supply. */
  readonly lifeMs: LifePrice | null;
  /** Up to which length no opening raises an alarm; null: none ever does. */
  readonly quietUpToMs: NowAndThen;
  /** What holds at rest where the remedy is for any state; null: it is for rest, or that is not known. */
  readonly atRest: { readonly sureFromMs: NowAndThen; readonly worstDelayMs: NowAndThen } | null;
  /** From one alert to the next while the door stays open; null: they do not repeat. */
  readonly repeatsEveryMs: NowAndThen;
  /** In simulated years of a usage profile; null: no profile is given, or nothing can be said of one of the two. */
  readonly falseAlarmsPerYear: { readonly now: number; readonly then: number } | null;
  /** The contact must be able to wake the device, and now it need not. */
  readonly wakesOnOpening: boolean;
  readonly muchWorse: readonly ('life' | 'quiet' | 'repeats' | 'falseAlarms')[];
}

/** A few changes with which all requirements are met, proved by the same search. */
export interface Remedy {
  readonly holds: 'atRest' | 'anyState';
  readonly changes: readonly Change[];
  readonly alwaysReportedFromMs: number;
  readonly worstDelayMs: number | null;
  readonly neverAlarmedUpToMs: number | null;
  readonly checkIntervalMs: number;
  readonly price: Price;
  /** All settings of the watch, changed. */
  readonly watch: WatchSettings;
}

/** A bound that the search could only show to be safe: nothing is worse, and what comes nearest to it is known. */
export interface SafeLimit {
  readonly bound: BoundName;
  /** What a run does reach; null: none was found. */
  readonly reachedMs: number | null;
}

/** A search that outgrew its limit: the bounds it was for stand as null, and nothing is claimed of them. */
export interface Unknown {
  readonly bounds: readonly BoundName[];
  readonly mostStates: number;
  readonly sentence: string;
}

/** The bounds of a watch in its environment, exact on the millisecond grid but for those in `safeLimits`. */
export interface Bounds {
  /** The least D such that every opening at least D long is reported: an alert is decided in it, and one of its alerts is delivered. */
  readonly alwaysReportedFromMs: AtRestAndAnyState;
  /** The least length from which an alert is always decided; it may still be lost before it is delivered. */
  readonly alwaysDecidedFromMs: AtRestAndAnyState;
  /** The greatest Q such that no opening at most Q long, at rest and followed by a shut door, causes an alert; null: none ever does. */
  readonly neverAlarmedUpToMs: number | null;
  /** The greatest detection latency of an opening that never ends. */
  readonly worstDelayMs: AtRestAndAnyState;
  /** The least, at rest; null: no alert is ever delivered. */
  readonly bestDelayMs: number | null;
  readonly unreportable: Unreportable | null;
  readonly aliasing: Aliasing | null;
  /** Why no brief openings can cause a false alarm; null where some can. */
  readonly aliasingProof: string | null;
  readonly blindBandMm: BlindBandMm | null;
  /** For which openings all this holds; null: for all. */
  readonly gaps: Gaps | null;
  /** Probability of an alert against the length of an opening at rest, for a uniform phase; with ranges the least. */
  readonly detectionCurve: Curve;
  /** With ranges the greatest; null: the same. */
  readonly detectionCurveMost: Curve | null;
  /** Probability that the detection latency at rest is at most the duration; with ranges the least. */
  readonly delayDistribution: Curve;
  readonly delayDistributionMost: Curve | null;
  readonly holds: Holds;
  readonly safeLimits: readonly SafeLimit[];
  readonly unknown: readonly Unknown[];
  readonly witnesses: readonly Witness[];
  readonly findings: readonly Finding[];
  readonly remedies: readonly Remedy[];
  /** Which requirements are not met, and what would help, in plain words; null: none is known to fail. */
  readonly advice: string | null;
  /** States visited by all searches. */
  readonly states: number;
}
