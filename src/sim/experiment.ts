// A run is a value: an experiment holds everything that decides its trace.
import {
  compileTable,
  type LogicTable,
  logicKey,
  type WatchSettings,
  watchLogic,
} from '../machine/index.js';
import type { ChargePlan } from '../model/index.js';
import type { DeviceTiming, World } from '../world/index.js';
import type { Answers } from './answers.js';

/** A watch ready to run: its settings and its logic as a flat table, made once and run many times. */
export interface Program {
  readonly watch: WatchSettings;
  readonly table: LogicTable;
  /** The logic is a machine of one's own, whose rule for an alert is not that of the settings; absent: the watch's own. */
  readonly ownLogic?: true;
  /** From when on the cooldown of a delivered alert counts; absent: from its delivery, as it should. */
  readonly cooldownFrom?: 'decision';
  /** Of a faulty watch; absent: its clock and its counters are sound. */
  readonly slips?: TimeSlips | undefined;
}

/** Mistakes with clocks and counters, which a table of states cannot hold. */
export interface TimeSlips {
  /** Whether it takes the contact for shut in a check. */
  readonly deaf?: (now: SlipFacts) => boolean;
  /** Whether it forgets all that it retains, at the beginning of a wake. */
  readonly forgets?: (now: SlipFacts) => boolean;
}

/** What the device could count, since power-on or since its memory was last cleared. */
export interface SlipFacts {
  readonly clockMs: number;
  /** Of the wake before; 0 in the first one. */
  readonly clockBeforeMs: number;
  /** This one included. */
  readonly wakes: number;
  /** Since the last delivery of an alert; null: there was none. */
  readonly sinceDeliveryMs: number | null;
}

/** Everything that decides a run. The same experiment gives the same trace on any machine. */
export interface Experiment {
  readonly program: Program;
  readonly timing: DeviceTiming;
  readonly world: World;
  /** Names the random streams of boot, connect and clock error, where these are drawn. */
  readonly seed: string;
  /** The supply that the run drains; absent or null: the device always has charge. */
  readonly charge?: ChargePlan | null;
  /** What people do; absent or null: nobody comes. */
  readonly answers?: Answers | null;
}

/** Tables kept by `compileWatch`, the last used ones; a larger one is not kept: with these two, some tens of megabytes. */
const mostKept = 64;
const mostStatesKept = 2_000;
/** By `logicKey`, the last used one last. */
const kept = new Map<string, LogicTable>();

/**
 * Compiles the door watch for its settings. What one command asks of a watch compiles the same logic many times, which takes
 * longer than most runs: its table is made once.
 */
export function compileWatch(watch: WatchSettings): Program {
  const key = logicKey(watch);
  const table = kept.get(key) ?? compileTable(watchLogic(watch));
  kept.delete(key);
  if (table.phases.length <= mostStatesKept) kept.set(key, table);
  const [oldest] = kept.keys();
  if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
  return { watch, table };
}

/** Compiles each logic once: of many settings that are tried few have one of their own. @param known one that is compiled. */
export function compileWatches(known?: Program): (watch: WatchSettings) => Program {
  const tables = new Map<string, Program['table']>();
  if (known !== undefined) tables.set(logicKey(known.watch), known.table);
  return (watch) => {
    const key = logicKey(watch);
    const table = tables.get(key) ?? compileWatch(watch).table;
    tables.set(key, table);
    return { watch, table };
  };
}
