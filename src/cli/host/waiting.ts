// Warnings wait for the first other output of a command. If the input turns out to be unusable, the error stands alone: what
// else is remarkable about some file comes again when the error is mended.
import type { Io, Out } from './io.js';

export interface WaitingIo extends Io {
  readonly waiting: string[];
}

/** The same streams, where whatever is written comes after the warnings that wait. */
export function withWaiting(io: Io): WaitingIo {
  const waiting: string[] = [];
  const behind = (out: Out): Out => ({
    get isTerminal() {
      return out.isTerminal;
    },
    get columns() {
      return out.columns;
    },
    async write(text) {
      for (const warning of waiting.splice(0)) await io.stderr.write(warning);
      await out.write(text);
    },
  });
  return { ...io, stdout: behind(io.stdout), stderr: behind(io.stderr), waiting };
}

/** Prints what waits. */
export async function flushWaiting({ waiting, stderr }: WaitingIo): Promise<void> {
  if (waiting.length > 0) await stderr.write('');
}
