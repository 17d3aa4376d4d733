// A run is a value: an experiment holds everything that decides its trace.
import { compileTable, type LogicTable, type WatchSettings, watchLogic } from '../machine/index.js';
import type { ChargePlan } from '../model/index.js';
import type { DeviceTiming, World } from '../world/index.js';
import type { Answers } from './answers.js';

/** A watch ready to run: its settings and its logic as a flat table, made once and run many times. */
export interface Program {
  readonly watch: WatchSettings;
  readonly table: LogicTable;
  /** From when on the cooldown of a delivered alert counts; absent: from its delivery, as it should. */
  readonly cooldownFrom?: 'decision';
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

/** Compiles the door watch for its settings. */
export function compileWatch(watch: WatchSettings): Program {
  return { watch, table: compileTable(watchLogic(watch)) };
}
