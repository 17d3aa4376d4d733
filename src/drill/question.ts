// What a drill is made for.
import type { Program } from '../sim/index.js';
import type { ContactSettings, DeviceTiming } from '../world/index.js';

/** The parts of a watch file that matter to a drill. */
export interface WatchFileParts {
  readonly program: Program;
  /** Every boot and connect time and clock error in its ranges is allowed for. */
  readonly timing: DeviceTiming;
  /** Null: an ideal contact. */
  readonly contact: ContactSettings | null;
}
