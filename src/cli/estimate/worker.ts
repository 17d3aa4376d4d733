// A worker of an estimate: a stretch of device-years in, their tally out.
import type { Tally } from '../../estimate/index.js';
import { type EstimateTask, runEstimateTask, type Sources } from './task.js';

const sources: Sources = new Map();

export function runTask(task: EstimateTask): Tally {
  return runEstimateTask(task, sources);
}
