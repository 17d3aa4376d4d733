// A stretch of device-years as a task: plain data that a worker thread can be given, and the tally that it gives back.

import { type Tally, tallyYears, type YearSource } from '../../estimate/index.js';
import type { LogicTable, WatchSettings } from '../../machine/index.js';
import { type Requirements } from '../../model/index.js';
import {
  type Living,
  resampled,
  type YearHabits,
  yearsLivedWith,
  yearWorlds,
} from '../../scenarios/index.js';
import type { DeviceTiming } from '../../world/index.js';

/** Everything that decides the years of an estimate. */
export interface EstimateQuestion {
  readonly seed: string;
  readonly watch: WatchSettings;
  /** The watch's logic, or what stands in its place: compiled once, for all threads. */
  readonly table: LogicTable;
  readonly timing: DeviceTiming;
  readonly judge: Requirements;
  readonly habits: YearHabits;
  readonly living: Living;
}

/** Years from `from` to before `to`. */
export interface EstimateTask {
  readonly question: EstimateQuestion;
  /** Which resample of the log the profile is fitted to; null: the log itself. */
  readonly resample: number | null;
  readonly from: number;
  readonly to: number;
}

/** What a runner of many tasks of one estimate keeps between them. */
export type Sources = Map<string, YearSource>;

export function runEstimateTask(task: EstimateTask, sources: Sources): Tally {
  return tallyYears(sourceFor(task, sources), task.from, task.to);
}

/** The same, year by year. */
export function* estimateYears(task: EstimateTask, sources: Sources): Generator<Tally> {
  const source = sourceFor(task, sources);
  for (let year = task.from; year < task.to; year += 1) yield tallyYears(source, year, year + 1);
}

function sourceFor({ question, resample }: EstimateTask, sources: Sources): YearSource {
  const key = JSON.stringify({ ...question, table: null, resample });
  const source = sources.get(key) ?? sourceOf(question, resample);
  // The years of a resample are of one task.
  if (resample === null) sources.set(key, source);
  return source;
}

function sourceOf(question: EstimateQuestion, resample: number | null): YearSource {
  const { watch, table, timing, judge, habits, living } = question;
  const { profile } = habits;
  const seed = resample === null ? question.seed : `${question.seed} resample ${String(resample)}`;
  const draw = yearWorlds({
    ...habits,
    profile: resample === null ? profile : resampled(profile, resample),
  });
  const people = yearsLivedWith(living);
  const worldOf: YearSource['worldOf'] = (year) => draw(seed, year);
  return {
    program: { watch, table },
    timing,
    judge,
    seed,
    worldOf,
    livedWith: (yearSeed) => people.livedWith(watch, yearSeed),
    asSeen: people.asSeen,
  };
}
