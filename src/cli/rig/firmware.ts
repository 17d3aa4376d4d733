// A compiled firmware with the options of its user.
import { fullMvOf, type Variable } from '../../rig/index.js';
import type { TimelineStart } from '../../scenarios/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import type { Rig, RigAsk } from './process.js';

/** A firmware that is ready to run, as its owner named it. */
export interface Firmware {
  readonly file: string;
  readonly rig: Rig;
  /** Of real time, for one timeline. */
  readonly limitSeconds: number;
  /** What its clock reads at power-on. */
  readonly clockStartsMs: number;
  /** The command line that compiles it in the same way and runs it with these words. */
  readonly commandWith: (words: readonly string[]) => string;
  /** A shorter power loss leaves DW_RETAINED_NOINIT variables as they are. */
  readonly noinitKeepsMs: number;
  /** How far an instant may be from where it is due. */
  readonly toleranceMs: number;
  /** Of `long` and pointers, in bits; null: it is a program of its own. */
  readonly wordBits: number | null;
  /** What it retains, by name; null where its program has no names. */
  readonly retained: () => readonly Variable[] | null;
}

/** All of a run, as the user's options have it. @param start of the timeline; null: a hunt's have none. */
export function askOf(
  { limitSeconds, clockStartsMs, noinitKeepsMs }: Firmware,
  { watchFile }: LoadedWatch,
  start: TimelineStart | null,
): RigAsk {
  return {
    wakes: true,
    limitSeconds,
    clockStartsMs,
    noinitKeepsMs,
    wallStartsMs: start === null || start.isAssumed === true ? null : start.epochMs,
    watchdogClears: watchFile.reset.watchdog === 'clears',
    fullMv: watchFile.supply === null ? null : fullMvOf(watchFile.supply),
  };
}
