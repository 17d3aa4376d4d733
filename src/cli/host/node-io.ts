// The real machine: this process's streams, folder, environment and clocks.
import { problem } from '../problem.js';
import { type Io, type Out, plainColumns } from './io.js';

/** The process as a command sees it. */
export function nodeIo(): Io {
  return {
    stdout: outOf(process.stdout),
    stderr: outOf(process.stderr),
    stdin: process.stdin,
    folder: process.cwd(),
    environment: process.env,
    now: () => Date.now(),
    elapsed: () => performance.now(),
  };
}

/** A stream whose reader may go away at any time, as `head` does: then the rest is dropped in silence. */
function outOf(stream: NodeJS.WriteStream): Out {
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
      if (failure !== undefined && !readerWentAway(failure)) {
        throw problem('cannot-write', '-', {
          message: 'standard output cannot be written',
          found: failure.message,
        });
      }
    },
  };
}

function readerWentAway({ code }: NodeJS.ErrnoException): boolean {
  return code === 'EPIPE' || code === 'ERR_STREAM_DESTROYED' || code === 'EOF';
}
