// Files that come with the package, found from wherever this code runs: built in dist/, or as source.
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { invariant } from '../../base/index.js';

/** Folders from this file up to the package's own. */
const mostLevels = 5;

/** Path of a shipped file, such as `schemas/watch.schema.json`. @throws InvariantError when it is not there. */
export function shippedPath(name: string): string {
  const file = shippedIfThere(name);
  invariant(file !== null, 'the package is complete', { missing: name });
  return file;
}

/** The same, or null when it is not there. */
export function shippedIfThere(name: string): string | null {
  let folder = path.dirname(fileURLToPath(import.meta.url));
  for (let level = 0; level < mostLevels; level += 1) {
    const file = path.join(folder, name);
    if (existsSync(file)) return file;
    folder = path.dirname(folder);
  }
  return null;
}

/** Text of a shipped file. */
export function shippedText(name: string): Promise<string> {
  return readFile(shippedPath(name), 'utf8');
}
