// What one run of the program has read and written, by device and inode: whatever a command forgets to check, nothing
// is written over what was read, and nothing twice.
import { type BigIntStats, fstatSync, statSync } from 'node:fs';
import { idOf } from './real-file.js';

export class UsedFiles {
  readonly #read = new Set<string>();
  readonly #written = new Set<string>();

  /** @param file absolute, or the number of a descriptor. */
  noteRead(file: string | number): void {
    const id = plainIdIn(file);
    if (id !== null) this.#read.add(id);
  }

  /** @param id of a file, as `realFile` gives it. */
  hasRead(id: string | null): boolean {
    return id !== null && this.#read.has(id);
  }

  /** @param file the path without links. */
  noteWritten(file: string): void {
    this.#written.add(file);
  }

  hasWritten(file: string): boolean {
    return this.#written.has(file);
  }
}

/** Device and inode of a plain file; null of anything else, and of what is not there: reading it will tell. */
export function plainIdIn(file: string | number): string | null {
  const found = statIn(file);
  return found?.isFile() === true ? idOf(found) : null;
}

/** Device and inode of whatever it is; null: it is not there. */
export function idIn(file: string | number): string | null {
  const found = statIn(file);
  return found === null ? null : idOf(found);
}

function statIn(file: string | number): BigIntStats | null {
  try {
    return typeof file === 'number'
      ? fstatSync(file, { bigint: true })
      : statSync(file, { bigint: true });
  } catch {
    return null;
  }
}
