// One timeline of everything that the device cannot control.
import type { TrueMs } from '../base/index.js';
import type { ContactEdges } from './contact.js';
import type { Spans } from './spans.js';

export interface World {
  /** The timeline is `[0, lengthMs)`. */
  readonly lengthMs: TrueMs;
  /** The truth. An opening that is not over by the end of the timeline has `Infinity` as its end. */
  readonly openings: Spans;
  readonly contact: ContactEdges;
  readonly networkDown: Spans;
  readonly powerLost: Spans;
  /** Instants at which somebody (or a watchdog) resets the device, ascending, no two alike. */
  readonly resetsMs: Float64Array;
  /** Instants at which somebody charges the battery, at once and fully; absent: never. */
  readonly chargedMs?: Float64Array;
  /** When the device gets its power for the first time. */
  readonly powerOnAtMs: TrueMs;
}
