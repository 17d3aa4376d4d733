// The scenarios of a folder and of the folders in it, in a fixed order, each with the watch file that goes with it.
import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { shellWord } from '../../base/index.js';
import type { Io } from '../host/io.js';
import { systemCode } from '../host/system-code.js';
import { watchNames } from '../inputs/find-watch.js';
import { dozewatchLine } from '../layout/next-line.js';
import { type InputProblem, problem } from '../problem.js';

export interface ScenarioFile {
  /** From the suite's folder on, with `/` between its parts. */
  readonly path: string;
  /** The file as the user would name it: with the suite's folder as they gave it. */
  readonly file: string;
  /** The nearest watch file, named the same way; undefined: none. */
  readonly watch: string | undefined;
}

/** Folders within folders beyond this depth are a mistake. */
const deepest = 50;

const scenarioName = /\.(?:ya?ml|json)$/iu;
const watchName = /^(?:.*[-.])?watch\.(?:ya?ml|json)$/iu;

/** @throws InputProblem when the folder cannot be read or holds no scenario. */
export async function scenarioFiles(
  folder: string,
  io: Io,
  watch: readonly string[],
): Promise<readonly ScenarioFile[]> {
  const found: ScenarioFile[] = [];
  try {
    await walk({ folder, parts: [], watch: undefined }, found, io);
  } catch (error) {
    throw folderProblem(folder, error, watch);
  }
  if (found.length > 0) return found;
  throw noScenarios(folder);
}

export function noScenarios(folder: string): InputProblem {
  return problem('no-scenarios', folder, {
    message: 'this folder has no scenario',
    expected: 'files that end in .yaml, .yml or .json, other than watch files',
    hint: 'dozewatch init writes a first scenario',
  });
}

async function walk(
  at: {
    readonly folder: string;
    readonly parts: readonly string[];
    readonly watch: string | undefined;
  },
  found: ScenarioFile[],
  io: Io,
): Promise<void> {
  if (at.parts.length > deepest) return;
  const named = (name: string): string => path.join(at.folder, ...at.parts, name);
  const entries = await readdir(path.resolve(io.folder, named('')), { withFileTypes: true });
  entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  const own: string | undefined = watchNames.find((name) =>
    entries.some((entry) => entry.name === name),
  );
  const watch = own === undefined ? at.watch : named(own);
  for (const entry of entries) {
    if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
    const parts = [...at.parts, entry.name];
    if (entry.isDirectory()) await walk({ folder: at.folder, parts, watch }, found, io);
    else if (scenarioName.test(entry.name) && !watchName.test(entry.name)) {
      found.push({ path: parts.join('/'), file: named(entry.name), watch });
    }
  }
}

/** @param watch the options that name the watch. */
function folderProblem(folder: string, error: unknown, watch: readonly string[]): unknown {
  switch (systemCode(error) ?? 'none') {
    case 'ENOENT':
      return problem('folder-missing', folder, { message: 'this folder does not exist' });
    case 'ENOTDIR':
      return problem('folder-expected', folder, {
        message: 'this is a file, not a folder',
        hint: watchName.test(path.basename(folder))
          ? `name the folder; the watch file goes with -c ${shellWord(folder)}`
          : `for a single scenario, run ${dozewatchLine(['replay', folder, ...watch])}`,
      });
    case 'EACCES':
    case 'EPERM':
      return problem('folder-unreadable', folder, {
        message: 'this folder cannot be read: permission denied',
      });
    default:
      return error;
  }
}
