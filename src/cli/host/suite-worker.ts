// A worker of a large suite: one scenario in, what became of it out.
import type { SuiteCase } from '../present/suite-case.js';
import { type CaseTask, runCase, type Watches } from '../work/run-case.js';
import { nodeIo } from './node-io.js';

const io = nodeIo();
const watches: Watches = new Map();

export function runTask(task: CaseTask): Promise<SuiteCase> {
  return runCase(task, { ...io, folder: task.folder }, watches);
}
