// The fewest brief openings that raise a false alarm, against every single one, and against many at random.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { aliasingOf } from '../../src/bounds/aliasing/aliasing.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { simulate } from '../../src/sim/index.js';
import { idealContactEdges, spansOf } from '../../src/world/index.js';
import {
  logicSettings,
  type Scale,
  watchSettings,
  withoutLowBattery,
} from '../support/arbitraries.js';
import { programOf, rangesWith, timingWith } from '../support/experiments.js';
import { range } from '../support/range.js';
import { assertUntil } from '../support/until-seen.js';
import { questionOf } from './question.js';

const scale: Scale = {
  leastMs: 3,
  mostMs: 12,
  mostBootMs: 3,
  mostConnectMs: 4,
  lengthMs: 100,
  errorPpm: 0,
};

interface Tried {
  readonly watch: WatchSettings;
  readonly bootMs: number;
  readonly connectMs: number;
  readonly leaveOpenAfterMs: number;
}

const tried: fc.Arbitrary<Tried> = logicSettings.chain((logic) =>
  fc.record({
    watch: fc
      .tuple(
        watchSettings(withoutLowBattery(logic), scale),
        fc.constantFrom('timer' as const, 'opening' as const, 'any-change' as const),
      )
      .map(([watch, wakeOn]) => ({ ...watch, wakeOn })),
    bootMs: fc.nat(scale.mostBootMs),
    connectMs: fc.nat(scale.mostConnectMs),
    leaveOpenAfterMs: fc.integer({ min: 2, max: 30 }),
  }),
);

/** By then the device has long been at rest. */
const restedMs = 200;

type Span = readonly [fromMs: number, toMs: number];

/** Whether a door that is open in these spans, and shut before and after, raises an alert. */
function alarms({ watch, bootMs, connectMs }: Tried, opened: readonly Span[]): boolean {
  const openings = spansOf(opened.map(([from, to]) => [from, to]));
  const none = spansOf([]);
  const world = {
    lengthMs: trueMs((opened.at(-1)?.[1] ?? 0) + 200),
    openings,
    contact: idealContactEdges(openings),
    networkDown: none,
    powerLost: none,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const timing = timingWith({ bootMs, connectMs });
  return (
    simulate({ program: programOf(watch), timing, world, seed: '' }, { record: 'none' }).alerts
      .length > 0
  );
}

function fewestIn({ watch, bootMs, connectMs, leaveOpenAfterMs }: Tried) {
  const timing = rangesWith({ bootMs, connectMs });
  return aliasingOf(questionOf(watch, { timing, leaveOpenAfterMs }));
}

/** Every single brief opening, wherever it falls between two checks. */
function someSingleAlarms(one: Tried): boolean {
  const periodMs = one.watch.checkIntervalMs + one.bootMs;
  return range(restedMs, restedMs + periodMs).some((fromMs) =>
    range(1, one.leaveOpenAfterMs).some((ms) => alarms(one, [[fromMs, fromMs + ms]])),
  );
}

describe('the fewest brief openings that raise a false alarm', () => {
  // With heartbeats, not every place of the opening among them is tried.
  it('are one where some single opening raises an alarm, and without heartbeats only there', () => {
    const seen = { one: 0, several: 0, none: 0 };
    const property = fc.property(tried, (one) => {
      const { aliasing, isShown } = fewestIn(one);
      const openings = aliasing?.openings ?? null;
      expect(isShown).toBe(true);
      const isOne = someSingleAlarms(one);
      if (isOne || !one.watch.heartbeats) expect(openings === 1, JSON.stringify(one)).toBe(isOne);
      if (openings === null) seen.none += 1;
      else if (openings === 1) seen.one += 1;
      else seen.several += 1;
    });
    assertUntil(
      property,
      { numRuns: 150 },
      () => seen.one > 20 && seen.several > 10 && seen.none > 5,
    );
  });

  it('are not more than any openings that do, tried at random', () => {
    const gaps = fc.array(
      fc.tuple(fc.integer({ min: 1, max: 25 }), fc.integer({ min: 1, max: 29 })),
      {
        minLength: 2,
        maxLength: 4,
      },
    );
    fc.assert(
      fc.property(tried, fc.array(gaps, { minLength: 40, maxLength: 40 }), (one, schedules) => {
        const { aliasing } = fewestIn(one);
        for (const schedule of schedules) {
          const spans: Span[] = [];
          let fromMs = restedMs;
          for (const [gapMs, ms] of schedule) {
            const begins = fromMs + gapMs;
            const ends = begins + (1 + (ms % (one.leaveOpenAfterMs - 1)));
            spans.push([begins, ends]);
            fromMs = ends;
          }
          const fewest = range(1, spans.length + 1).find((count) =>
            alarms(one, spans.slice(0, count)),
          );
          if (fewest !== undefined) {
            expect(
              aliasing?.openings ?? Number.POSITIVE_INFINITY,
              JSON.stringify(one),
            ).toBeLessThanOrEqual(fewest);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});
