// What a name leads to: links of files and of folders are followed to their end, also where nothing is at that end yet,
// so that two names of one file are known for one.
import { type BigIntStats, constants } from 'node:fs';
import { access, lstat, readlink, stat } from 'node:fs/promises';
import path from 'node:path';
import { systemCode } from './system-code.js';

export interface RealFile {
  /** Absolute, and free of links. */
  readonly path: string;
  /** `stream`: a device, a pipe, or what a process has open; nothing can be put in its place. */
  readonly kind: 'missing' | 'file' | 'folder' | 'stream';
  /** Device and inode: the same for every name of one file. Null: missing. */
  readonly id: string | null;
  readonly found: BigIntStats | null;
}

/** As many as systems follow. */
const mostLinks = 40;

/** Links to what a process has open: on Linux they are no names of files, although they look like such. */
const descriptors = /^\/proc\/(?:self|\d+)(?:\/task\/\d+)?\/fd$/u;

/** @param file absolute. @throws what the system throws, for links in a circle and folders that may not be read. */
export async function realFile(file: string): Promise<RealFile> {
  return follow(path.normalize(file), { links: 0 });
}

async function follow(file: string, count: { links: number }): Promise<RealFile> {
  const parent = path.dirname(file);
  if (parent === file) return known(file, await stat(file, { bigint: true }));
  const folder = (await follow(parent, count)).path;
  const here = path.join(folder, path.basename(file));
  const found = await lstat(here, { bigint: true }).catch((error: unknown) => {
    if (systemCode(error) === 'ENOENT') return null;
    throw error;
  });
  if (found === null) return { path: here, kind: 'missing', id: null, found };
  if (!found.isSymbolicLink()) return known(here, found);
  if (descriptors.test(folder)) {
    return { ...known(here, await stat(here, { bigint: true })), kind: 'stream' };
  }
  count.links += 1;
  if (count.links > mostLinks) throw tooManyLinks(here);
  return follow(path.resolve(folder, await readlink(here)), count);
}

function known(file: string, found: BigIntStats): RealFile {
  const kind = found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'stream';
  return { path: file, kind, id: idOf(found), found };
}

/** Device and inode as one text. */
export function idOf({ dev, ino }: BigIntStats): string {
  return `${String(dev)}:${String(ino)}`;
}

function tooManyLinks(file: string): Error {
  return Object.assign(new Error(`too many links, ${file}`), { code: 'ELOOP' });
}

export function isSameFile(a: RealFile, b: RealFile): boolean {
  return a.id !== null && b.id !== null ? a.id === b.id : a.path === b.path;
}

const ownerMayWrite = 0o200n;

/**
 * By the mode of a file as well as by the system: root may write anything, but a file that its owner has protected is
 * protected from them.
 */
export async function isProtected({ path: file, kind, found }: RealFile): Promise<boolean> {
  if (kind === 'file' && found !== null && (found.mode & ownerMayWrite) === 0n) return true;
  return access(file, constants.W_OK).then(
    () => false,
    (error: unknown) => ['EACCES', 'EPERM', 'EROFS'].includes(systemCode(error) ?? ''),
  );
}
