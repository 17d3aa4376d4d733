// A course's world taken apart into what can be left out of it or moved, and put together again.
import { trueMs } from '../../base/index.js';
import {
  type ContactFault,
  type DeviceTiming,
  idealContactEdges,
  noSpans,
  type ResetEffect,
  resetEffectAt,
  type Spans,
  spansOf,
  withFaults,
} from '../../world/index.js';
import type { CourseWorld } from '../answer.js';

export type Span = readonly [fromMs: number, toMs: number];

export interface Scene {
  readonly lengthMs: number;
  readonly powerOnAtMs: number;
  /** Ascending; the last is the one in question. */
  readonly openings: readonly Span[];
  readonly networkDown: readonly Span[];
  readonly powerLost: readonly Span[];
  /** When the battery counts as low. */
  readonly batteryLow: readonly Span[];
  readonly resets: readonly (ResetEffect & { readonly atMs: number })[];
  readonly contactFaults: readonly ContactFault[];
  readonly timing: DeviceTiming;
}

function pairsOf({ fromMs, toMs }: Spans): Span[] {
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? Number.POSITIVE_INFINITY]);
}

export function sceneOf({ world, timing, contactFaults }: CourseWorld): Scene {
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

export function worldOf(scene: Scene): CourseWorld {
  const openings = spansOf(scene.openings);
  const { contactFaults, timing } = scene;
  return {
    world: {
      lengthMs: trueMs(scene.lengthMs),
      openings,
      contact: withFaults(idealContactEdges(openings), contactFaults, ''),
      networkDown: spansOf(scene.networkDown),
      powerLost: spansOf(scene.powerLost),
      resetsMs: Float64Array.from(scene.resets, ({ atMs }) => atMs),
      resetEffects: scene.resets.map(({ kind, clears }) => ({ kind, clears })),
      powerOnAtMs: trueMs(scene.powerOnAtMs),
      ...(scene.batteryLow.length === 0 ? {} : { batteryLow: spansOf(scene.batteryLow) }),
    },
    timing,
    contactFaults,
  };
}
