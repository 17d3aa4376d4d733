// A contact that bounces, with a bounce of a few milliseconds that may read anything: every phase of an opening, every length that matters
// and every reading within the bounce is tried, and what is called met must hold in all of them.
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs, um } from '../../src/base/index.js';
import {
  type BoundsQuestion,
  bounceMarginsOf,
  detectionBounds,
  provedOf,
  quietInSpiteOf,
} from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { simulate } from '../../src/sim/index.js';
import { programOf, rangesWith, timingWith, watchWith, worldOf } from '../support/experiments.js';
import { questionOf } from './question.js';

const bounceMs = 4;
const connectMs = 5;
const allReadings = Array.from({ length: 2 ** bounceMs }, (_, bits) => bits);

/** What a contact reads that bounces after both moves of the door; a bit each millisecond: 1 reads as the door is. */
function edgesOf(fromMs: number, toMs: number, opening: number, shutting: number): Float64Array {
  const edges: number[] = [];
  for (let atMs = fromMs; atMs <= toMs + bounceMs; atMs += 1) {
    const sinceMs = atMs - fromMs;
    const shutMs = atMs - toMs;
    const reads =
      shutMs >= 0
        ? shutMs < bounceMs && (shutting & (1 << shutMs)) === 0
        : sinceMs >= bounceMs || (opening & (1 << sinceMs)) !== 0;
    if (reads !== ((edges.length & 1) === 1)) edges.push(atMs);
  }
  return Float64Array.from(edges);
}

interface Tried {
  readonly watch: Partial<WatchSettings>;
  readonly bootMs: number;
}

function bouncing({ watch, bootMs }: Tried): BoundsQuestion {
  const timing = rangesWith({ bootMs, connectMs });
  const contact = { operateGapUm: um(1_000), releaseGapUm: um(1_000), bounceMs: trueMs(bounceMs) };
  return { ...questionOf(watch, { timing }), contact };
}

/** The bounds at rest, by trying. */
function triedBounds({ watch, bootMs }: Tried) {
  const program = programOf(watchWith(watch));
  const timing = timingWith({ bootMs, connectMs });
  const alertOf = (fromMs: number, toMs: number, readings: readonly [number, number]) => {
    const world = worldOf({ lengthMs: toMs + 400, openings: [[fromMs, toMs]] });
    const contact = edgesOf(fromMs, toMs, ...readings);
    const run = { program, timing, world: { ...world, contact }, seed: '' };
    return simulate(run, { record: 'none' }).alerts[0];
  };
  const periodMs = (watch.checkIntervalMs ?? 0) + bootMs;
  const found = { sureFromMs: 0, worstMs: 0, quietUpToMs: Number.POSITIVE_INFINITY };
  for (let fromMs = 6 * periodMs; fromMs < 7 * periodMs; fromMs += 1) {
    for (const opening of allReadings) {
      const alert = alertOf(fromMs, fromMs + 600, [opening, 0]);
      const decidedMs = (alert?.decidedMs ?? Number.NaN) - fromMs;
      found.sureFromMs = Math.max(found.sureFromMs, decidedMs + 1);
      found.worstMs = Math.max(found.worstMs, (alert?.deliveredMs ?? Number.NaN) - fromMs);
      for (let lastsMs = Math.max(1, decidedMs - bounceMs); lastsMs <= decidedMs; lastsMs += 1) {
        // The bounce of an opening that is over sooner is cut short.
        const cut = opening & (2 ** Math.min(bounceMs, lastsMs) - 1);
        const alerts = allReadings.some((shutting) =>
          alertOf(fromMs, fromMs + lastsMs, [cut, shutting]),
        );
        if (!alerts) continue;
        found.quietUpToMs = Math.min(found.quietUpToMs, lastsMs - 1);
        break;
      }
    }
  }
  return found;
}

const quick = {
  checkIntervalMs: deviceMs(40),
  recheckIntervalMs: deviceMs(13),
  alertCooldownMs: deviceMs(90),
};
const three = { escalationThreshold: { open: 3, outOf: 3 } };
const some = { escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 };

describe('a contact that bounces', () => {
  it.each<readonly [string, Tried]>([
    ['woken by its timer', { watch: quick, bootMs: 5 }],
    ['woken by its timer, two of three', { watch: { ...quick, ...some }, bootMs: 2 }],
    ['woken by the opening', { watch: { ...quick, wakeOn: 'opening' }, bootMs: 5 }],
    [
      'three, woken by the opening',
      { watch: { ...quick, ...three, wakeOn: 'opening' }, bootMs: 4 },
    ],
    ['woken by any change', { watch: { ...quick, wakeOn: 'any-change' }, bootMs: 5 }],
    [
      'three, woken by any change',
      { watch: { ...quick, ...three, wakeOn: 'any-change' }, bootMs: 5 },
    ],
    [
      'two of three, woken by any change',
      { watch: { ...quick, ...some, wakeOn: 'any-change' }, bootMs: 4 },
    ],
  ])('takes from the bounds what it is said to take, and not more: %s', (_, tried) => {
    const question = bouncing(tried);
    const bounds = detectionBounds(question);
    const margins = bounceMarginsOf(question);
    const found = triedBounds(tried);
    expect(found.sureFromMs).toBe(
      (bounds.alwaysReportedFromMs.atRest ?? 0) + margins.lateMs.atRest,
    );
    expect(found.worstMs).toBe((bounds.worstDelayMs.atRest ?? 0) + margins.lateMs.atRest);
    const shownMs = quietInSpiteOf(margins, bounds.neverAlarmedUpToMs);
    expect(shownMs).toBeGreaterThan(0);
    expect(found.quietUpToMs).toBeGreaterThanOrEqual(shownMs);
    // A device that wakes at openings alone is woken a millisecond later.
    expect(found.quietUpToMs).toBeLessThanOrEqual(shownMs + 1);
  });

  it('leaves quietUpTo open where it is longer than the shortest boot, and such an opening does raise an alert', () => {
    const tried: Tried = { watch: { ...quick, ...three, wakeOn: 'any-change' }, bootMs: 2 };
    const question = bouncing(tried);
    const { neverAlarmedUpToMs } = detectionBounds(question);
    expect(quietInSpiteOf(bounceMarginsOf(question), neverAlarmedUpToMs)).toBe(0);
    expect(triedBounds(tried).quietUpToMs).toBeLessThan(neverAlarmedUpToMs / 2);
  });

  it('meets a requirement only with that to spare, and fails it only without any bounce', () => {
    const question = bouncing({ watch: { ...quick, wakeOn: 'opening' }, bootMs: 5 });
    const bounds = detectionBounds(question);
    const margins = bounceMarginsOf(question);
    const sureMs = bounds.alwaysReportedFromMs.atRest ?? 0;
    const lateMs = margins.lateMs.atRest;
    const quietMs = bounds.neverAlarmedUpToMs;
    const shownMs = quietInSpiteOf(margins, quietMs);
    const heldBy = (leaveOpenAfterMs: number, quietUpToMs: number) => {
      const judge = {
        leaveOpenAfterMs: trueMs(leaveOpenAfterMs),
        reportWithinMs: null,
        quietUpToMs: trueMs(quietUpToMs),
      };
      const { holds, atRest } = provedOf({ ...question, judge });
      return [holds.leaveOpenAfter.atRest, holds.quietUpTo.atRest, atRest];
    };
    expect(heldBy(sureMs + lateMs, shownMs)).toEqual([true, true, true]);
    expect(heldBy(sureMs + lateMs, shownMs + 1)).toEqual([true, null, null]);
    expect(heldBy(sureMs + lateMs - 1, shownMs)).toEqual([null, true, null]);
    expect(heldBy(sureMs, quietMs)).toEqual([null, null, null]);
    expect(heldBy(sureMs - 1, quietMs + 1)).toEqual([false, false, false]);
    const ideal = { ...question, contact: null };
    expect(
      provedOf({ ...ideal, judge: { ...ideal.judge, leaveOpenAfterMs: trueMs(sureMs) } }).atRest,
    ).toBe(true);
  });
});
