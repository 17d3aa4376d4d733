// The one way in which files are written: beside their name and renamed when complete, so that no reader, interrupt or
// error ever leaves half of one behind; through links; with the mode of the file that is replaced; and never over
// what the command reads.
import { randomUUID } from 'node:crypto';
import { constants, createWriteStream, openSync, rmSync } from 'node:fs';
import { chmod, chown, mkdir, open, rename, stat } from 'node:fs/promises';
import { Socket } from 'node:net';
import path from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setTimeout } from 'node:timers/promises';
import { type InputProblem, problem } from '../problem.js';
import { removedOnSignal } from './interrupt.js';
import type { Io } from './io.js';
import { isProtected, isSameFile, type RealFile, realFile } from './real-file.js';
import { systemCode } from './system-code.js';
import { idIn, plainIdIn } from './used-files.js';
import { writeReason } from './write-reason.js';

type Chunks = Iterable<string | Uint8Array> | AsyncIterable<string | Uint8Array>;

/** A file that a command is going to write. */
export interface Output {
  /** The option that names it, for errors; an argument such as a folder has its own name. */
  readonly option: string;
  readonly file: string;
  /** Its folder is named by the user, and made where it is missing. */
  readonly inFolder?: true | undefined;
  /** It is a folder itself, for files whose names are not known yet. */
  readonly isFolder?: true | undefined;
}

/**
 * Looks at all outputs of a command before anything is run; `-` is standard output, and left alone.
 * @param inputs files that the command is going to read; `-` is standard input.
 * @throws InputProblem for one that is an input, another output, no file, or cannot be written.
 */
export async function refuseUnfitOutputs(
  outputs: readonly Output[],
  { inputs, io }: { readonly inputs: readonly (string | undefined)[]; readonly io: Io },
): Promise<void> {
  const named = outputs.filter(({ file }) => file !== '-');
  if (named.length === 0) return;
  const read = new Set(inputs.map((input) => inputId(input, io)));
  const earlier: { readonly option: string; readonly real: RealFile }[] = [];
  for (const output of named) {
    const real = await checked(output, io);
    if (real.id !== null && read.has(real.id)) throw isInput(output);
    const twin = earlier.find((one) => real.kind !== 'stream' && isSameFile(one.real, real));
    if (twin !== undefined) throw isTwice(output, twin.option);
    earlier.push({ option: output.option, real });
  }
}

function inputId(input: string | undefined, { folder, descriptors }: Io): string | null {
  if (input === undefined) return null;
  if (input === '-') return descriptors === undefined ? null : plainIdIn(descriptors.stdin);
  return plainIdIn(path.resolve(folder, input));
}

/** @throws InputProblem when it cannot be written, as far as that can be seen without writing. */
async function checked(output: Output, io: Io): Promise<RealFile> {
  const { option, file, inFolder } = output;
  if (file === '') {
    const what = output.isFolder === true ? 'folder' : 'file';
    throw problem('output-unnamed', option, {
      message: `the ${what} name is empty`,
      expected: `the name of a ${what}`,
    });
  }
  try {
    const real = await realFile(path.resolve(io.folder, file));
    if (output.isFolder === true) {
      if (real.kind === 'folder' || real.kind === 'missing') return real;
      throw isNoFolder(output);
    }
    if (real.kind === 'folder' || file.endsWith('/') || file.endsWith(path.sep)) {
      throw isFolder(output, real);
    }
    if (io.used.hasRead(real.id)) throw isInput(output);
    if (io.used.hasWritten(real.path)) throw isTwice(output, option);
    const { descriptors } = io;
    if (real.kind === 'file' && descriptors !== undefined && real.id === idIn(descriptors.stdout)) {
      throw isTwice(output, 'standard output');
    }
    if (real.kind === 'missing') {
      if (inFolder !== true) await refuseMissingFolder(output, real, io);
    } else if (await isProtected(real)) throw isReadOnly(output);
    return real;
  } catch (error) {
    throw writeProblem(output, error);
  }
}

async function refuseMissingFolder({ file }: Output, real: RealFile, io: Io): Promise<void> {
  const folder = path.dirname(real.path);
  const found = await stat(folder).catch((error: unknown) => {
    if (systemCode(error) !== 'ENOENT') throw error;
    return null;
  });
  if (found?.isDirectory() === true) return;
  const named = path.dirname(file);
  const isLinked = folder !== path.resolve(io.folder, named);
  throw problem('folder-missing', file, {
    message: 'the folder of this file does not exist',
    found: isLinked ? folder : named,
    hint: 'create the folder first, or choose another name',
  });
}

/**
 * Writes a file.
 * @param inFolder its folder is named by the user, and made where it is missing.
 * @throws InputProblem when it cannot be written, or is an input or another output of this run.
 */
export async function writeOutput(
  file: string,
  chunks: Chunks,
  io: Io,
  { inFolder }: { readonly inFolder?: true } = {},
): Promise<void> {
  const output: Output = { option: file, file, inFolder };
  const real = await checked(output, io);
  try {
    if (real.kind === 'stream') await fillStream(real, chunks, io);
    else {
      if (output.inFolder === true) await makeFolder(path.dirname(real.path));
      await replace(real, chunks);
      io.used.noteWritten(real.path);
    }
  } catch (error) {
    throw writeProblem(output, error);
  }
}

/** A device or a pipe, as it is. What standard output leads to is written in order with the rest of it. */
async function fillStream(
  { path: file, id, found }: RealFile,
  chunks: Chunks,
  io: Io,
): Promise<void> {
  if (io.descriptors !== undefined && id === idIn(io.descriptors.stdout)) {
    for await (const chunk of chunks) await io.stdout.write(chunk);
    return;
  }
  try {
    // Added at the end: the shell that opened a file for this process has decided what becomes of the rest of it.
    const isPipe = found?.isFIFO() === true;
    await fill(isPipe ? await namedPipe(file) : createWriteStream(file, { flags: 'a' }), chunks);
  } catch (error) {
    // The reader has what it wanted.
    if (systemCode(error) !== 'EPIPE') throw error;
  }
}

const untilReaderMs = 50;

/**
 * A named pipe once somebody reads it. Opened and written to without waiting in the system, where no interrupt would
 * end the wait.
 */
async function namedPipe(file: string): Promise<NodeJS.WritableStream> {
  for (;;) {
    try {
      const fd = openSync(file, constants.O_WRONLY | constants.O_NONBLOCK);
      return new Socket({ fd, readable: false, writable: true });
    } catch (error) {
      // Nobody reads it yet.
      if (systemCode(error) !== 'ENXIO') throw error;
      await setTimeout(untilReaderMs);
    }
  }
}

async function replace({ path: target, found }: RealFile, chunks: Chunks): Promise<void> {
  const temporary = path.join(path.dirname(target), `.dozewatch-${randomUUID()}.tmp`);
  const isGone = removedOnSignal(() => rmSync(temporary, { force: true }));
  try {
    // What takes the place of a file that others may not read is never open to them in between.
    const handle = await open(temporary, 'wx', found === null ? 0o666 : 0o600);
    await fill(handle.createWriteStream(), chunks);
    if (found !== null) {
      // Only root may give a file to its former owner: others write what is theirs.
      await chown(temporary, Number(found.uid), Number(found.gid)).catch(() => undefined);
      await chmod(temporary, Number(found.mode & 0o7777n));
    }
    await rename(temporary, target);
  } finally {
    rmSync(temporary, { force: true });
    isGone();
  }
}

async function fill(stream: NodeJS.WritableStream, chunks: Chunks): Promise<void> {
  await pipeline(Readable.from(chunks, { objectMode: true }), stream);
}

/** Step by step: Node's own way to make parents, too, never returns below a folder that takes none, such as /proc. */
async function makeFolder(folder: string): Promise<void> {
  if (await isThere(folder)) return;
  const parent = path.dirname(folder);
  if (parent !== folder) await makeFolder(parent);
  try {
    await mkdir(folder);
  } catch (error) {
    // Somebody else may have made it meanwhile.
    if (!(await isThere(folder))) throw error;
  }
}

async function isThere(folder: string): Promise<boolean> {
  return stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );
}

function isFolder({ file }: Output, real: RealFile): InputProblem {
  return problem('output-is-folder', file, {
    message:
      real.kind === 'folder' ? 'this is a folder, not a file' : 'this is the name of a folder',
    expected: 'the name of a file',
    hint: 'add a file name to it',
  });
}

function isNoFolder({ option, file }: Output): InputProblem {
  return problem('cannot-write', option, {
    message: 'this is a file, not a folder',
    found: file,
    hint: 'choose another name',
  });
}

function isInput({ option, file }: Output): InputProblem {
  return problem('output-is-input', option, {
    message: 'this would overwrite an input',
    found: file,
    hint: 'choose another name',
  });
}

function isTwice({ option, file }: Output, other: string): InputProblem {
  return problem('output-twice', option, {
    message:
      option === other
        ? 'this file would be written twice'
        : `this and ${other} would write the same file`,
    found: file,
    hint: 'choose another name',
  });
}

function isReadOnly({ file }: Output): InputProblem {
  return problem('output-read-only', file, {
    message: 'this file is write-protected',
    hint: 'make it writable (chmod u+w), or choose another name',
  });
}

/** The system's refusal in words; anything else is thrown on. */
function writeProblem({ file }: Output, error: unknown): unknown {
  if (!(error instanceof Error) || systemCode(error) === undefined) return error;
  return problem('cannot-write', file, { message: writeReason(error) });
}
