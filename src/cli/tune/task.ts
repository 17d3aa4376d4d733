// Some settings and their years as a task: plain data that a worker thread can be given.
import { yearsOfResample } from '../../estimate/index.js';
import {
  resampled,
  type UsageProfile,
  type YearHabits,
  yearsLivedWith,
  yearWorlds,
} from '../../scenarios/index.js';
import {
  type Lived,
  liveThrough,
  type Programs,
  programsOf,
  type Tuned,
  type TuneQuestion,
} from '../../tune/index.js';

export interface TuneTask {
  readonly question: TuneQuestion;
  readonly habits: YearHabits;
  readonly settings: readonly Tuned[];
  /** Also years of this many profiles that other samples of the log would have led to. */
  readonly resamples: number;
}

/** What a runner of many tasks keeps between them: compiled logics, by the watch that they are of. */
export type Compiled = Map<string, Programs>;

export function runTuneTask(task: TuneTask, compiled: Compiled): readonly Lived[] {
  const { question, habits, settings, resamples } = task;
  const key = JSON.stringify(question.watch);
  const programOf = compiled.get(key) ?? programsOf(question.watch);
  compiled.set(key, programOf);
  const people = habits.living === undefined ? {} : yearsLivedWith(habits.living);
  const through = (profile: UsageProfile, of: TuneQuestion): readonly Lived[] => {
    const draw = yearWorlds({ ...habits, profile });
    const worldOf = (year: number) => draw(of.seed, year);
    return liveThrough(of, settings, { programOf, worldOf, ...people });
  };
  const lived = through(habits.profile, question);
  // As many as an estimate of the same years simulates, so that both give the same intervals.
  const years = yearsOfResample(question.years, resamples);
  const others = Array.from({ length: resamples }, (_, row) => {
    const seed = `${question.seed} resample ${String(row)}`;
    return through(resampled(habits.profile, row), { ...question, seed, years });
  });
  return lived.map((life, index) => ({
    ...life,
    resamples: others.flatMap((other) => other.slice(index, index + 1)).map(({ tally }) => tally),
  }));
}
