// Folders for the time of one command, removed however it ends: by itself, by an error, by an interrupt.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { problem } from '../problem.js';
import { removedOnSignal } from './interrupt.js';
import { systemCode } from './system-code.js';

const folders = new Set<string>();
let listens = false;

function removeAll(): void {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  folders.clear();
}

export interface TemporaryFolder {
  readonly path: string;
  remove(): void;
}

/** @throws InputProblem where there can be none. */
function newFolder(): string {
  try {
    return mkdtempSync(path.join(tmpdir(), 'dozewatch-'));
  } catch (error) {
    throw problem('no-temporary-folder', tmpdir(), {
      message: `a temporary folder cannot be created here (${systemCode(error) ?? 'unknown'})`,
      hint: 'set TMPDIR to a folder that you may write to',
    });
  }
}

/** A new, empty folder that nobody else may read. @throws InputProblem where there can be none. */
export function temporaryFolder(): TemporaryFolder {
  if (!listens) process.once('exit', removeAll);
  listens = true;
  const folder = newFolder();
  folders.add(folder);
  const isGone = removedOnSignal(() => rmSync(folder, { recursive: true, force: true }));
  return {
    path: folder,
    remove() {
      rmSync(folder, { recursive: true, force: true });
      folders.delete(folder);
      isGone();
    },
  };
}
