// From what was tried to what is worth choosing between, and what to choose.
import type { WatchSettings } from '../machine/index.js';
import { keepsAtRest } from './at-rest.js';
import { choose, type Preference } from './choose.js';
import { type FrontPoint, frontOf } from './front.js';
import { changesFrom } from './grid.js';
import type { Proved } from './prove.js';
import {
  nearestOf,
  outOfReach,
  type Relaxation,
  relaxationsOf,
  relaxed,
  type Shortfall,
  shortfallsOf,
  type TuneRequirements,
} from './requirements.js';
import { nothingAtRest, type RestRequirements, type Trial } from './trial.js';

export interface TuneAnswer {
  /** Settings that meet every requirement; without any, all that were tried. */
  readonly pool: 'meeting' | 'all';
  /** How many of those that were tried meet every requirement. */
  readonly meeting: number;
  /** How many meet every requirement and were weighed: those that were tried, and the present ones. */
  readonly candidates: number;
  /** No setting of the pool, or of the whole grid, beats any of these. */
  readonly front: readonly FrontPoint[];
  /** Null: no settings meet every requirement. The present ones, where they alone do, whether or not they are of the grid. */
  readonly recommended: Trial | null;
  /** What mattered first as it was chosen. */
  readonly prefer: Preference;
  /** The settings that the watch has now; null: they were not tried, or nothing is proved of them. */
  readonly present: Trial | null;
  /** They also meet every requirement. */
  readonly presentMeets: boolean;
  /** What is required at rest beside bounds from any state. */
  readonly restRequired: RestRequirements;
  /** For each requirement that may be relaxed alone, the settings to take then: those that keep what holds at rest go first. */
  readonly relaxations: readonly Relaxation[];
  /** What none of the settings meets, whatever the other requirements are. */
  readonly outOfReach: readonly Shortfall[];
  /** Where no single requirement is to blame, or relaxing one gives up what holds at rest: what comes nearest without that. */
  readonly nearest: { readonly trial: Trial; readonly shortfalls: readonly Shortfall[] } | null;
}

/** How many requirements bounds alone do not meet: if any, no years can help; if several, no relaxing of one. */
export function boundsMissed(
  { inSpiteOfBounce: proved }: Proved,
  requirements: TuneRequirements,
): number {
  const { sureFromMs, worstDelayMs, quietUpToMs } = requirements;
  return [
    proved.sureFromMs > (sureFromMs ?? Number.POSITIVE_INFINITY),
    proved.worstDelayMs > (worstDelayMs ?? Number.POSITIVE_INFINITY),
    proved.quietUpToMs < (quietUpToMs ?? 0),
  ].filter(Boolean).length;
}

export interface Weighing {
  readonly prefer?: Preference;
  readonly present?: Trial | null;
  /** What is required at rest where bounds are from any state; default: nothing. */
  readonly restRequired?: RestRequirements;
}

/**
 * Weighs settings. Whatever beats others meets every requirement that they meet: so the front of those that miss no
 * bound, or at most a number, is a part of the front of the whole grid.
 * @param trials of one grid, without those whose bounds miss more requirements than those of any that are here.
 */
export function weigh(
  watch: WatchSettings,
  trials: readonly Trial[],
  requirements: TuneRequirements,
  { prefer = 'sure', present = null, restRequired = nothingAtRest }: Weighing = {},
): TuneAnswer {
  const known = trials.filter(({ proved }) => proved.isKnown);
  const isKept = keepsAtRest(present, restRequired);
  const kept = known.filter(isKept);
  const weighed = (asked: TuneRequirements): Weighted =>
    meetingOf(watch, known, { asked, prefer, present, restRequired, isKept });
  const { meeting, candidates, front, recommended, presentMeets } = weighed(requirements);
  const isPossible = meeting.length > 0;
  // What the same search would recommend once the requirements are relaxed.
  const then = (shortfalls: readonly Shortfall[], trial: Trial): Trial =>
    shortfalls.every(({ got }) => Number.isFinite(got))
      ? (weighed(relaxed(requirements, shortfalls)).recommended ?? trial)
      : trial;
  const relaxations = isPossible ? [] : relaxationsIn(known, kept, requirements);
  const isAlone = relaxations.some(({ trial }) => isKept(trial));
  const isNearer = relaxations.length === 0 || kept.length > 0;
  const nearest =
    isPossible || isAlone || !isNearer
      ? null
      : nearestOf(kept.length > 0 ? kept : known, requirements);
  return {
    pool: isPossible ? 'meeting' : 'all',
    meeting: meeting.length,
    candidates,
    front,
    recommended,
    prefer,
    present,
    presentMeets,
    restRequired,
    relaxations: relaxations.map((one) => ({ ...one, trial: then([one], one.trial) })),
    outOfReach: isPossible ? [] : outOfReach(known, requirements),
    nearest:
      nearest === null ? null : { ...nearest, trial: then(nearest.shortfalls, nearest.trial) },
  };
}

/** Relaxations that keep what holds at rest; then, of requirements that have none such, the others. */
function relaxationsIn(
  known: readonly Trial[],
  kept: readonly Trial[],
  requirements: TuneRequirements,
): readonly Relaxation[] {
  const first = relaxationsOf(kept, requirements);
  const others = relaxationsOf(known, requirements);
  return [...first, ...others.filter(({ name }) => first.every((one) => one.name !== name))];
}

type Weighted = Pick<TuneAnswer, 'front' | 'recommended' | 'candidates' | 'presentMeets'> & {
  readonly meeting: readonly Trial[];
};

/** Those that meet every requirement, and which of them to choose. */
function meetingOf(
  watch: WatchSettings,
  known: readonly Trial[],
  on: {
    readonly asked: TuneRequirements;
    readonly prefer: Preference;
    readonly present: Trial | null;
    readonly restRequired: RestRequirements;
    readonly isKept: (trial: Trial) => boolean;
  },
): Weighted {
  const { asked, prefer, present, restRequired, isKept } = on;
  const meeting = known.filter((trial) => shortfallsOf(trial, asked).length === 0);
  const changes = ({ settings }: Trial): number => changesFrom(watch, settings);
  const presentMeets = present !== null && shortfallsOf(present, asked).length === 0;
  // The present settings compete, whether or not they are of the grid: nobody should change to something worse.
  const isTried = meeting.some((trial) => changes(trial) === 0);
  const pool =
    meeting.length === 0 ? known : presentMeets && !isTried ? [...meeting, present] : meeting;
  const front = frontOf(pool, asked.quietUpToMs, changes, restRequired);
  const best = front.map(({ trial }) => trial);
  return {
    meeting,
    candidates: meeting.length + (presentMeets && !isTried ? 1 : 0),
    front,
    recommended:
      meeting.length > 0
        ? (choose(best.filter(isKept), prefer) ?? choose(best, prefer))
        : presentMeets
          ? present
          : null,
    presentMeets,
  };
}
