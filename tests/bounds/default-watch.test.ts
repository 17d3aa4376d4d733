// The watch of an owner who sets nothing, by worked numbers (P = S = 120.4 s, two open checks), and the one that `init` writes.
import { describe, expect, it } from 'vitest';
import { boundsOf, questionOf } from '../../src/bounds/index.js';
import {
  defaultWatchFile,
  parseWatchFile,
  starterWatchText,
  type WatchFile,
} from '../../src/scenarios/index.js';
import { phases, sweep } from '../published/sweep.js';
import { tableOf } from '../support/experiments.js';

const periodMs = 120_400;
const connectMs = 4_000;

function proved(file: WatchFile) {
  return boundsOf(questionOf(file, { table: tableOf(file.watch), ownLogic: false }));
}

describe('the default watch', () => {
  const bounds = proved(defaultWatchFile());

  it('is sure from 240.8 s, quiet up to 120.4 s, and reports within 124.4 s to 244.799 s', () => {
    expect(bounds.alwaysReportedFromMs.atRest).toBe(240_800);
    expect(bounds.neverAlarmedUpToMs).toBe(120_400);
    expect(bounds.worstDelayMs.atRest).toBe(244_799);
    expect(bounds.bestDelayMs).toBe(124_400);
  });

  it('does not keep its 3 min at rest, and is sure of 5 min', () => {
    expect(bounds.holds.leaveOpenAfter.atRest).toBe(false);
    const five = parseWatchFile('judge: { leaveOpenAfter: 5m }', 'watch.yaml');
    expect(five.ok && proved(five.value).holds.leaveOpenAfter.atRest).toBe(true);
  });

  it('has a detection curve from 0 at 120.4 s to 1 at 240.8 s: 0.49502 at 180 s', () => {
    expect(bounds.detectionCurve).toEqual([
      [120_400, 0],
      [240_800, 1],
    ]);
    expect((180_000 - 120_400) / periodMs).toBeCloseTo(0.49502, 5);
  });

  it('reports an opening of 180 s at 59,600 of 120,400 phases, after 124.4 s to 183.999 s', () => {
    const delays = delaysOf(180_000, 1);
    const reported = delays.filter((ms) => ms !== null);
    expect([reported.length, delays.length]).toEqual([59_600, 120_400]);
    let [least, greatest] = [Number.POSITIVE_INFINITY, 0];
    for (const ms of reported) {
      least = Math.min(least, ms);
      greatest = Math.max(greatest, ms);
    }
    expect([least, greatest]).toEqual([124_400, 183_999]);
  });

  it('reports an opening of 120 s at no phase, and one of 5 min at every one', () => {
    expect(delaysOf(120_000, 50).every((ms) => ms === null)).toBe(true);
    expect(delaysOf(300_000, 50).every((ms) => ms !== null)).toBe(true);
  });
});

/** For each phase of the checks: how long after it opened the door was reported, or null. */
function delaysOf(openForMs: number, stepMs: number): (number | null)[] {
  const { watch } = defaultWatchFile();
  const fromMs = 2 * periodMs;
  const traces = sweep({
    openings: [[fromMs, fromMs + openForMs]],
    lengthMs: fromMs + openForMs + 2 * periodMs,
    phasesMs: phases(periodMs, stepMs),
    watch,
  });
  return Array.from(traces, ({ alerts: [alert] }) => {
    const deliveredMs = alert?.deliveredMs ?? null;
    return deliveredMs === null ? null : deliveredMs - fromMs;
  });
}

describe('the watch that init writes', () => {
  it('meets its own requirements at rest: sure from 170.8 s, quiet up to 50.4 s', () => {
    const read = parseWatchFile(starterWatchText(), 'watch.yaml');
    if (!read.ok) throw new Error('it can be read');
    const bounds = proved(read.value);
    expect(bounds.alwaysReportedFromMs.atRest).toBe(120_400 + 50_400);
    expect(bounds.neverAlarmedUpToMs).toBe(50_400);
    expect(bounds.worstDelayMs.atRest).toBe(170_800 + connectMs - 1);
    expect(bounds.holds).toMatchObject({
      leaveOpenAfter: { atRest: true },
      reportWithin: { atRest: true },
      quietUpTo: { atRest: true },
    });
  });
});
