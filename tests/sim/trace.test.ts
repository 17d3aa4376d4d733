import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs, um } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import { contactEdgesOf, openingsOf } from '../../src/world/index.js';
import { experimentOf, traceOf } from '../support/experiments.js';

const lengthMs = 86_400_000;

describe('the trace', () => {
  it('folds the wakes of a quiet day into one, and still counts each', () => {
    const { wakes, tally } = traceOf({ lengthMs });
    expect(wakes.map(({ cause, repeats, periodMs }) => [cause, repeats, periodMs])).toEqual([
      ['power-on', 0, 0],
      ['timer', 477, 180_400],
    ]);
    expect(tally.checks).toBe(479);
    expect(tally.wakes).toEqual({ 'power-on': 1, reset: 0, timer: 478, contact: 0 });
    expect(tally.bootMs).toBe(479 * 400);
  });

  it('shows how memory led to the alert', () => {
    const { wakes } = traceOf({ lengthMs: 600_000, openings: [[150_000, 600_000]] });
    const story = wakes.map(({ check, memoryBefore, memoryAfter }) => ({
      contact: check?.contact,
      decision: check?.decision,
      before: memoryBefore.recentChecks,
      after: memoryAfter.recentChecks,
      coolingDown: memoryAfter.coolingDown,
    }));
    expect(story).toEqual([
      { contact: 'shut', decision: 'none', before: 0, after: 0, coolingDown: false },
      { contact: 'open', decision: 'none', before: 0, after: 1, coolingDown: false },
      { contact: 'open', decision: 'alert', before: 1, after: 3, coolingDown: true },
      { contact: 'open', decision: 'quiet', before: 3, after: 3, coolingDown: true },
    ]);
  });

  it('names the opening that a check truly fell into', () => {
    const { wakes } = traceOf({
      lengthMs: 400_000,
      openings: [
        [100, 200],
        [300, 500],
      ],
    });
    expect(wakes.map(({ check }) => check?.opening)).toEqual([1, null, null]);
  });

  it('folds no two wakes between which the door moved, though the contact read the same', () => {
    // The door creeps to 5 mm: unsealed, and the contact, which needs 12 mm, still reads shut.
    const moves = [
      { atMs: trueMs(1_000_000), gapUm: um(5_000) },
      { atMs: trueMs(2_000_000), gapUm: um(0) },
    ];
    const settings = { operateGapUm: um(8_000), releaseGapUm: um(12_000), bounceMs: trueMs(1) };
    const experiment = experimentOf({ lengthMs: 3_000_000 });
    const world = {
      ...experiment.world,
      openings: openingsOf(moves, um(2_000)),
      contact: contactEdgesOf(moves, settings),
    };
    const { wakes, tally } = simulate({ ...experiment, world });
    expect(wakes.map(({ check, repeats }) => [check?.contact, check?.opening, repeats])).toEqual([
      ['shut', null, 0],
      ['shut', null, 4],
      ['shut', 0, 5],
      ['shut', null, 4],
    ]);
    expect(tally.openChecks).toBe(0);
  });

  it('keeps the wakes of the spans asked for, folded ones that reach into them included', () => {
    const experiment = experimentOf({ lengthMs, openings: [[43_200_000, 43_800_000]] });
    const all = simulate(experiment).wakes;
    const { wakes } = simulate(experiment, { record: [[43_100_000, 43_900_000]] });
    expect(wakes.length).toBeGreaterThan(3);
    expect(all).toEqual(expect.arrayContaining([...wakes]));
    expect(wakes[0]?.wakeMs).toBeLessThan(43_100_000);
    expect(simulate(experiment, { record: [] }).wakes).toEqual([]);
  });

  it('keeps a wake where its beginning, or the last of it that is known, falls into a span', () => {
    // Wakes begin at 0, 180 400, 360 800 and 541 200, each with its check 400 ms later; the door moves between them.
    const openings = [90_000, 270_400, 450_800].map((ms) => [ms, ms + 1] as const);
    const experiment = experimentOf({ lengthMs: 600_000, openings });
    const keptIn = (...record: readonly (readonly [number, number])[]) =>
      simulate(experiment, { record }).wakes.map(({ wakeMs }) => wakeMs);
    expect(keptIn([180_800, 180_801])).toEqual([180_400]);
    expect(keptIn([180_801, 360_800])).toEqual([]);
    expect(keptIn([180_801, 360_801])).toEqual([360_800]);
    expect(keptIn([0, 1], [541_600, 541_601])).toEqual([0, 541_200]);
    expect(keptIn([361_000, 361_000], [361_100, 361_000])).toEqual([]);
  });

  it('keeps a wake that was cut off before its check only where it began', () => {
    // The first boot takes 400 ms and is cut off at 100 ms; power is back at 200 000, and the sleep after it lasts to 380 400.
    const experiment = experimentOf({ lengthMs: 600_000, powerLost: [[100, 200_000]] });
    const keptIn = (fromMs: number, toMs: number) =>
      simulate(experiment, { record: [[fromMs, toMs]] }).wakes.map(({ wakeMs, check }) => [
        wakeMs,
        check?.atMs,
      ]);
    expect(keptIn(0, 1)).toEqual([[0, undefined]]);
    expect(keptIn(1, 200_000)).toEqual([]);
    expect(keptIn(300_000, 300_001)).toEqual([]);
  });

  it('of a device that always has charge knows of no flat battery and of nobody who charges it', () => {
    const { flat, charges, answers } = traceOf({ lengthMs: 600_000 });
    expect({ flat, charges, answers }).toEqual({ flat: [], charges: [], answers: [] });
  });

  it('marks the wake after a reset that cleared memory, and no other', () => {
    const { world, ...rest } = experimentOf({
      lengthMs: 600_000,
      openings: [[0, 600_000]],
      resetsMs: [50_000, 50_200, 100_000],
      powerLost: [[300_000, 310_000]],
    });
    const effect = (clears: boolean) => ({ kind: 'button' as const, clears });
    const resetEffects = [effect(true), effect(true), effect(false)];
    const { wakes } = simulate({ ...rest, world: { ...world, resetEffects } });
    const seen = wakes.map(({ wakeMs, cleared }) => [wakeMs, cleared]);
    // The boot of the first reset is cut short by the second.
    expect(seen.slice(0, 4)).toEqual([
      [0, undefined],
      [50_000, true],
      [50_200, true],
      [100_000, undefined],
    ]);
    expect(seen.slice(4).every(([, cleared]) => cleared === undefined)).toBe(true);
  });

  it('counts the wakes of a device that takes no notice of a heartbeat, due or not', () => {
    const experiment = experimentOf(
      { lengthMs, openings: [[40_000_000, 40_001_000]] },
      { watch: { heartbeats: false, heartbeatIntervalMs: deviceMs(10_000_000) } },
    );
    const all = simulate(experiment);
    expect(all.tally).toEqual(simulate(experimentOf({ lengthMs })).tally);
    expect(simulate(experiment, { record: 'none' }).tally).toEqual(all.tally);
    expect(all.wakes.map(({ check }) => check?.heartbeatDue)).toContain(true);
  });

  it('tells of an alert that was dropped, when and after which attempts', () => {
    const { alerts } = traceOf(
      { lengthMs: 900_000, openings: [[0, 250_000]], networkDown: [[0, 900_000]] },
      { watch: { unsentWhenShut: 'drop' } },
    );
    expect(alerts).toEqual([
      {
        decidedMs: 180_800,
        deliveredMs: null,
        droppedMs: 309_600,
        forgottenMs: null,
        attempts: [
          { startMs: 180_800, endMs: 184_800, outcome: 'failed' },
          { startMs: 245_200, endMs: 249_200, outcome: 'failed' },
        ],
      },
    ]);
  });
});
