// Compiles your own state machine in a thread, which can be stopped at any time.

import { Worker } from 'node:worker_threads';
import { durationText, plain } from '../../base/index.js';
import { mostLogicMebibytes } from '../../model/index.js';
import type { Io } from '../host/io.js';
import { type InputProblem, problem } from '../problem.js';
import { type Compiled, type LogicTask, wordsOf } from './compile.js';

export const template = 'dozewatch init --logic writes one to start from';
/** A thread that waits for what can never come ends with this. */
const unsettled = 13;

export interface Aside {
  /** As the user named it. */
  readonly file: string;
  readonly io: Io;
  /** The thread is ended where it has not answered by then. */
  readonly mostMs: number;
}

/** @throws InputProblem when the module ends its thread, or does not come to an end. */
export function compileAside(
  worker: string,
  task: LogicTask,
  { file, io, mostMs }: Aside,
): Promise<Compiled> {
  return new Promise((resolve, reject) => {
    const thread = new Worker(worker, {
      workerData: task,
      // What it prints is no part of what this command prints.
      stdout: true,
      resourceLimits: { maxOldGenerationSizeMb: mostLogicMebibytes },
    });
    const timer = setTimeout(() => settle(() => reject(endless(file, mostMs))), mostMs);
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
      settle(() => reject(code === unsettled ? endless(file, mostMs) : broken(file, words)));
    });
  });
}

export function broken(file: string, words: string): InputProblem {
  return problem('logic-throws', file, {
    message: 'this module, or its machine, throws an error',
    found: plain(words),
    hint: template,
  });
}

function endless(file: string, mostMs: number): InputProblem {
  return problem('logic-never-answers', file, {
    message: 'this module, or its machine, does not finish',
    expected: `a result within ${durationText(mostMs)}`,
    hint: 'look for an endless loop, or for an await that is never resolved',
  });
}
