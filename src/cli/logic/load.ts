// An owner's own state machine from a JavaScript module. Its code runs in this process: it is the owner's. It runs in a
// thread of its own until its table is compiled, and after that not any more.

import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { plain, shellWord } from '../../base/index.js';
import type { LogicSettings, LogicTable } from '../../machine/index.js';
import { mostLogicMs } from '../../model/index.js';
import type { Io } from '../host/io.js';
import { workerFile } from '../host/workers.js';
import { type InputProblem, problem } from '../problem.js';
import { compileLogic, type LogicTask } from './compile.js';
import { broken, compileAside, template } from './compile-aside.js';

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
      : await compileAside(worker, task, { file, io, mostMs: mostLogicMs });
  switch (compiled.kind) {
    case 'table':
      return compiled.table;
    case 'refused':
      throw problem('logic-refused', file, { message: compiled.what, ...compiled.facts });
    case 'throws':
      throw notJavaScript(file, compiled.words) ?? broken(file, compiled.words);
    case 'no-machine':
      throw problem('logic-no-machine', file, {
        message: 'this module exports no XState machine',
        ...(compiled.found === undefined ? {} : { found: plain(compiled.found) }),
        expected:
          'export const machine = …: a machine, or a function that gets { setup, assign } and returns one',
        hint: template,
      });
  }
}

/** A file in another language than this version of Node.js runs; null: it is JavaScript. */
function notJavaScript(file: string, words: string): InputProblem | null {
  const extension = path.extname(file).toLowerCase();
  if (/^\.[cm]?tsx?$/u.test(extension) && words.includes('Unknown file extension')) {
    const made = `${path.basename(file, path.extname(file))}.mjs`;
    return problem('logic-not-javascript', file, {
      message: 'this is TypeScript, which this version of Node.js does not run',
      expected: 'a JavaScript module (.mjs)',
      hint: `compile it: npx esbuild ${shellWord(file)} --bundle --format=esm --packages=external --outfile=${shellWord(made)}`,
    });
  }
  if (/^\.(?:[cm]?jsx?|[cm]?tsx?)$/u.test(extension)) return null;
  return problem('logic-not-javascript', file, {
    message: 'this is no JavaScript module',
    found: extension === '' ? 'a name without an ending' : `the ending ${extension}`,
    expected: 'a JavaScript module (.mjs) that exports a machine',
    hint: template,
  });
}
