// Supplies for property tests: each lasts for a small part of a run or for most of it, in all shapes of draws.
import fc from 'fast-check';
import type { ActivityDraw, BoughtCells, ChargePlan, ContactBias } from '../../src/model/index.js';
import type { Experiment } from '../../src/sim/index.js';
import type { Scale } from './arbitraries.js';

const pcPerNah = 3_600_000;

/** A draw around a mean current, as a current, a current with its own time, or a charge. */
function draws(meanNa: number, { mostMs }: Scale): fc.Arbitrary<ActivityDraw | null> {
  const factor = fc.constantFrom(0, 1, 3, 20, 200);
  const times = fc.integer({ min: 1, max: mostMs });
  const current = factor.map((by) => Math.round(meanNa * by));
  return fc.oneof(
    fc.constant(null),
    current.map((currentNa) => ({ kind: 'current' as const, currentNa, timeMs: null })),
    fc
      .tuple(current, times)
      .map(([currentNa, timeMs]) => ({ kind: 'current' as const, currentNa, timeMs })),
    fc
      .tuple(factor, times)
      .map(([by, ms]) => ({ kind: 'charge' as const, chargePc: Math.round(meanNa * ms * by) })),
  );
}

const curve = [
  { leftPpm: 0, voltageMv: 2_500 },
  { leftPpm: 100_000, voltageMv: 3_300 },
  { leftPpm: 400_000, voltageMv: 3_300 },
  { leftPpm: 900_001, voltageMv: 4_000 },
];

/** Cells behind a regulator or without one. The draws of a supply are those of the cells already: only the pull-up is converted. */
const boughtCells: fc.Arbitrary<{ readonly cells?: BoughtCells }> = fc
  .tuple(
    fc.constantFrom('alkaline-aa', 'li-ion-18650', 'lithium-coin'),
    fc.integer({ min: 1, max: 3 }),
    fc.option(fc.constantFrom(1_000_000, 870_001, 450_000)),
    fc.constantFrom('none', 'given', 'given'),
  )
  .map(([name, series, efficiencyPpm, regulator]) => {
    const about = { about: name, isRecharged: false, parallel: 1, sag: null, sources: [] };
    const kind = efficiencyPpm === null ? ('linear' as const) : ('boost' as const);
    const given = { kind, quiescentNa: 1, efficiencyPpm, outputMv: 3_300 };
    return {
      cells: {
        ...about,
        name,
        series,
        regulator: regulator === 'none' ? null : given,
        capacityNah: { least: 1, most: 1 },
      },
    };
  });

/** Supplies whose charge lasts for about a part of a run of this scale, and charges now and then. */
export function chargePlans(scale: Scale): fc.Arbitrary<ChargePlan> {
  const lifeMs = fc
    .constantFrom(0.03, 0.2, 0.6, 1.2)
    .map((part) => Math.max(1, Math.round(scale.lengthMs * part)));
  const capacity = fc.integer({ min: 1, max: 5_000 });
  return fc.tuple(lifeMs, capacity).chain(([lasts, capacityNah]) => {
    const meanNa = (capacityNah * pcPerNah) / lasts;
    const draw = draws(meanNa, scale);
    const share = fc.constantFrom(0, 0, 20_000, 400_000);
    const bias: fc.Arbitrary<ContactBias | null> = fc.option(
      fc.record({
        resistanceOhm: fc.constant(Math.max(1, Math.round(3e9 / meanNa))),
        voltageMv: fc.constant(3_000),
        powered: fc.constantFrom('always', 'check-only'),
      }),
    );
    const supply = fc.record({
      capacityNah: fc.constant(capacityNah),
      usablePpm: fc.constantFrom(1_000_000, 900_000, 333_333),
      derating: fc.option(fc.constant({ celsius: 5, sharePpm: 870_000 })),
      selfDischarge: fc.record({
        firstDayPpm: share,
        perMonthPpm: share,
        protectionPerMonthPpm: share,
      }),
      sleepNa: fc.constantFrom(0, 0.3, 1).map((by) => Math.round(meanNa * by)),
      boot: draw,
      blink: draw,
      connect: draw,
      failedAttempt: draw,
      hold: draw,
      heartbeat: draw,
      contactBias: bias,
      voltageCurve: fc.constantFrom(null, curve, curve.slice(1), curve.slice(0, 2)),
      preset: fc.constant(null),
    });
    const everyMs = fc.option(fc.integer({ min: Math.ceil(lasts / 5), max: 2 * lasts }));
    const afterWarningMs = fc.option(fc.constantFrom(0, 1, Math.ceil(lasts / 20), lasts));
    return fc.record({
      supply,
      charging: fc.tuple(everyMs, afterWarningMs).map(([every, after]) => ({
        everyMs: every,
        ...(after === null ? {} : { afterWarningMs: after }),
      })),
    });
  });
}

/** The same supplies, some of them of cells. */
export function chargePlansOfCells(scale: Scale): fc.Arbitrary<ChargePlan> {
  return fc
    .tuple(chargePlans(scale), fc.oneof(fc.constant({}), boughtCells))
    .map(([plan, cells]) => ({ ...plan, supply: { ...plan.supply, ...cells } }));
}

/** The same experiments on batteries, some of them charged by hand. */
export function onCharge(
  experiments: readonly Experiment[],
  scale: Scale,
  plans = chargePlans(scale),
): fc.Arbitrary<readonly Experiment[]> {
  const chargedMs = fc
    .uniqueArray(fc.nat(scale.lengthMs), { maxLength: 3 })
    .map((list) => Float64Array.from(list).sort((a, b) => a - b));
  return fc.tuple(
    ...experiments.map((experiment) =>
      fc.tuple(plans, chargedMs).map(([charge, charged]) => ({
        ...experiment,
        charge,
        world: { ...experiment.world, chargedMs: charged },
      })),
    ),
  );
}
