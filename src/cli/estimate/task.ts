// A stretch of device-years as a task: plain data that a worker thread can be given, and the tally that it gives back.

import { type Tally, tallyYears, type YearSource } from '../../estimate/index.js';
import type { LogicTable, WatchSettings } from '../../machine/index.js';
import { type Requirements } from '../../model/index.js';
import { type YearHabits, yearWorlds } from '../../scenarios/index.js';
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
}

/** Years from `from` to before `to`. */
export interface EstimateTask {
  readonly question: EstimateQuestion;
  readonly from: number;
  readonly to: number;
}

/** What a runner of many tasks of one estimate keeps between them. */
export type Sources = Map<string, YearSource>;

export function runEstimateTask(task: EstimateTask, sources: Sources): Tally {
  const { question, from, to } = task;
  const key = JSON.stringify({ ...question, table: null });
  const source = sources.get(key) ?? sourceOf(question);
  sources.set(key, source);
  return tallyYears(source, from, to);
}

function sourceOf({ seed, watch, table, timing, judge, habits }: EstimateQuestion): YearSource {
  const draw = yearWorlds(habits);
  const worldOf: YearSource['worldOf'] = (year) => draw(seed, year);
  return { program: { watch, table }, timing, judge, seed, worldOf };
}
