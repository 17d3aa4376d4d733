// The catalogue made for one watch: what runs with each mistake, and whether it makes a difference there.
import { deviceMs, invariant } from '../base/index.js';
import {
  compileTable,
  type DeviceLogic,
  type LogicTable,
  logicKey,
  type WatchSettings,
  type WatchSnapshot,
  watchLogic,
} from '../machine/index.js';
import type { TimingRanges } from '../model/index.js';
import type { Program } from '../sim/index.js';
import { behavesAlike } from './alike.js';
import { mutants } from './catalogue/index.js';
import { changedLogic } from './changed-logic.js';
import { interned } from './interned.js';
import type { Mutant } from './mutant.js';

export interface MutantProgram {
  readonly fault: Mutant;
  readonly program: Program;
  /** With these settings it behaves like the sound watch, whatever happens. */
  readonly alike: boolean;
}

/**
 * Every faulty watch of the catalogue, with the settings and device of a sound one.
 * @param kept whether some reset keeps retained memory; if none does, a mistake that only such a reset shows makes no difference.
 */
export function mutantPrograms(
  sound: Program,
  timing: TimingRanges,
  kept = true,
): readonly MutantProgram[] {
  return mutants.map(maker(sound, timing)).map((one) => {
    const alike = one.alike || (!kept && one.fault.needsKeptReset === true);
    return { ...one, alike };
  });
}

/** One of them. @throws InvariantError when the catalogue has no such fault. */
export function mutantProgram(sound: Program, timing: TimingRanges, name: string): MutantProgram {
  const fault = mutants.find((one) => one.name === name);
  invariant(fault !== undefined, 'the catalogue has such a fault', { name });
  return maker(sound, timing)(fault);
}

function maker(sound: Program, timing: TimingRanges): (fault: Mutant) => MutantProgram {
  const tables = tableMaker(sound);
  return (fault) => {
    const watch = fault.settings?.(sound.watch, timing) ?? sound.watch;
    const table = tables(watch, fault);
    const slips = fault.slips?.(watch);
    const program = slips === undefined ? { watch, table } : { watch, table, slips };
    if (fault.cooldownFrom === undefined) {
      return { fault, program, alike: behavesAlike(sound, program) };
    }
    // Its cooldown may be over at any moment in which the sound one runs: alike if even without one it would be.
    const bare = { ...program, watch: { ...watch, alertCooldownMs: deviceMs(0) } };
    const { cooldownFrom } = fault;
    return { fault, program: { ...program, cooldownFrom }, alike: behavesAlike(sound, bare) };
  };
}

/** Tables of faulty watches; what they have in common is worked out once. */
function tableMaker(sound: Program): (watch: WatchSettings, fault: Mutant) => LogicTable {
  const logics = new Map<string, DeviceLogic<WatchSnapshot>>();
  const tables = new Map([[logicKey(sound.watch), sound.table]]);
  const logicOf = (watch: WatchSettings): DeviceLogic<WatchSnapshot> => {
    const key = logicKey(watch);
    const known = logics.get(key) ?? interned(watchLogic(watch));
    logics.set(key, known);
    return known;
  };
  return (watch, { logic }) => {
    if (logic !== undefined) return compileTable(changedLogic(logicOf(watch), watch, logic(watch)));
    const key = logicKey(watch);
    const known = tables.get(key) ?? compileTable(watchLogic(watch));
    tables.set(key, known);
    return known;
  };
}
