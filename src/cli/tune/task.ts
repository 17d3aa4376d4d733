// Some settings and their years as a task: plain data that a worker thread can be given.
import { type YearHabits, yearsLivedWith, yearWorlds } from '../../scenarios/index.js';
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
}

/** What a runner of many tasks keeps between them: compiled logics, by the watch that they are of. */
export type Compiled = Map<string, Programs>;

export function runTuneTask(task: TuneTask, compiled: Compiled): readonly Lived[] {
  const { question, habits, settings } = task;
  const key = JSON.stringify(question.watch);
  const programOf = compiled.get(key) ?? programsOf(question.watch);
  compiled.set(key, programOf);
  const draw = yearWorlds(habits);
  const worldOf = (year: number) => draw(question.seed, year);
  const people = habits.living === undefined ? {} : yearsLivedWith(habits.living);
  return liveThrough(question, settings, { programOf, worldOf, ...people });
}
