// Folders for the time of one command, removed however it ends: by itself, by an error, by an interrupt.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

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

/** A new, empty folder that nobody else may read. */
export function temporaryFolder(): TemporaryFolder {
  if (!listens) process.once('exit', removeAll);
  listens = true;
  const folder = mkdtempSync(path.join(tmpdir(), 'dozewatch-'));
  folders.add(folder);
  return {
    path: folder,
    remove() {
      rmSync(folder, { recursive: true, force: true });
      folders.delete(folder);
    },
  };
}
