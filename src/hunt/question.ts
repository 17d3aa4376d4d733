// What is hunted for, and in which watch.
import type { WatchSettings } from '../machine/index.js';
import { type Requirements, type TimingRanges } from '../model/index.js';
import type { Experiment, Program, Trace } from '../sim/index.js';
import { type Verdict } from '../verdict/index.js';
import type { ContactSettings, World } from '../world/index.js';
import type { Adversity } from './adversity.js';
import type { Trial } from './trial.js';

export interface HuntQuestion {
  /** The settings as its owner wrote them: what is promised is read from here. */
  readonly watch: WatchSettings;
  /** What runs in the device: the logic of those settings, unless it has a fault. */
  readonly program: Program;
  /** Ranges are drawn from, now one time and now another. */
  readonly timing: TimingRanges;
  readonly judge: Requirements;
  /** Null: an ideal contact. */
  readonly contact: ContactSettings | null;
  readonly adversity: Adversity;
  /** Length of every timeline that is tried, at least 1. */
  readonly lengthMs: number;
  /** What the device's clock reads at power-on; default 0. */
  readonly clockStartsMs?: number | undefined;
  /** How far an instant may be from where a requirement has it and still meet it; default 0. */
  readonly toleranceMs?: number | undefined;
  /** Tried in their order: the first that a timeline breaks is the finding. */
  readonly properties: readonly Property[];
  /** What runs in the device in place of the program; undefined: the program does. */
  readonly run?: ((experiment: Experiment) => Played) | undefined;
}

/** What a device did in one timeline. */
export interface Played {
  readonly trace: Trace;
  /** Null: it ran to the end. Else what stopped it, in one clause. */
  readonly stopped: string | null;
}

/** Something that should hold in every timeline. */
export interface Property {
  /** Stable, kebab-case. */
  readonly name: string;
  /** What should hold: one clause. */
  readonly promise: string;
  /** The first breach, or null. */
  readonly breach: (ran: Ran) => Breach | null;
  /** All of them, the first one first. Left out: there is one at most. */
  readonly breaches?: (ran: Ran) => Iterable<Breach>;
}

/** All breaches of a property in a run. */
export function breachesOf({ breach, breaches }: Property, ran: Ran): Iterable<Breach> {
  if (breaches !== undefined) return breaches(ran);
  const found = breach(ran);
  return found === null ? [] : [found];
}

/** A property whose breach is the first of all its breaches. */
export function severally(
  property: Omit<Property, 'breach' | 'breaches'>,
  breaches: (ran: Ran) => Iterable<Breach>,
): Property {
  return {
    ...property,
    breaches,
    breach(ran) {
      for (const found of breaches(ran)) return found;
      return null;
    },
  };
}

/** Where and how a property was broken. */
export interface Breach {
  readonly property: string;
  /** The opening or alert that shows it, by its index; null: no single one does. */
  readonly subject: { readonly kind: 'opening' | 'alert'; readonly index: number } | null;
  /** What happened: one clause. */
  readonly what: string;
}

/** A trial and what the watch made of it. */
export interface Ran {
  readonly question: HuntQuestion;
  readonly trial: Trial;
  readonly world: World;
  readonly trace: Trace;
  readonly stopped: string | null;
  readonly verdict: Verdict;
}
