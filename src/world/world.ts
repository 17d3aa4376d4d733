// One timeline of everything that the device cannot control.
import type { TrueMs } from '../base/index.js';
import type { ResetKind } from '../model/index.js';
import type { ContactEdges } from './contact.js';
import type { Spans } from './spans.js';

/** A reset as this device takes it. */
export interface ResetEffect {
  readonly kind: ResetKind;
  /** Retained memory takes its initial values. */
  readonly clears: boolean;
}

const plainReset: ResetEffect = { kind: 'button', clears: false };

/** What a world's reset is, by its place among them. */
export function resetEffectAt(
  { resetEffects }: Pick<World, 'resetEffects'>,
  index: number,
): ResetEffect {
  return resetEffects?.[index] ?? plainReset;
}

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
  /** What each of these resets is. Absent: all are by button and keep memory. */
  readonly resetEffects?: readonly ResetEffect[];
  /** Instants at which somebody charges the battery, at once and fully; absent: never. */
  readonly chargedMs?: Float64Array;
  /** When the device gets its power for the first time. */
  readonly powerOnAtMs: TrueMs;
}
