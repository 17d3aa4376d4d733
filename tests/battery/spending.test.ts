// What a run takes from its charge: each activity by hand, and the closed form against the simulation.

import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import {
  type Activity,
  costOf,
  isFlatBeforeEnd,
  isTooShort,
  lastsAtMs,
  lifeMs,
  meanNa,
  quietUse,
  spend,
  useOf,
} from '../../src/battery/index.js';
import { type SupplySettings } from '../../src/model/index.js';
import { pricesOf, simulate } from '../../src/sim/index.js';
import {
  experimentOf,
  plainWatch,
  rangesWith,
  timingWith,
  watchWith,
} from '../support/experiments.js';
import { supplyWith } from './supplies.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const periodMs = 180_400;
const board = supplyWith(`{
  capacity: 600mAh, sleepCurrent: 150uA, boot: { current: 31mA }, connect: { current: 59mA },
  blink: { current: 5mA, time: 200ms }, hold: { current: 32mA },
  failedAttempt: { charge: 20mC }, heartbeat: { charge: 3.8mC },
  contactBias: { resistance: 45kOhm }, selfDischarge: { perMonth: 3% } }`);

function useOfRun(...given: Parameters<typeof experimentOf>) {
  const experiment = experimentOf(...given);
  return useOf(simulate(experiment, { record: 'none' }), experiment.world);
}

function chargeOf(use: ReturnType<typeof useOfRun>, activity: Activity, supply = board): bigint {
  return spend(use, supply).parts.find((part) => part.activity === activity)?.chargePc ?? -1n;
}

describe('a quiet door in closed form', () => {
  it('is what the simulation takes over whole cycles, to the last pC', () => {
    const cycles = 1_000;
    const run = spend(useOfRun({ lengthMs: cycles * periodMs }), board);
    const use = quietUse(plainWatch, rangesWith({}));
    const checks = BigInt(use.checks);
    const closed = spend(use, board);
    for (const [index, { activity, chargePc }] of closed.parts.entries()) {
      // Both stand for the same rate. Self-discharge alone is rounded, once in each.
      const slack = activity === 'selfDischarge' ? checks : 0n;
      const difference = checks * (run.parts[index]?.chargePc ?? 0n) - BigInt(cycles) * chargePc;
      expect(difference <= slack && difference >= -slack, activity).toBe(true);
    }
  });

  it('counts a heartbeat at the first check that it is due at', () => {
    for (const beatMs of [hourMs, 6 * hourMs + 1, dayMs]) {
      const heartbeatIntervalMs = deviceMs(beatMs);
      const watch = { heartbeats: true, heartbeatIntervalMs };
      const times = { bootMs: 700, connectMs: 3_000, errorPpm: -1_500 };
      const timing = timingWith(times);
      const closed = quietUse(watchWith(watch), rangesWith(times));
      const beats = closed.heartbeats.count;
      const cycleMs = closed.lengthMs / beats;
      const checks = closed.checks / beats;
      const run = useOfRun({ lengthMs: 500 * cycleMs }, { watch, timing });
      expect(Math.abs(run.heartbeats.count - 500)).toBeLessThanOrEqual(1);
      expect(Math.abs(run.boots.count - 500 * checks)).toBeLessThanOrEqual(2 * checks);
      expect(meanNa(spend(run, board))).toBeCloseTo(meanNa(spend(closed, board)), -4);
    }
  });

  it('lives longer the less often it checks', () => {
    const lives = [10, 60, 180, 600, 3_600, 86_400].map((seconds) => {
      const use = quietUse(
        watchWith({ checkIntervalMs: deviceMs(seconds * 1_000) }),
        rangesWith({}),
      );
      return lifeMs(spend(use, board), board) ?? 0;
    });
    expect(lives).toEqual([...lives].sort((a, b) => a - b));
    expect(new Set(lives).size).toBe(lives.length);
  });
});

describe('a run, activity by activity', () => {
  // Open checks at 180.4 s + k × period; alert decided on the second, sent in 4 s, then a cooldown.
  const openings = [[1_000, 400_000]] as const;

  it('counts blinks, sends and the time that the contact was closed', () => {
    const use = useOfRun({ lengthMs: hourMs, openings });
    expect(use.openChecks).toBe(2);
    expect(use.sends).toEqual({ count: 1, ms: 4_000 });
    expect(use.contactShutMs).toBe(hourMs - 399_000);
    expect(chargeOf(use, 'blink')).toBe(2n * 200n * 5_000_000n);
    expect(chargeOf(use, 'connect')).toBe(4_000n * 59_000_000n);
    expect(chargeOf(use, 'contactBias')).toBe(BigInt(hourMs - 399_000) * 73_333n);
    expect(chargeOf(use, 'boot')).toBe(BigInt(use.boots.ms) * 31_000_000n);
  });

  it('prices failed attempts apart from the one that gets through', () => {
    const use = useOfRun({ lengthMs: hourMs, openings, networkDown: [[0, 600_000]] });
    expect(use.failedSends.count).toBeGreaterThan(2);
    expect(use.failedSends.ms).toBe(use.failedSends.count * 4_000);
    expect(use.sends.count).toBe(1);
    expect(chargeOf(use, 'failedAttempt')).toBe(BigInt(use.failedSends.count) * 20_000_000_000n);
  });

  it('takes a failed attempt and a heartbeat for a send where nobody says otherwise', () => {
    const { connect, failedAttempt, heartbeat } = supplyWith(
      '{ capacity: 1mAh, sleepCurrent: 1uA, connect: { current: 90mA, time: 3s } }',
    );
    expect([failedAttempt, heartbeat]).toEqual([connect, connect]);
  });

  it('takes nothing through the device while there is no power, and still discharges itself', () => {
    const use = useOfRun({ lengthMs: dayMs, powerLost: [[hourMs, 23 * hourMs]] });
    expect(use.offMs).toBe(22 * hourMs);
    expect(use.contactShutMs).toBe(2 * hourMs);
    expect(chargeOf(use, 'sleep')).toBe(BigInt(2 * hourMs - use.boots.ms) * 150_000n);
    expect(chargeOf(use, 'selfDischarge')).toBe((600_000_000n * 3_600_000n * 3n) / 3_000n);
  });

  it.each([
    ['it is switched on then', { powerOnAtMs: 6 * hourMs }],
    ['there is no power before', { powerLost: [[0, 6 * hourMs]] as const }],
    ['both', { powerOnAtMs: 5 * hourMs, powerLost: [[4 * hourMs, 6 * hourMs]] as const }],
  ])('begins with the first power-on: %s', (_, on) => {
    const later = useOfRun({ lengthMs: dayMs, openings: [[7 * hourMs, 8 * hourMs]], ...on });
    const soon = useOfRun({ lengthMs: 18 * hourMs, openings: [[hourMs, 2 * hourMs]] });
    expect(later).toEqual({ ...soon, beforePowerOnMs: 6 * hourMs });
    expect(costOf(later, board).lifeMs).toBe(costOf(soon, board).lifeMs);
  });

  it('has no average of usual days under a day, but for one that powers on within its first half', () => {
    const cost = costOf(quietUse(plainWatch, rangesWith({})), board);
    const short = (lengthMs: number, beforePowerOnMs: number): boolean =>
      isTooShort({ ...cost, lengthMs, beforePowerOnMs });
    expect([short(dayMs, 0), short(12 * hourMs, 12 * hourMs)]).toEqual([false, false]);
    expect([short(dayMs - 1, 0), short(12 * hourMs - 1, 30 * hourMs)]).toEqual([true, true]);
  });

  it('accounts for every millisecond: asleep, at work, or off', () => {
    const use = useOfRun(
      {
        lengthMs: dayMs,
        openings: [[hourMs, 3 * hourMs]],
        networkDown: [[hourMs, 2 * hourMs]],
        powerLost: [[5 * hourMs, 6 * hourMs]],
        resetsMs: [7 * hourMs],
      },
      { watch: { heartbeats: true, heartbeatIntervalMs: deviceMs(hourMs) } },
    );
    const { parts, totalPc } = spend(use, board);
    const asleepMs = parts.find(({ activity }) => activity === 'sleep')?.timeMs ?? 0;
    const { boots, sends, failedSends, heartbeats } = use;
    const atWorkMs = boots.ms + sends.ms + failedSends.ms + heartbeats.ms + use.heldMs;
    expect(asleepMs + atWorkMs + use.offMs).toBe(dayMs);
    expect(parts.reduce((sum, { chargePc }) => sum + chargePc, 0n)).toBe(totalPc);
    const cost = costOf(use, board);
    const shares = cost.parts.reduce((sum, { sharePpm }) => sum + sharePpm, 0);
    expect(Math.abs(shares - 1_000_000)).toBeLessThanOrEqual(cost.parts.length);
  });

  it('that idles after its alert is flat in 600 mAh ÷ 32 mA: 18 h 45 min', () => {
    const use = useOfRun(
      { lengthMs: dayMs, openings: [[1_000, dayMs]] },
      { watch: { afterAlert: 'hold-until-reset' } },
    );
    expect(use.heldMs).toBeGreaterThan(23 * hourMs);
    expect(lastsAtMs(32_000_000, board)).toBe(18 * hourMs + 45 * 60_000);
    const cost = costOf(use, board);
    expect(cost.heldMs).toBe(use.heldMs);
    expect(isFlatBeforeEnd(cost)).toBe(true);
    expect(isFlatBeforeEnd(costOf({ ...use, heldMs: 0 }, board))).toBe(false);
  });
});

describe('the contact', () => {
  const always = { resistanceOhm: 10_000, voltageMv: 3_300, powered: 'always' } as const;

  it('powered for the check alone conducts from wakes to checks that read shut', () => {
    const use = useOfRun({ lengthMs: 100 * periodMs, openings: [[0, 50 * periodMs]] });
    const supply: SupplySettings = { ...board, contactBias: { ...always, powered: 'check-only' } };
    expect(chargeOf(use, 'contactBias', supply)).toBe(50n * 400n * 330_000n);
    expect(chargeOf(use, 'contactBias', { ...board, contactBias: always })).toBe(
      BigInt(50 * periodMs) * 330_000n,
    );
  });

  // By hand from input current = output voltage × current ÷ (cell voltage × efficiency): 3.3 V over 45 kΩ is 73,333 nA, and
  // 3.3 V × 73,333 nA ÷ (3.0 V × 0.8) = 100,833 nA; at 0.4 it is 201,666 nA. A linear regulator passes the current on.
  it.each([
    ['{ kind: boost, quiescent: 6uA, efficiency: 80% }', 100_833n],
    ['{ kind: boost, quiescent: 6uA, efficiency: 40% }', 201_666n],
    ['{ kind: linear, quiescent: 6uA }', 73_333n],
    // 2.5 V over 45 kΩ.
    ['{ kind: linear, quiescent: 6uA, voltage: 2.5V }', 55_556n],
  ])('through a regulator %s takes %d nA from the cells', (regulator, na) => {
    const use = useOfRun({ lengthMs: 100 * periodMs, openings: [[0, 50 * periodMs]] });
    const supply = supplyWith(
      `{ cells: lithium-aa, series: 2, sleepCurrent: 5uA, regulator: ${regulator}, contactBias: { resistance: 45kOhm } }`,
    );
    expect(chargeOf(use, 'contactBias', supply)).toBe(BigInt(50 * periodMs) * na);
    // The run that drains its supply takes as much: 720 million grains are one pC.
    expect(pricesOf(supply).biasPerMs).toBe(na * 720_000_000n);
  });

  it('pulls up to what the regulator gives, unless the file says another voltage', () => {
    const biasOf = (regulator: string, voltage = '') =>
      supplyWith(
        `{ sleepCurrent: 5uA, ${regulator}, contactBias: { resistance: 45kOhm${voltage} } }`,
      ).contactBias?.voltageMv;
    const low =
      'cells: alkaline-aa, series: 2, regulator: { kind: buck, quiescent: 1uA, efficiency: 90%, voltage: 1.8V }';
    const usual =
      'cells: alkaline-aa, series: 2, regulator: { kind: boost, quiescent: 1uA, efficiency: 90% }';
    expect(biasOf('capacity: 600mAh')).toBe(3_300);
    expect(biasOf(usual)).toBe(3_300);
    expect(biasOf(low)).toBe(1_800);
    expect(biasOf(low, ', voltage: 3V')).toBe(3_000);
  });
});
