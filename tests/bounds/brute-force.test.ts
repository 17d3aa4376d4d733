// For a watch with checks every few milliseconds each phase and each length of an opening can be tried.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { boundsOf, detectionBounds } from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { simulate } from '../../src/sim/index.js';
import { programOf, rangesWith, timingWith, watchWith, worldOf } from '../support/experiments.js';
import { questionOf } from './question.js';

const times = { bootMs: 2, connectMs: 5 };
const timing = timingWith(times);
const ranges = rangesWith(times);

const shortCooldown: Partial<WatchSettings> = { alertCooldownMs: deviceMs(90) };

const watches: readonly (readonly [name: string, watch: Partial<WatchSettings>])[] = [
  ['two in a row', { checkIntervalMs: deviceMs(30), recheckIntervalMs: deviceMs(30) }],
  ['quick rechecks', { checkIntervalMs: deviceMs(37), recheckIntervalMs: deviceMs(11) }],
  [
    'three of four',
    {
      checkIntervalMs: deviceMs(23),
      recheckIntervalMs: deviceMs(17),
      escalationThreshold: { open: 3, outOf: 4 },
      clearThreshold: 2,
    },
  ],
  [
    'woken by the opening',
    { checkIntervalMs: deviceMs(40), recheckIntervalMs: deviceMs(13), wakeOn: 'opening' },
  ],
  [
    'woken by any change',
    { checkIntervalMs: deviceMs(40), recheckIntervalMs: deviceMs(13), wakeOn: 'any-change' },
  ],
];

/** The alert, if any, of one opening at rest. */
function alertOf(watch: Partial<WatchSettings>, fromMs: number, lastsMs: number) {
  const openings: [number, number][] = [[fromMs, fromMs + lastsMs]];
  const world = worldOf({ lengthMs: fromMs + 2_000, openings });
  const program = programOf(watchWith({ ...shortCooldown, ...watch }));
  return simulate({ program, timing, world, seed: '' }, { record: 'none' }).alerts[0];
}

describe('bounds at rest, tried at every phase', () => {
  it.each(watches)('%s', (_, watch) => {
    const bounds = detectionBounds(questionOf({ ...shortCooldown, ...watch }, { timing: ranges }));
    const periodMs = (watch.checkIntervalMs ?? 0) + 2;
    let sureFromMs = 0;
    let quietUpToMs = Number.POSITIVE_INFINITY;
    let worstMs = 0;
    let bestMs = Number.POSITIVE_INFINITY;
    for (let phase = 0; phase < periodMs; phase += 1) {
      const fromMs = 10 * periodMs + phase;
      const endless = alertOf(watch, fromMs, 1_500);
      const decidedMs = (endless?.decidedMs ?? 0) - fromMs;
      const delayMs = (endless?.deliveredMs ?? 0) - fromMs;
      worstMs = Math.max(worstMs, delayMs);
      bestMs = Math.min(bestMs, delayMs);
      for (let lastsMs = 1; lastsMs <= decidedMs + 3; lastsMs += 1) {
        const alerted = alertOf(watch, fromMs, lastsMs) !== undefined;
        if (!alerted) sureFromMs = Math.max(sureFromMs, lastsMs + 1);
        else quietUpToMs = Math.min(quietUpToMs, lastsMs - 1);
      }
    }
    expect(bounds.alwaysReportedFromMs.atRest).toBe(sureFromMs);
    expect(bounds.neverAlarmedUpToMs).toBe(quietUpToMs);
    expect(bounds.worstDelayMs.atRest).toBe(worstMs);
    expect(bounds.bestDelayMs).toBe(bestMs);
  });
});

describe('bounds of checks every three seconds, at every phase to the millisecond', () => {
  const threeSeconds = deviceMs(3_000);
  it.each<readonly [string, Partial<WatchSettings>]>([
    ['the second open check', { checkIntervalMs: threeSeconds, recheckIntervalMs: threeSeconds }],
    [
      'two of three, with quick rechecks',
      {
        checkIntervalMs: threeSeconds,
        recheckIntervalMs: deviceMs(700),
        escalationThreshold: { open: 2, outOf: 3 },
      },
    ],
  ])('%s', (_, watch) => {
    const question = questionOf({ ...shortCooldown, ...watch }, { timing: ranges });
    const bounds = boundsOf(question);
    const periodMs = 3_002;
    const decidedMs: number[] = [];
    let worstMs = 0;
    let bestMs = Number.POSITIVE_INFINITY;
    const program = programOf(watchWith({ ...shortCooldown, ...watch }));
    for (let phase = 0; phase < periodMs; phase += 1) {
      const fromMs = 2 * periodMs + phase;
      const openings: [number, number][] = [[fromMs, fromMs + 9_000]];
      const world = worldOf({ lengthMs: fromMs + 9_000, openings });
      const [alert] = simulate({ program, timing, world, seed: '' }, { record: 'none' }).alerts;
      decidedMs.push((alert?.decidedMs ?? 0) - fromMs);
      worstMs = Math.max(worstMs, (alert?.deliveredMs ?? 0) - fromMs);
      bestMs = Math.min(bestMs, (alert?.deliveredMs ?? 0) - fromMs);
    }
    expect(bounds.alwaysReportedFromMs.atRest).toBe(Math.max(...decidedMs) + 1);
    expect(bounds.neverAlarmedUpToMs).toBe(Math.min(...decidedMs));
    expect(bounds.worstDelayMs.atRest).toBe(worstMs);
    expect(bounds.bestDelayMs).toBe(bestMs);
    // Of the phases, those whose decision falls within the opening; the first and last point are where none, and all do.
    for (const [durationMs, probability] of bounds.detectionCurve) {
      const share = decidedMs.filter((ms) => ms < durationMs).length / periodMs;
      expect(probability).toBeCloseTo(share, 9);
    }
    expect(bounds.detectionCurve.map(([, probability]) => probability)).toEqual([0, 1]);
  });
});
