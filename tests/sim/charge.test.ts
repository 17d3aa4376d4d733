// A supply that runs down: when it is empty to the millisecond, what that does, and that no charge is lost or made.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { spend, useOf } from '../../src/battery/index.js';
import { availablePc, firstDayPc, type SupplySettings } from '../../src/model/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { explain, judge } from '../../src/verdict/index.js';
import { noSpans } from '../../src/world/index.js';
import { supplyWith, undrained, watchFileWith } from '../battery/supplies.js';
import { experiments, scales, someLogics, withoutLowBattery } from '../support/arbitraries.js';
import { asked, experimentOf, type WorldNumbers } from '../support/experiments.js';
import { expectSame } from '../support/same.js';
import { chargePlans } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';

/** A battery that is never low is as good as none. */
const logics = someLogics.map(withoutLowBattery);

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

/** 480 mAh at 1 mA, asleep or awake: 20 days to the millisecond. */
const twentyDays =
  '{ capacity: 480mAh, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 1mA } }';

function runOf(world: WorldNumbers, more = '', chargedMs: readonly number[] = []) {
  const watchFile = watchFileWith(twentyDays, more);
  const plain = experimentOf(world);
  const experiment = {
    ...plain,
    world: { ...plain.world, chargedMs: Float64Array.from(chargedMs) },
    charge: {
      supply: supplyWith(twentyDays),
      charging: watchFile.answer?.charges ?? { everyMs: null },
    },
  };
  const trace = simulate(experiment);
  return { trace, verdict: judge(experiment.world.openings, trace, asked({})), experiment };
}

function reasonsOf({
  experiment,
  verdict,
}: Pick<ReturnType<typeof runOf>, 'experiment' | 'verdict'>) {
  return JSON.stringify(explain({ experiment, verdict, asked: asked({}), limit: 10 }));
}

const onDay30 = {
  lengthMs: 35 * dayMs,
  openings: [[30 * dayMs, 30 * dayMs + hourMs]] as const,
};

describe('a charge that lasts 20 days', () => {
  it('is used up after 20 days to the millisecond, and an opening on day 30 is unpowered', () => {
    const { trace, verdict } = runOf(onDay30);
    expect(trace.flat).toEqual([{ fromMs: 20 * dayMs, toMs: 35 * dayMs }]);
    expect(verdict.summary).toMatchObject({ missed: 1, unpowered: 1, reported: 0 });
    expect(verdict.openings.at(0).outcome).toBe('unpowered');
    expect(trace.tally).toMatchObject({ offMs: 15 * dayMs, flatMs: 15 * dayMs });
  });

  it.each([
    ['charged every two weeks', 'answer: { charges: { every: 2w } }', []],
    ['charged on day 19', '', [19 * dayMs]],
    ['charged at the instant at which it would end', '', [20 * dayMs]],
    ['charged after it ended', '', [25 * dayMs]],
  ])('%s, the opening is reported', (_, more, charged) => {
    const { verdict } = runOf(onDay30, more, charged);
    expect(verdict.summary).toMatchObject({ missed: 0, unpowered: 0, reported: 1 });
  });

  it('boots with fresh memory as it is charged, and counts as power-on', () => {
    const { trace } = runOf(onDay30, '', [25 * dayMs]);
    expect(trace.flat).toEqual([{ fromMs: 20 * dayMs, toMs: 25 * dayMs }]);
    expect(trace.tally.wakes['power-on']).toBe(2);
    expect(trace.charges).toEqual([{ atMs: 25 * dayMs, leftPpm: 0 }]);
  });

  it('takes a pending alert with it, and the reason says so', () => {
    const ran = runOf({
      lengthMs: 22 * dayMs,
      openings: [[20 * dayMs - hourMs, 20 * dayMs + hourMs]],
      networkDown: [[19 * dayMs, 22 * dayMs]],
    });
    expect(ran.verdict.openings.at(0).outcome).toBe('unpowered');
    const texts = reasonsOf(ran);
    expect(texts).toContain('but the charge ended before it was delivered');
    expect(texts).not.toContain('a power loss');
  });

  it('reports with the last of it, and nothing after', () => {
    // A check every 180.4 s: the last one on this charge begins here.
    const lastMs = 9_578 * 180_400;
    const world = { lengthMs: 21 * dayMs, openings: [[lastMs - 190_000, 21 * dayMs]] as const };
    const { trace, verdict } = runOf(world);
    const [alert] = trace.alerts;
    const [attempt] = alert?.attempts ?? [];
    expect(attempt).toEqual({ startMs: lastMs + 400, endMs: lastMs + 4_400, outcome: 'delivered' });
    expect(verdict.openings.at(0).outcome).toBe('reported');
    const sooner = {
      lengthMs: 21 * dayMs,
      openings: [[20 * dayMs - 240_000, 21 * dayMs]] as const,
    };
    expect(runOf(sooner).verdict.openings.at(0).outcome).toBe('unpowered');
  });

  it('is unpowered also where the door is still open at the end', () => {
    const world = { lengthMs: 35 * dayMs, openings: [[30 * dayMs, 40 * dayMs]] as const };
    expect(runOf(world).verdict.openings.at(0).outcome).toBe('unpowered');
  });
});

/** What a run has used of its charge up to an instant, as the battery prices it. */
function pricedUpTo(experiment: Experiment, supply: SupplySettings, atMs: number): bigint {
  const world = { ...experiment.world, lengthMs: trueMs(atMs) };
  const trace = simulate({ ...experiment, world }, { record: 'none' });
  const firstDay = (firstDayPc(supply) * BigInt(Math.min(atMs, dayMs))) / BigInt(dayMs);
  return spend(useOf(trace, world), supply).totalPc + firstDay;
}

describe('a charge is conserved', () => {
  it.each(scales)(
    'it ends where the battery has priced all of it: sleeps from $leastMs ms',
    (scale) => {
      let flats = 0;
      const law = fc.property(
        experiments(scale, 20, logics).chain((drawn) =>
          fc.tuple(fc.constant(drawn), chargePlans(scale)),
        ),
        ([drawn, { supply }]) => {
          const charge = { supply, charging: { everyMs: null } };
          for (const { world, ...rest } of drawn) {
            const calm = { ...world, powerLost: noSpans, powerOnAtMs: trueMs(0) };
            const experiment = { ...rest, world: calm };
            const [flat] = simulate({ ...experiment, charge }, { record: 'none' }).flat;
            const usable = availablePc(supply);
            const endMs = flat?.fromMs ?? world.lengthMs;
            // Self-discharge is rounded to whole pC where it is priced.
            if (flat !== undefined) {
              flats += 1;
              expect(pricedUpTo(experiment, supply, endMs)).toBeGreaterThanOrEqual(usable - 2n);
            }
            expect(pricedUpTo(experiment, supply, endMs - 1)).toBeLessThan(usable + 2n);
          }
        },
      );
      assertUntil(law, { numRuns: 10 }, () => flats > 30);
    },
  );
});

describe('without a supply', () => {
  it.each(scales)('a battery that never ends changes nothing: sleeps from $leastMs ms', (scale) => {
    fc.assert(
      fc.property(experiments(scale, 10, logics), chargePlans(scale), (drawn, { supply }) => {
        const charge = {
          // Of which more can be used than the first day takes.
          supply: { ...supply, capacityNah: 1e15, usablePpm: 1_000_000, derating: null },
          charging: { everyMs: null },
        };
        for (const experiment of drawn) {
          const plain = simulate(experiment);
          expectSame(simulate({ ...experiment, charge }), plain);
        }
      }),
      { numRuns: 10 },
    );
  });
});

describe('a battery that runs down by itself, within 40 days', () => {
  // A tenth on the first day and a hundredth a day: half of the capacity can be used.
  const supply: SupplySettings = {
    ...undrained(1_000_000),
    usablePpm: 500_000,
    selfDischarge: { firstDayPpm: 100_000, perMonthPpm: 300_000, protectionPerMonthPpm: 0 },
  };

  function lives(powerLost: WorldNumbers['powerLost'], chargedMs: readonly number[], days = 70) {
    const lengthMs = days * dayMs;
    const plain = experimentOf({ lengthMs, ...(powerLost === undefined ? {} : { powerLost }) });
    const world = { ...plain.world, chargedMs: Float64Array.from(chargedMs) };
    const charge = { supply, charging: { everyMs: null } };
    const { flat, charges, wakes, tally } = simulate({ ...plain, world, charge });
    return {
      flatDays: flat.map(({ fromMs, toMs }) => [fromMs / dayMs, toMs / dayMs]),
      bootDays: wakes.flatMap(({ cause, wakeMs }) =>
        cause === 'power-on' ? [wakeMs / dayMs] : [],
      ),
      left: charges.map(({ leftPpm }) => leftPpm),
      offDays: tally.offMs / dayMs,
      darkDays: (tally.offMs - tally.flatMs) / dayMs,
    };
  }

  const dark = [[30 * dayMs, 45 * dayMs]] as const;

  /** [from, to] of each power loss and of each time without charge; when somebody charges, and when it boots. All in days. */
  const cases: Readonly<
    Record<
      string,
      {
        readonly dark: readonly [number, number];
        readonly charged: readonly number[];
        readonly flatDays: readonly (readonly [number, number])[];
        readonly bootDays: readonly number[];
        readonly left: readonly number[];
      }
    >
  > = {
    'and stays empty': {
      ...{ dark: [30, 45], charged: [], flatDays: [[40, 70]], bootDays: [0], left: [] },
    },
    'until somebody charges it, when it boots': {
      ...{ dark: [30, 45], charged: [50], flatDays: [[40, 50]], bootDays: [0, 50], left: [0] },
    },
    'and boots when power is back, if charged before': {
      ...{ dark: [30, 45], charged: [42], flatDays: [[40, 42]], bootDays: [0, 45], left: [0] },
    },
    'but not if it is charged at that very instant': {
      ...{ dark: [30, 45], charged: [40], flatDays: [], bootDays: [0, 45], left: [0] },
    },
    'or charged before it': {
      ...{ dark: [30, 45], charged: [35], flatDays: [], bootDays: [0, 45], left: [100_000] },
    },
    'at the instant at which power is back': {
      ...{ dark: [30, 40], charged: [], flatDays: [[40, 70]], bootDays: [0], left: [] },
    },
    'just as power is lost': {
      ...{ dark: [40, 45], charged: [], flatDays: [[40, 70]], bootDays: [0], left: [] },
    },
    'and boots when power is back that was lost meanwhile': {
      ...{ dark: [49, 51], charged: [50], flatDays: [[40, 50]], bootDays: [0, 51], left: [0] },
    },
    'and boots as it is charged where power is back': {
      ...{ dark: [49, 50], charged: [50], flatDays: [[40, 50]], bootDays: [0, 50], left: [0] },
    },
  };

  it.each(Object.entries(cases))('without power %s', (_, { dark: span, charged, ...wanted }) => {
    const powerLost = [[span[0] * dayMs, span[1] * dayMs]] as const;
    const chargedMs = charged.map((day) => day * dayMs);
    expect(lives(powerLost, chargedMs)).toMatchObject(wanted);
  });

  it('counts time without charge apart from time without power', () => {
    expect(lives(dark, [42 * dayMs])).toMatchObject({ offDays: 15, darkDays: 13 });
  });

  it('is not empty where the timeline ends just then', () => {
    expect(lives(dark, [], 40)).toMatchObject({ flatDays: [], offDays: 10 });
    expect(lives([], [], 40)).toMatchObject({ flatDays: [], offDays: 0 });
  });
});
