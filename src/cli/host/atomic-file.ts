// Files out: written beside their name and renamed when complete, so that no reader, interrupt or error ever
// leaves half of one behind.
import { createWriteStream, rmSync } from 'node:fs';
import { mkdir, realpath, rename, stat } from 'node:fs/promises';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { problem } from '../problem.js';
import type { Io } from './io.js';
import { systemCode } from './read-text.js';

type Chunks = Iterable<string | Uint8Array> | AsyncIterable<string | Uint8Array>;

/** Files begun and not yet renamed: an interrupt removes them. */
const unfinished = new Set<string>();

let begun = 0;

/** Removes what was begun and not finished; for the end of an interrupted process. */
export function removeUnfinished(): void {
  for (const file of unfinished) rmSync(file, { force: true });
  unfinished.clear();
}

/** Writes a file, and its folder when that is missing. @throws InputProblem when it cannot be written. */
export async function writeFileAtomically(file: string, chunks: Chunks, io: Io): Promise<void> {
  const target = path.resolve(io.folder, file);
  try {
    const existing = await kindOf(target);
    // What is not a plain file (a pipe, /dev/null) is written to as it is: nothing can be put in its place.
    if (existing === 'other') await fill(target, 'w', chunks);
    else await replace(existing === 'missing' ? target : await realpath(target), chunks);
  } catch (error) {
    if (!(error instanceof Error) || systemCode(error) === undefined) throw error;
    throw problem('cannot-write', file, {
      message: 'this file cannot be written',
      found: error.message,
    });
  }
}

async function replace(target: string, chunks: Chunks): Promise<void> {
  const folder = path.dirname(target);
  await makeFolder(folder);
  begun += 1;
  const temporary = path.join(folder, `.dozewatch-${String(process.pid)}-${String(begun)}.tmp`);
  unfinished.add(temporary);
  try {
    await fill(temporary, 'wx', chunks);
    await rename(temporary, target);
  } finally {
    rmSync(temporary, { force: true });
    unfinished.delete(temporary);
  }
}

/** Step by step: Node's own way to make parents, too, never returns below a folder that takes none, such as /proc. */
async function makeFolder(folder: string): Promise<void> {
  if (await isFolder(folder)) return;
  const parent = path.dirname(folder);
  if (parent !== folder) await makeFolder(parent);
  try {
    await mkdir(folder);
  } catch (error) {
    // Somebody else may have made it meanwhile.
    if (!(await isFolder(folder))) throw error;
  }
}

async function isFolder(folder: string): Promise<boolean> {
  return stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

async function fill(file: string, flags: 'w' | 'wx', chunks: Chunks): Promise<void> {
  await pipeline(Readable.from(chunks, { objectMode: true }), createWriteStream(file, { flags }));
}

/** Links are followed: the file they lead to is what gets replaced. */
async function kindOf(target: string): Promise<'missing' | 'file' | 'other'> {
  try {
    const found = await stat(target);
    return found.isFile() || found.isDirectory() ? 'file' : 'other';
  } catch (error) {
    if (systemCode(error) === 'ENOENT') return 'missing';
    throw error;
  }
}
