// Far from empty a run does not look at its charge: it reckons how long that must last. Batteries of one draw, with lengths chosen
// such that reckoning a little too long would miss the end: a sleep or a send too short, a wake too seldom.
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm, trueMs } from '../../src/base/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import type { SupplySettings } from '../../src/model/index.js';
import { simulate } from '../../src/sim/index.js';
import type { ClockError } from '../../src/world/index.js';
import { undrained } from '../battery/supplies.js';
import { experimentOf, timingWith, type WorldNumbers } from '../support/experiments.js';

const dayMs = 86_400_000;
const sleepMs = 180_000;

/** A device that boots and connects in no time, so that it only sleeps. */
const onlySleeps = timingWith({ bootMs: 0, connectMs: 0 });

interface Given {
  readonly watch?: Partial<WatchSettings>;
  readonly clockError?: ClockError;
  readonly timing?: ReturnType<typeof timingWith>;
  readonly chargedMs?: readonly number[];
}

/** When the charge ends. */
function flatOf(world: WorldNumbers, supply: SupplySettings, given: Given = {}): number[] {
  const { watch = {}, timing = onlySleeps, clockError = timing.clockError, chargedMs } = given;
  const plain = experimentOf(world, { watch, timing: { ...timing, clockError } });
  const charged = chargedMs === undefined ? {} : { chargedMs: Float64Array.from(chargedMs) };
  const { flat } = simulate({
    ...plain,
    world: { ...plain.world, ...charged },
    charge: { supply, charging: { everyMs: null } },
  });
  return flat.map(({ fromMs }) => fromMs);
}

/** Lasts for this time asleep: 1 mA takes one nAh in 3.6 ms. */
function sleepsFor(ms: number): SupplySettings {
  return { ...undrained(ms / 3.6), sleepNa: 1_000_000 };
}

/** Lasts for this many boots. */
function bootsFor(count: number): SupplySettings {
  return { ...undrained(count), boot: { kind: 'charge', chargePc: 3_600_000 } };
}

describe('a charge that ends', () => {
  it('as a sleep does', () => {
    expect(flatOf({ lengthMs: dayMs }, sleepsFor(100 * sleepMs))).toEqual([100 * sleepMs]);
  });

  it('just as somebody charges it goes on', () => {
    const given = { chargedMs: [100 * sleepMs] };
    expect(flatOf({ lengthMs: dayMs }, sleepsFor(100 * sleepMs), given)).toEqual([200 * sleepMs]);
  });

  it('late in a sleep that a slow clock stretches', () => {
    const slowMs = 252_000;
    const endMs = 99.9 * slowMs;
    const clockError = { kind: 'fixed', ppm: ppm(400_000) } as const;
    expect(flatOf({ lengthMs: dayMs }, sleepsFor(endMs), { clockError })).toEqual([endMs]);
  });

  it('in a sleep far longer than all others', () => {
    const sleeps = Array.from({ length: 10 }, () => trueMs(sleepMs));
    const clockError = { kind: 'sleeps', ms: [...sleeps, trueMs(dayMs)] } as const;
    const endMs = 50 * sleepMs;
    expect(flatOf({ lengthMs: dayMs }, sleepsFor(endMs), { clockError })).toEqual([endMs]);
  });

  it('in a boot after sleeps far shorter than all others', () => {
    const ms = Array.from({ length: 200 }, () => trueMs(1_000));
    expect(
      flatOf({ lengthMs: dayMs }, bootsFor(150), { clockError: { kind: 'sleeps', ms } }),
    ).toEqual([149 * 1_000 + 1]);
  });

  it('in a boot after sleeps that a fast clock cuts short', () => {
    const clockError = { kind: 'fixed', ppm: ppm(-400_000) } as const;
    // No other sleep is shorter.
    const watch = { retryIntervalMs: deviceMs(sleepMs) };
    expect(flatOf({ lengthMs: dayMs }, bootsFor(100), { watch, clockError })).toEqual([
      99 * 108_000 + 1,
    ]);
  });

  it('in a boot that the door makes, far sooner than a timer would', () => {
    const opens = Array.from({ length: 200 }, (_, index): [number, number] => [
      (index + 1) * 1_000,
      (index + 1) * 1_000 + 500,
    ]);
    const watch = { wakeOn: 'opening' } as const;
    const world = { lengthMs: dayMs, openings: opens };
    expect(flatOf(world, bootsFor(100), { watch })).toEqual([99 * 1_000 + 1]);
  });

  it('as a connect time does, before the device waits for the network', () => {
    const supply: SupplySettings = {
      ...undrained(1_000),
      failedAttempt: { kind: 'current', currentNa: 1_000_000, timeMs: null },
    };
    const world = { lengthMs: dayMs, openings: [[0, dayMs]], networkDown: [[0, dayMs]] } as const;
    const timing = timingWith({ connectMs: 3_600, joinWaitMs: 10_000 });
    expect(flatOf(world, supply, { timing })).toEqual([180_800 + 3_600]);
  });

  it('in a long send of a device that has slept only', () => {
    // The pull-up takes 1 mA through the closed contact, whatever the device does.
    const supply: SupplySettings = {
      ...undrained(50_000_000),
      contactBias: { resistanceOhm: 3_000, voltageMv: 3_000, powered: 'always' },
    };
    const watch = { heartbeats: true, heartbeatIntervalMs: deviceMs(60_000) };
    const timing = timingWith({ connectMs: 3_600_000 });
    expect(flatOf({ lengthMs: 10 * dayMs }, supply, { watch, timing })).toEqual([180_000_000]);
    const waiting = timingWith({ connectMs: 0, joinWaitMs: 3_600_000 });
    const down = { lengthMs: 10 * dayMs, networkDown: [[0, 10 * dayMs]] as const };
    expect(flatOf(down, supply, { watch, timing: waiting })).toEqual([180_000_000]);
  });

  it('by self-discharge alone: a tenth on the first day, and a hundredth a day', () => {
    const supply: SupplySettings = {
      ...undrained(1_000_000),
      usablePpm: 500_000,
      selfDischarge: { firstDayPpm: 100_000, perMonthPpm: 200_000, protectionPerMonthPpm: 100_000 },
    };
    const world = { lengthMs: 70 * dayMs };
    expect(flatOf(world, supply)).toEqual([40 * dayMs]);
    expect(flatOf(world, supply, { chargedMs: [20 * dayMs] })).toEqual([60 * dayMs]);
    const oneDay = { ...supply, usablePpm: 55_000 };
    expect(flatOf(world, oneDay)).toEqual([dayMs / 2]);
  });
});
