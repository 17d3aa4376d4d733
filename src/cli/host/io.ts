// Everything a command may touch of the machine, passed in: tests bring their own, `nodeIo` the real ones.
import type { UsedFiles } from './used-files.js';

/** A terminal or a file that text goes to. */
export interface Out {
  readonly isTerminal: boolean;
  /** Width to lay text out for; a plain 100 where there is no terminal. */
  readonly columns: number;
  /** Resolves when more may be written. A reader that went away is no error: the rest is dropped. */
  write(text: string | Uint8Array): Promise<void>;
}

export interface Io {
  readonly stdout: Out;
  readonly stderr: Out;
  readonly stdin: AsyncIterable<Uint8Array>;
  /** The folder that relative paths start from. */
  readonly folder: string;
  /** What this run has read and written so far. */
  readonly used: UsedFiles;
  /** The streams as the system knows them; left out where they are none of the system's. */
  readonly descriptors?: { readonly stdin: number; readonly stdout: number } | undefined;
  /** Warnings that wait for the first other output; left out where they are printed at once. */
  readonly waiting?: string[];
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Milliseconds since 1970-01-01T00:00:00Z. Stamps of reports only: no verdict depends on it. */
  now(): number;
  /** Milliseconds that only go forward, for measuring how long something took. */
  elapsed(): number;
}

/** 0 all held; 1 a finding; 2 bad input or usage; 3 a fault of dozewatch itself; 130 interrupted, with a part done. */
export type ExitStatus = 0 | 1 | 2 | 3 | 130;

/** Width of text for files and pipes. */
export const plainColumns = 100;
