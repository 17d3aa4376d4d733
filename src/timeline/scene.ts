// What happens around a device, taken apart into what can be left out or moved, and put together again.
import { trueMs } from '../base/index.js';
import {
  type ContactFault,
  type ContactSettings,
  type DeviceTiming,
  idealContactEdges,
  noSpans,
  type ResetEffect,
  resetEffectAt,
  type Spans,
  spansOf,
  type World,
  withBounce,
  withFaults,
} from '../world/index.js';

/** From an instant up to, and without, another; `Infinity` for one that never ends. */
export type Span = readonly [fromMs: number, toMs: number];

export interface Scene {
  readonly lengthMs: number;
  /** When the device gets its power for the first time. */
  readonly powerOnAtMs: number;
  /** Openings, ascending, with the door shut between them. */
  readonly openings: readonly Span[];
  readonly networkDown: readonly Span[];
  readonly powerLost: readonly Span[];
  /** When the battery counts as low. */
  readonly batteryLow: readonly Span[];
  /** Ascending, no two at one instant. */
  readonly resets: readonly (ResetEffect & { readonly atMs: number })[];
  /** Ascending, without overlap. */
  readonly contactFaults: readonly ContactFault[];
  /** The device's times in it, each value written out. */
  readonly timing: DeviceTiming;
}

function pairsOf({ fromMs, toMs }: Spans): Span[] {
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? Number.POSITIVE_INFINITY]);
}

/** A world whose contact is ideal but for its faults, in parts. */
export function partsOfWorld({
  world,
  timing,
  contactFaults,
}: {
  readonly world: World;
  readonly timing: DeviceTiming;
  readonly contactFaults: readonly ContactFault[];
}): Scene {
  return {
    lengthMs: world.lengthMs,
    powerOnAtMs: world.powerOnAtMs,
    openings: pairsOf(world.openings),
    networkDown: pairsOf(world.networkDown),
    powerLost: pairsOf(world.powerLost),
    batteryLow: pairsOf(world.batteryLow ?? noSpans),
    resets: Array.from(world.resetsMs, (atMs, index) => ({ atMs, ...resetEffectAt(world, index) })),
    contactFaults,
    timing,
  };
}

/** @param contact null: ideal. @param seed of the readings of a chattering contact. */
export function worldOfScene(scene: Scene, contact: ContactSettings | null, seed: string): World {
  const openings = spansOf(scene.openings);
  const edges = idealContactEdges(openings);
  const bounced = contact === null ? edges : withBounce(edges, contact.bounceMs);
  return {
    lengthMs: trueMs(scene.lengthMs),
    openings,
    contact: withFaults(bounced, scene.contactFaults, seed),
    networkDown: spansOf(scene.networkDown),
    powerLost: spansOf(scene.powerLost),
    resetsMs: Float64Array.from(scene.resets, ({ atMs }) => atMs),
    resetEffects: scene.resets.map(({ atMs: _, ...effect }) => effect),
    powerOnAtMs: trueMs(scene.powerOnAtMs),
    ...(scene.batteryLow.length === 0 ? {} : { batteryLow: spansOf(scene.batteryLow) }),
  };
}

/** The timeline up to `lengthMs`: what ends beyond it does not end. */
export function cutAt(scene: Scene, lengthMs: number): Scene {
  const cut = (spans: readonly Span[]): Span[] =>
    spans
      .filter(([fromMs]) => fromMs < lengthMs)
      .map(([fromMs, toMs]) => [fromMs, toMs > lengthMs ? Number.POSITIVE_INFINITY : toMs]);
  return {
    ...scene,
    lengthMs,
    openings: cut(scene.openings),
    networkDown: cut(scene.networkDown),
    powerLost: cut(scene.powerLost),
    batteryLow: cut(scene.batteryLow),
    resets: scene.resets.filter(({ atMs }) => atMs < lengthMs),
    contactFaults: scene.contactFaults
      .filter(({ fromMs }) => fromMs < lengthMs)
      .map((fault) => ({ ...fault, toMs: trueMs(Math.min(fault.toMs, lengthMs)) })),
  };
}

/** Everything from an instant on happens so much later, or sooner where `byMs` is below 0. */
export function shiftedFrom(scene: Scene, fromMs: number, byMs: number): Scene {
  const at = (ms: number): number => (ms >= fromMs ? ms + byMs : ms);
  const both = (spans: readonly Span[]): Span[] => spans.map(([from, to]) => [at(from), at(to)]);
  return {
    ...scene,
    openings: both(scene.openings),
    networkDown: both(scene.networkDown),
    powerLost: both(scene.powerLost),
    batteryLow: both(scene.batteryLow),
    resets: scene.resets.map((reset) => ({ ...reset, atMs: at(reset.atMs) })),
    contactFaults: scene.contactFaults.map((fault) => ({
      ...fault,
      fromMs: trueMs(at(fault.fromMs)),
      toMs: trueMs(at(fault.toMs)),
    })),
  };
}

/** As much of a span as is in the timeline. */
export function spanLengthMs([fromMs, toMs]: Span, { lengthMs }: Scene): number {
  return Math.min(toMs, lengthMs) - fromMs;
}

/** The parts of a scene that are lists. */
export const sceneParts = [
  ...(['contactFaults', 'batteryLow', 'powerLost'] as const),
  ...(['resets', 'networkDown', 'openings'] as const),
] as const;

/** Of the contact's faults, as of everything else. */
export function faultSpans({ contactFaults }: Scene): readonly Span[] {
  return contactFaults.map(({ fromMs, toMs }): Span => [fromMs, toMs]);
}

/** Everything with a beginning and an end. */
export function spansIn(scene: Scene): readonly Span[] {
  const { openings, networkDown, powerLost, batteryLow } = scene;
  return [...openings, ...networkDown, ...powerLost, ...batteryLow, ...faultSpans(scene)];
}

/** Every instant at which something changes, ascending. */
export function instantsIn(scene: Scene): readonly number[] {
  const edges = spansIn(scene).flat().filter(Number.isFinite);
  const resets = scene.resets.map(({ atMs }) => atMs);
  return [...new Set([...edges, ...resets])].sort((a, b) => a - b);
}
