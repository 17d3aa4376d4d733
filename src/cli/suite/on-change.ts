// `dozewatch suite --on-change`: the suite again each time a file of its folder, its watch file or its logic changes. A signal ends
// it, as it ends any command.

import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { mostWatchedFiles } from '../../model/index.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { InputProblem } from '../problem.js';
import type { SuiteOptions } from './options.js';
import { suite } from './run.js';

/** How often the files are looked at, and for how long they must stay the same before the suite runs. */
const lookMs = 200;
const settledMs = 100;
const mostErrors = 10;

/** Never ends by itself. */
export async function suiteOnChange(
  folder: string,
  options: SuiteOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  for (;;) {
    const before = await stateOf(folder, options, io);
    await runOnce(folder, options, on);
    await print(io, 'Waiting for a change. Ctrl-C ends this.\n', 'stderr');
    await changedFrom(before, () => stateOf(folder, options, io));
    await print(io, '\n', 'stderr');
  }
}

/** What is wrong with the input may be mended by the next change. */
async function runOnce(
  folder: string,
  options: SuiteOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<void> {
  try {
    await suite(folder, options, on);
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    const how = { io: on.io, paint: paintFor('stderr', on), most: mostErrors };
    await writeDiagnostics(error.diagnostics, how);
  }
}

/** Waits until the files differ from a state, and no longer change. */
async function changedFrom(before: string, look: () => Promise<string>): Promise<void> {
  for (;;) {
    await setTimeout(lookMs);
    const now = await look();
    if (now === before) continue;
    await setTimeout(settledMs);
    if ((await look()) === now) return;
  }
}

/** Names, sizes and times of the files that decide the suite. */
async function stateOf(folder: string, options: SuiteOptions, io: Io): Promise<string> {
  const { config, logic, junit } = options;
  const written = junit === undefined ? null : path.resolve(io.folder, junit);
  const files: string[] = [];
  for (const file of [config, logic]) {
    if (file !== undefined) files.push(path.resolve(io.folder, file));
  }
  await filesIn(path.resolve(io.folder, folder), files);
  const states = files
    .filter((file) => file !== written)
    .map(async (file) => {
      const found = await stat(file).catch(() => null);
      return `${file} ${String(found?.size)} ${String(found?.mtimeMs)}`;
    });
  return (await Promise.all(states)).join('\n');
}

async function filesIn(folder: string, files: string[]): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const entry of entries) {
    if (entry.name.startsWith('.') || entry.name === 'node_modules') continue;
    if (files.length >= mostWatchedFiles) return;
    const whole = path.join(folder, entry.name);
    if (entry.isDirectory()) await filesIn(whole, files);
    else files.push(whole);
  }
}
