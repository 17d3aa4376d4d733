// What bounds are asked about. `questionOf` is the only way from a watch file to a question: it takes every range, the clock
// error over the whole temperature curve, and the environment, so that no command can leave one of them out.
import type { LogicTable, WatchSettings } from '../machine/index.js';
import type {
  Environment,
  Requirements,
  ResetMemory,
  SupplySettings,
  TimingRanges,
} from '../model/index.js';
import { compileWatch, type Program } from '../sim/index.js';
import type { ContactSettings } from '../world/index.js';

/** The parts of a watch file that its bounds depend on. */
export interface WatchFileParts {
  readonly watch: WatchSettings;
  readonly timing: TimingRanges;
  readonly judge: Requirements;
  /** Null: an ideal contact. */
  readonly contact: ContactSettings | null;
  readonly sealGapUm: number;
  /** The smallest gap at which an open door rests; null: any over the seal gap. */
  readonly opensAtLeastUm: number | null;
  readonly reset: ResetMemory;
  readonly environment: Environment;
  /** For the price of a remedy; no bound depends on it. */
  readonly supply?: SupplySettings | null;
}

/** Only `questionOf` has this key. A question with something changed stays one: `{ ...question, environment }`. */
const whole: unique symbol = Symbol('whole');

/** What bounds are sought for. `questionOf` alone makes one. */
export interface BoundsQuestion extends Omit<WatchFileParts, 'watch' | 'supply'> {
  readonly [whole]: true;
  readonly supply: SupplySettings | null;
  readonly program: Program;
  /** The logic is not made from the watch's settings: what other settings of it would do is not known. */
  readonly ownLogic: boolean;
  /** Whether `judge` states requirements. If not, nothing holds or fails, and nothing needs a remedy. */
  readonly isJudged: boolean;
}

/** Logic that decides in place of what the watch's settings give. */
export interface CompiledLogic {
  readonly table: LogicTable;
  /** It is the owner's, and not a compiled form of the settings. */
  readonly ownLogic: boolean;
}

/** @param logic default: compiled from the watch's settings. */
export function questionOf(watchFile: WatchFileParts, logic?: CompiledLogic): BoundsQuestion {
  const { watch, timing, judge, contact, sealGapUm, opensAtLeastUm, reset, environment } =
    watchFile;
  const table = logic?.table ?? compileWatch(watch).table;
  return {
    [whole]: true,
    program: { watch, table },
    timing,
    judge,
    contact,
    sealGapUm,
    opensAtLeastUm,
    reset,
    environment,
    supply: watchFile.supply ?? null,
    ownLogic: logic?.ownLogic ?? false,
    isJudged: true,
  };
}
