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
  /** Nothing says what it does: memory is taken to be kept. */
  readonly assumed?: true;
}

const plainReset: ResetEffect = { kind: 'button', clears: false };

/** What a world's reset is, by its place among them. */
export function resetEffectAt(
  { resetEffects }: Pick<World, 'resetEffects'>,
  index: number,
): ResetEffect {
  return resetEffects?.[index] ?? plainReset;
}

/** The same world with every reset clearing memory of which nothing says that it keeps it; null: there is no such reset. */
export function withResetsClearing(world: World): World | null {
  const effects = world.resetEffects ?? [];
  if (!effects.some(({ assumed }) => assumed)) return null;
  const resetEffects = effects.map((effect) =>
    effect.assumed === true ? { kind: effect.kind, clears: true } : effect,
  );
  return { ...world, resetEffects };
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
  /** When the battery counts as low, whatever its charge; absent: by its charge alone. */
  readonly batteryLow?: Spans;
  /** What the battery's voltage reads to a firmware, as pairs of instant and mV, ascending; absent: as when it is full. */
  readonly batteryMv?: readonly number[];
  /** When the device gets its power for the first time. */
  readonly powerOnAtMs: TrueMs;
}
