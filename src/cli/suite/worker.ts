// A worker of a large suite: one scenario in, what became of it out.

import { nodeIo } from '../host/node-io.js';
import type { SuiteCase } from './case.js';
import { type CaseTask, runCase, type Watches } from './run-case.js';

const io = nodeIo();
const watches: Watches = new Map();

export function runTask(task: CaseTask): Promise<SuiteCase> {
  return runCase(task, { ...io, folder: task.folder }, watches);
}
