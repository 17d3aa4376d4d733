// A drill as data: what to do at the door and when, and which messages must follow.
import type { BoundsQuestion } from '../bounds/index.js';

/** What a person does. */
export type Deed =
  | 'open'
  | 'shut'
  | 'network-off'
  | 'network-on'
  | 'reset'
  | 'power-off'
  | 'power-on';

/** A kind of step that a drill can leave out. */
export const stepKinds = ['reset', 'network', 'power', 'heartbeat'] as const;
export type StepKind = (typeof stepKinds)[number];

/** Instants count from the power-on with which each step begins. */
export interface Action {
  readonly atMs: number;
  readonly deed: Deed;
}

/** A message must come within it, both ends included. */
export interface Window {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The sides of the proved bounds, and of the end of the cooldown, that a step shows. */
export type BoundSide =
  | 'longest-quiet'
  | 'shortest-told'
  | 'slowest'
  | 'soonest'
  | 'cooldown-running'
  | 'cooldown-over';

/** To read a step, and to take out the power for 10 s before it. */
export const setUpMs = 60_000;

export interface Step {
  /** In their order; each may come up to the tolerance of the step too early or too late. */
  readonly actions: readonly Action[];
  /** That of the drill, or a smaller one: then the step tells what it tells only to a person so exact. */
  readonly toleranceMs: number;
  /** One a message, in their order; no other message may come before the end. */
  readonly windows: readonly Window[];
  /** How long to go on watching. */
  readonly endsMs: number;
  readonly bounds: readonly BoundSide[];
  /** In this step an open door rests at this gap, and not wide open; null: wide open. */
  readonly restsAtMm: number | null;
  /** Names of faulty watches that fail this step in all corners of what may vary, and in cases drawn between them. */
  readonly tells: readonly string[];
}

/** What a step can wait for that is longer than a sleep, by the setting of the watch that makes it long. */
export type Awaited = 'alertCooldown' | 'heartbeatInterval';

/** A setting of the watch that makes a step long. */
export type LongSetting = 'checkInterval' | 'recheckInterval' | 'retry.interval' | Awaited;

/** Steps of which one setting takes more time than any other. */
export interface LongSteps {
  readonly setting: LongSetting;
  readonly settingMs: number;
  /** Their numbers, from 1. */
  readonly steps: readonly number[];
  /** How long they last together. */
  readonly lastMs: number;
  /** How much of that each setting takes, the most first. */
  readonly takes: readonly {
    readonly setting: LongSetting;
    readonly settingMs: number;
    readonly takesMs: number;
  }[];
  /** What no possible step shows that does not wait for it; nothing where every step waits for the like. */
  readonly only: {
    readonly mistakes: readonly string[];
    readonly bounds: readonly BoundSide[];
    readonly transitions: number;
  };
}

export interface Exercised {
  readonly total: number;
  readonly exercised: number;
  /** What the drill leaves out, in words. */
  readonly left: readonly string[];
}

export interface Drill {
  /** Short ones first. */
  readonly steps: readonly Step[];
  /** With the time to set up each. */
  readonly totalMs: number;
  /** What makes the steps long: each by the setting that takes most of its time, the longest together first. */
  readonly long: readonly LongSteps[];
  /** Setting up, before each step. */
  readonly setUpMs: number;
  /**
   * Proved: steps of this kind that show as much take at least this time together. Where it is `totalMs`, the drill is the
   * shortest that there is of them.
   */
  readonly atLeastMs: number;
  /** The steps of this kind, of which these were chosen. */
  readonly candidates: number;
  readonly toleranceMs: number;
  readonly states: Exercised;
  readonly transitions: Exercised;
  /** Whether its steps leave out resets, because the watch file does not say what one by button does. */
  readonly withoutResets: boolean;
  /** Kinds of step that were to be left out. */
  readonly without: readonly StepKind[];
  /** Faulty watches of the catalogue that differ from this one, told by some step or by none. */
  readonly faults: { readonly told: readonly string[]; readonly untold: readonly string[] };
  /** Proved for a watch at rest. Null: not found, or it has none. */
  readonly proved: {
    readonly sureFromMs: number | null;
    readonly quietUpToMs: number | null;
  };
}

/** Every boot and connect time and clock error of the question is allowed for; what may go wrong is the drill's own. */
export interface DrillQuestion extends BoundsQuestion {
  /** How far from its time an action may come, and a message may be noted. */
  readonly toleranceMs: number;
  /** Only both sides of the bounds and what tells mistakes, not each reset and each power loss in each state. */
  readonly short: boolean;
  /** Kinds of step to leave out. */
  readonly without: ReadonlySet<StepKind>;
}

/** How far the making of a drill has come. */
export interface DrillProgress {
  readonly doing: string;
  /** Null: nobody knows how much there is to do. */
  readonly share: number | null;
}
