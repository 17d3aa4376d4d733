// The real machine: this process's streams, folder, environment and clocks.
import path from 'node:path';
import { problem } from '../problem.js';
import { type Io, type Out, plainColumns } from './io.js';
import { UsedFiles } from './used-files.js';
import { writeReason } from './write-reason.js';

/** The process as a command sees it. */
export function nodeIo(): Io {
  return {
    stdout: outOf(process.stdout, 'standard output'),
    // Where errors cannot be written, nothing is left to say so with.
    stderr: outOf(process.stderr, null),
    stdin: process.stdin,
    folder: currentFolder() ?? path.parse(process.execPath).root,
    used: new UsedFiles(),
    descriptors: { stdin: 0, stdout: 1 },
    environment: process.env,
    now: () => Date.now(),
    elapsed: () => performance.now(),
  };
}

/** Null: it was removed after this process began. */
export function currentFolder(): string | null {
  try {
    return process.cwd();
  } catch {
    return null;
  }
}

/** A stream whose reader may go away at any time, as `head` does: then the rest is dropped in silence. */
function outOf(stream: NodeJS.WriteStream, name: string | null): Out {
  let failure: NodeJS.ErrnoException | undefined;
  stream.on('error', (error: NodeJS.ErrnoException) => {
    failure ??= error;
  });
  return {
    isTerminal: stream.isTTY,
    get columns() {
      return stream.isTTY ? stream.columns : plainColumns;
    },
    async write(text) {
      if (failure === undefined) {
        await new Promise<void>((resolve) => {
          // Called when the text is handed on, and also when it could not be: the listener then knows why.
          stream.write(text, () => resolve());
        });
      }
      if (name !== null && failure !== undefined && !readerWentAway(failure)) {
        throw problem('cannot-write', name, { message: writeReason(failure) });
      }
    },
  };
}

function readerWentAway({ code }: NodeJS.ErrnoException): boolean {
  return code === 'EPIPE' || code === 'ERR_STREAM_DESTROYED' || code === 'EOF';
}
