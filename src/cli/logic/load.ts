// An owner's own state machine from a JavaScript module. Its code runs in this process: it is the owner's. It runs in a
// thread of its own until its table is compiled, and after that not any more.
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import type { LogicSettings, LogicTable } from '../../machine/index.js';
import type { Io } from '../host/io.js';
import { workerFile } from '../host/workers.js';
import { problem } from '../problem.js';
import { compileLogic, type LogicTask } from './compile.js';
import { broken, compileAside, template } from './compile-aside.js';

/** Far longer than any machine of use takes: a thousand states take a second or two. */
const mostMs = 20_000;

/** The table of the machine in a file, for the settings of a watch. @throws InputProblem when there is none. */
export async function loadLogic(
  file: string,
  settings: LogicSettings,
  io: Io,
): Promise<LogicTable> {
  const target = path.resolve(io.folder, file);
  if (file === '-' || !existsSync(target) || !statSync(target).isFile()) {
    throw problem('file-missing', file, {
      message: 'there is no such file',
      expected: 'a JavaScript module (.mjs) that exports a machine',
      hint: template,
    });
  }
  io.used.noteRead(target);
  const worker = workerFile('logic');
  const task: LogicTask = { target, settings };
  const compiled =
    worker === null
      ? await compileLogic(task)
      : await compileAside(worker, task, { file, io, mostMs });
  switch (compiled.kind) {
    case 'table':
      return compiled.table;
    case 'refused':
      throw problem('logic-refused', file, { message: compiled.what, ...compiled.facts });
    case 'throws':
      throw broken(file, compiled.words);
    case 'no-machine':
      throw problem('logic-no-machine', file, {
        message: 'this module exports no XState machine',
        expected:
          'export const machine = …: a machine, or a function that gets { setup, assign } and returns one',
        hint: template,
      });
  }
}
