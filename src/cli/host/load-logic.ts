// An owner's own state machine from a JavaScript module. Its code runs in this process: it is the owner's.

import { existsSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { plain } from '../../base/index.js';
import {
  isMachine,
  LogicFault,
  type LogicSettings,
  type LogicTable,
  logicTools,
  otherTable,
} from '../../machine/index.js';
import { type InputProblem, problem } from '../problem.js';
import type { Io } from './io.js';

const template = 'dozewatch init --logic writes one to begin with';

/** The table of the machine in a file, for the settings of a watch. @throws InputProblem when there is none. */
export async function loadLogic(
  file: string,
  settings: LogicSettings,
  io: Io,
): Promise<LogicTable> {
  const target = path.resolve(io.folder, file);
  if (file === '-' || !existsSync(target)) {
    throw problem('file-missing', file, {
      message: 'there is no such file',
      expected: 'a JavaScript module (.mjs) that exports a machine',
      hint: template,
    });
  }
  try {
    const loaded: unknown = await import(pathToFileURL(target).href);
    const exported = exportOf(loaded);
    const made: unknown =
      typeof exported === 'function' ? Reflect.apply(exported, undefined, [logicTools]) : exported;
    if (isMachine(made)) return otherTable(made, settings);
  } catch (error) {
    throw problemOf(file, error);
  }
  throw problem('logic-no-machine', file, {
    message: 'this module exports no XState machine',
    expected:
      'export const machine = …: a machine, or a function that gets { setup, assign } and returns one',
    hint: template,
  });
}

function exportOf(loaded: unknown): unknown {
  if (typeof loaded !== 'object' || loaded === null) return undefined;
  if ('machine' in loaded) return loaded.machine;
  return 'default' in loaded ? loaded.default : undefined;
}

function problemOf(file: string, error: unknown): InputProblem {
  if (error instanceof LogicFault) {
    const { what: message, facts } = error;
    return problem('logic-refused', file, { message, ...facts });
  }
  const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  return problem('logic-throws', file, {
    message: 'this module, or its machine, cannot be run',
    found: plain(words.split('\n')[0] ?? ''),
    hint: template,
  });
}
