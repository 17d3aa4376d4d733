// Recording around spans of time: what is kept are the wakes that a reader of the whole trace would pick.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { itemAt } from '../../src/base/index.js';
import { type Experiment, sendOfWake, simulate, type WakeRecord } from '../../src/sim/index.js';
import { experiments, scales, someLogics } from '../support/arbitraries.js';
import { experimentOf } from '../support/experiments.js';
import { expectSame } from '../support/same.js';

type Span = readonly [fromMs: number, toMs: number];

function lastCheckMs({ check, repeats, periodMs }: WakeRecord): number | null {
  return check === null ? null : check.atMs + repeats * periodMs;
}

/** The last instant of a wake that is known: its send's end, its last check, or what cut it short. */
function lastMs(wake: WakeRecord, { world }: Experiment): number {
  const known = sendOfWake(wake)?.endMs ?? lastCheckMs(wake);
  if (known !== null) return known;
  const cuts = [...world.powerLost.fromMs, ...world.resetsMs].filter((ms) => ms > wake.wakeMs);
  return Math.min(world.lengthMs, ...cuts);
}

/** By hand: from the checks before each span to the first check at or after its end. */
function picked(experiment: Experiment, spans: readonly Span[], before: number): WakeRecord[] {
  const { wakes } = simulate(experiment);
  const kept = new Set<WakeRecord>();
  for (const [fromMs, toMs] of spans) {
    const reached = wakes.findIndex((wake) => lastMs(wake, experiment) >= fromMs);
    const begun = reached < 0 ? wakes.length : reached;
    let [first, checks] = [begun, 0];
    while (first > 0) {
      if (itemAt(wakes, first - 1).check !== null && (checks += 1) > before) break;
      first -= 1;
    }
    const done = wakes.findIndex(
      (wake, index) => index >= begun && (lastCheckMs(wake) ?? -1) >= toMs,
    );
    for (const wake of wakes.slice(first, done < 0 ? wakes.length : done + 1)) kept.add(wake);
  }
  return wakes.filter((wake) => kept.has(wake));
}

describe('a record around spans of time', () => {
  it.each(scales)('keeps what a reader would pick: sleeps from $leastMs ms', (scale) => {
    const instant = fc.integer({ min: -1, max: scale.lengthMs + 1 });
    const span = fc.oneof(
      fc
        .tuple(instant, instant)
        .map(([one, other]): Span => (one < other ? [one, other] : [other, one])),
      fc.tuple(instant, fc.nat(3)).map(([fromMs, forMs]): Span => [fromMs, fromMs + forMs]),
    );
    fc.assert(
      fc.property(
        experiments(scale, 8, someLogics),
        fc.array(fc.array(span, { maxLength: 3 }), { minLength: 3, maxLength: 3 }),
        fc.nat(3),
        (drawn, arounds, before) => {
          for (const experiment of drawn) {
            for (const around of arounds) {
              const { wakes } = simulate(experiment, { record: { around, before } });
              expectSame(wakes, picked(experiment, around, before));
            }
          }
        },
      ),
      { numRuns: 10 },
    );
  });

  // The plain watch checks at 400, 180 800, 361 200, 541 600, 722 000 and 902 400. The door moves in each of its sleeps, so
  // that no two wakes are folded into one.
  const openings = [90_000, 270_400, 450_800, 631_200, 811_600].map((ms): Span => [ms, ms + 1]);
  const experiment = experimentOf({ lengthMs: 950_000, openings });

  it.each<[name: string, around: readonly Span[], before: number, checksMs: readonly number[]]>([
    ['nothing without a span', [], 2, []],
    ['a span between two checks: both', [[200_000, 300_000]], 1, [180_800, 361_200]],
    ['no check before, where none is wanted', [[200_000, 300_000]], 0, [361_200]],
    [
      'a span that begins at a check has it inside',
      [[361_200, 361_201]],
      1,
      [180_800, 361_200, 541_600],
    ],
    ['a span that ends at a check needs no later one', [[200_000, 361_200]], 1, [180_800, 361_200]],
    ['a span that begins before the first check', [[-5, 0]], 3, [400]],
    ['a span after the last check: those before it', [[940_000, 945_000]], 2, [722_000, 902_400]],
    [
      'two spans in any order',
      [
        [600_000, 700_000],
        [0, 400],
      ],
      1,
      [400, 541_600, 722_000],
    ],
    [
      'a span within another',
      [
        [100_000, 500_000],
        [200_000, 201_000],
      ],
      0,
      [180_800, 361_200, 541_600],
    ],
  ])('keeps, of %s', (_, around, before, checksMs) => {
    const { wakes } = simulate(experiment, { record: { around, before } });
    expect(wakes.map(({ check }) => check?.atMs)).toEqual(checksMs);
  });

  it('counts checks before a span, not wakes that were cut short', () => {
    // A reset cuts short the boot that begins at 541 200.
    const cut = experimentOf({ lengthMs: 950_000, openings, resetsMs: [541_300] });
    const keptWith = (before: number) =>
      simulate(cut, { record: { around: [[600_000, 601_000]], before } }).wakes.map(
        ({ check }) => check?.atMs ?? null,
      );
    expect(keptWith(2)).toEqual([361_200, null, 541_700, 722_100]);
    expect(keptWith(1)).toEqual([null, 541_700, 722_100]);
  });

  it('goes on to the first check, over a wake that was cut short', () => {
    const cut = experimentOf({ lengthMs: 950_000, openings, resetsMs: [200] });
    const { wakes } = simulate(cut, { record: { around: [[-5, 0]], before: 0 } });
    expect(wakes.map(({ check }) => check?.atMs ?? null)).toEqual([null, 600]);
  });
});
