// An owner's own state machine from a JavaScript module. Its code runs in this process: it is the owner's. It runs in a
// thread of its own until its table is compiled, and after that not any more.
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { Worker } from 'node:worker_threads';
import { plain } from '../../base/index.js';
import type { LogicSettings, LogicTable } from '../../machine/index.js';
import { type InputProblem, problem } from '../problem.js';
import { type Compiled, compileLogic, type LogicTask, wordsOf } from './compile-logic.js';
import type { Io } from './io.js';
import { workerFile } from './workers.js';

const template = 'dozewatch init --logic writes one to begin with';
/** Far longer than any machine of use takes: a thousand states take a second or two. */
const mostSeconds = 20;
/** A context that grows for ever is refused by its states long before. */
const mostMemoryMb = 1_024;
/** A thread that waits for what can never come ends with this. */
const unsettled = 13;

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
  const worker = workerFile('logic');
  const task: LogicTask = { target, settings };
  const compiled =
    worker === null ? await compileLogic(task) : await compiledBy(worker, task, { file, io });
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

function broken(file: string, words: string): InputProblem {
  return problem('logic-throws', file, {
    message: 'this module, or its machine, cannot be run',
    found: plain(words),
    hint: template,
  });
}

function endless(file: string): InputProblem {
  return problem('logic-never-answers', file, {
    message: 'this module, or its machine, never comes to an end',
    expected: `an answer within ${String(mostSeconds)} s`,
    hint: 'look for a loop without an end, or for an await of what never comes',
  });
}

function compiledBy(
  worker: string,
  task: LogicTask,
  { file, io }: { readonly file: string; readonly io: Io },
): Promise<Compiled> {
  return new Promise((resolve, reject) => {
    const thread = new Worker(worker, {
      workerData: task,
      // What it prints is no part of what this command prints.
      stdout: true,
      resourceLimits: { maxOldGenerationSizeMb: mostMemoryMb },
    });
    const timer = setTimeout(() => settle(() => reject(endless(file))), mostSeconds * 1_000);
    let settled = false;
    const settle = (tell: () => void): void => {
      if (settled) return;
      settled = true;
      clearTimeout(timer);
      void thread.terminate().then(tell, tell);
    };
    thread.stdout.on('data', (chunk: Buffer) => {
      io.stderr.write(chunk.toString('utf8')).catch(() => undefined);
    });
    thread.once('message', (compiled: Compiled) => settle(() => resolve(compiled)));
    thread.once('error', (error) => settle(() => reject(broken(file, wordsOf(error)))));
    thread.once('exit', (code) => {
      const words = `it ended itself with status ${String(code)}`;
      settle(() => reject(code === unsettled ? endless(file) : broken(file, words)));
    });
  });
}
