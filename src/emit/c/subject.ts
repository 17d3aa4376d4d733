// What each of the C files is written from.
import type { RangeMs } from '../../model/index.js';
import type { Program } from '../../sim/index.js';
import type { Automaton } from '../automaton.js';

export interface CSubject {
  readonly program: Program;
  readonly automaton: Automaton;
  /** In front of every name: `watch` gives `watch_check` and `WATCH_SLEEP`. */
  readonly prefix: string;
  /** Where the settings came from, for the first comment. */
  readonly origin: string;
  /** How long at most a send waits for the network. */
  readonly joinWaitMs: number;
  /** The watch file as it is named on a command line; empty: the defaults. */
  readonly config: string;
  /** From a wake to its check. */
  readonly bootMs: RangeMs;
  /** Where the files are written, with a `/` at its end; empty: the current folder. */
  readonly folder: string;
}
