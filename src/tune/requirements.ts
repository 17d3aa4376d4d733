// What settings must do, and by how much they do not.
import { dayMs, figure, hourMs, itemAt, leastOf, minuteMs } from '../base/index.js';
import type { Trial } from './trial.js';

/** Null: not asked. */
export interface TuneRequirements {
  /** Every opening of at least this length gets its alert. */
  readonly sureFromMs: number | null;
  readonly worstDelayMs: number | null;
  /** No single opening up to so long raises one. */
  readonly quietUpToMs: number | null;
  readonly lifeMs: number | null;
  /** The upper end of what the simulated years say is compared with it. */
  readonly falseAlarmsPerYear: number | null;
}

export const requirementNames = [
  'sureFrom',
  'worstDelay',
  'quietUpTo',
  'life',
  'falseAlarms',
] as const;
export type RequirementName = (typeof requirementNames)[number];

interface Measure {
  readonly better: 'less' | 'more';
  readonly key: keyof TuneRequirements;
  readonly of: (trial: Trial) => number;
}

const measures: Readonly<Record<RequirementName, Measure>> = {
  sureFrom: {
    better: 'less',
    key: 'sureFromMs',
    of: ({ proved }) => proved.inSpiteOfBounce.sureFromMs,
  },
  worstDelay: {
    better: 'less',
    key: 'worstDelayMs',
    of: ({ proved }) => proved.inSpiteOfBounce.worstDelayMs,
  },
  quietUpTo: {
    better: 'more',
    key: 'quietUpToMs',
    of: ({ proved }) => proved.inSpiteOfBounce.quietUpToMs,
  },
  life: {
    better: 'more',
    key: 'lifeMs',
    of: ({ years }) => years.lifeMs,
  },
  falseAlarms: {
    better: 'less',
    key: 'falseAlarmsPerYear',
    of: ({ years }) => years.falseAlarmsAtMost,
  },
};

/** A requirement that settings do not meet. */
export interface Shortfall {
  readonly name: RequirementName;
  readonly asked: number;
  readonly got: number;
  /** How many times over or under: more than 1; Infinity where there is no bound at all. */
  readonly times: number;
}

export function shortfallsOf(trial: Trial, requirements: TuneRequirements): readonly Shortfall[] {
  return requirementNames.flatMap((name): Shortfall[] => {
    const { better, key, of } = measures[name];
    const asked = requirements[key];
    if (asked === null) return [];
    const got = of(trial);
    const isMet = better === 'less' ? got <= asked : got >= asked;
    if (isMet) return [];
    return [{ name, asked, got, times: better === 'less' ? got / asked : asked / got }];
  });
}

/** A requirement that can be met with what settings have: rounded, as a person would write it, to the side that is easier to meet. */
export function easier(name: RequirementName, got: number): number {
  if (name === 'falseAlarms') return Number(figure(got, 'up').replaceAll(',', ''));
  if (name === 'life') {
    const grain = got >= dayMs ? dayMs : hourMs;
    return Math.max(1, got % grain === 0 ? got : Math.floor(got / grain) * grain);
  }
  const grain = got >= minuteMs ? 1_000 : 100;
  return name === 'quietUpTo' ? Math.floor(got / grain) * grain : Math.ceil(got / grain) * grain;
}

/** The requirements with those that are not met lowered to what settings have. */
export function relaxed(
  requirements: TuneRequirements,
  shortfalls: readonly Shortfall[],
): TuneRequirements {
  const lower = shortfalls.map(({ name, got }) => [measures[name].key, easier(name, got)] as const);
  return { ...requirements, ...Object.fromEntries(lower) };
}

/** One requirement to give up a part of, and settings that then do all the rest. */
export interface Relaxation extends Shortfall {
  readonly trial: Trial;
}

/** For each requirement that alone stands in the way, how little of it is to be given up; the least first. */
export function relaxationsOf(
  trials: readonly Trial[],
  requirements: TuneRequirements,
): readonly Relaxation[] {
  const least = new Map<RequirementName, Relaxation>();
  for (const trial of trials) {
    const [one, ...others] = shortfallsOf(trial, requirements);
    if (one === undefined || others.length > 0 || !Number.isFinite(one.times)) continue;
    if (one.times < (least.get(one.name)?.times ?? Number.POSITIVE_INFINITY)) {
      least.set(one.name, { ...one, trial });
    }
  }
  return [...least.values()].sort((a, b) => a.times - b.times);
}

/** Requirements that none of the settings meets, whatever the others are, each with the best that any of them reaches. */
export function outOfReach(
  trials: readonly Trial[],
  requirements: TuneRequirements,
): readonly Shortfall[] {
  const all = trials.map((trial) => shortfallsOf(trial, requirements));
  return requirementNames.flatMap((name) => {
    const some = all.flatMap((of) => of.filter((one) => one.name === name));
    if (trials.length === 0 || some.length < trials.length) return [];
    return some.toSorted((a, b) => a.times - b.times).slice(0, 1);
  });
}

/** Failures that differ by less count as equal: what all settings fail by much the same is no reason to fail another by much more. */
export const sameFailure = 0.03;

/**
 * Where no single one is enough: settings with the fewest shortfalls; of these the least of the worst, or as good as that; of
 * these the least of the next worst, and so on; with all of theirs. Of those that are left, the exact least, then the longest life.
 */
export function nearestOf(
  trials: readonly Trial[],
  requirements: TuneRequirements,
): { readonly trial: Trial; readonly shortfalls: readonly Shortfall[] } | null {
  const all = trials.map((trial) => {
    const shortfalls = shortfallsOf(trial, requirements);
    const times = shortfalls.map((one) => one.times).sort((a, b) => (a === b ? 0 : b - a));
    return { trial, shortfalls, times };
  });
  const fewest = leastOf(all.map(({ times }) => times.length));
  let left = all.filter(({ times }) => times.length === fewest);
  for (let rank = 0; rank < fewest && left.length > 0; rank++) {
    const least = leastOf(left.map(({ times }) => itemAt(times, rank)));
    left = left.filter(({ times }) => itemAt(times, rank) <= (1 + sameFailure) * least);
  }
  const [nearest] = left.toSorted((a, b) => {
    const rank = a.times.findIndex((times, index) => times !== b.times[index]);
    return rank < 0
      ? b.trial.years.lifeMs - a.trial.years.lifeMs
      : itemAt(a.times, rank) - itemAt(b.times, rank);
  });
  return nearest === undefined ? null : { trial: nearest.trial, shortfalls: nearest.shortfalls };
}
