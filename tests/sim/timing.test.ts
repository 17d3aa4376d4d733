import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atLeastMs, deviceMs, InvariantError, lastsMs, ppm, trueMs } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import type { ClockError, DeviceTiming, VaryingMs } from '../../src/world/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, timingWith, traceOf, type WorldNumbers } from '../support/experiments.js';

const lengthMs = 2_000_000;
const leftOpen = [[0, Number.POSITIVE_INFINITY]] as const;

function clocked(clockError: ClockError): DeviceTiming {
  return { ...timingWith({}), clockError };
}

function sleepsOf(clockError: ClockError, resetsMs: readonly number[] = []): number[] {
  const trace = traceOf({ lengthMs, resetsMs }, { timing: clocked(clockError) });
  return expandWakes(trace).flatMap(({ sleep }) => sleep?.lengthMs ?? []);
}

describe('the clock error', () => {
  it('that is fixed stretches every sleep', () => {
    expect(new Set(sleepsOf({ kind: 'fixed', ppm: ppm(20_000) }))).toEqual(new Set([183_600]));
    expect(new Set(sleepsOf({ kind: 'fixed', ppm: ppm(-20_000) }))).toEqual(new Set([176_400]));
  });

  it('that is drawn is one for the run, in its range, named in the totals, and follows the seed', () => {
    const timing = clocked({ kind: 'drawn', leastPpm: ppm(-20_000), greatestPpm: ppm(20_000) });
    const drawn = Array.from({ length: 40 }, (_, seed) => {
      const { tally, wakes } = simulate(
        experimentOf({ lengthMs }, { timing, seed: `run ${seed}` }),
      );
      const { clockErrorPpm } = tally;
      const lengths = new Set(wakes.flatMap(({ sleep }) => sleep?.lengthMs ?? []));
      expect(lengths).toEqual(new Set([lastsMs(deviceMs(180_000), ppm(clockErrorPpm ?? 0))]));
      return clockErrorPpm ?? Number.NaN;
    });
    expect(new Set(drawn).size).toBeGreaterThan(30);
    expect(Math.min(...drawn)).toBeGreaterThanOrEqual(-20_000);
    expect(Math.max(...drawn)).toBeLessThanOrEqual(20_000);
    expect(Math.min(...drawn)).toBeLessThan(0);
    expect(Math.max(...drawn)).toBeGreaterThan(0);
  });

  it('that is drawn counts the sleeps of a long jump like those of short ones', () => {
    const timing = clocked({ kind: 'drawn', leastPpm: ppm(20_000), greatestPpm: ppm(30_000) });
    const watch = { heartbeats: true, heartbeatIntervalMs: deviceMs(7_200_000) };
    const experiment = experimentOf({ lengthMs: 86_400_000 }, { timing, watch });
    const { tally } = simulate(experiment, { record: 'all' });
    expect(simulate(experiment, { record: 'none' }).tally).toEqual(tally);
    // Each takes 40 checks of 180 s nominal and 0.4 s of boot: by a true clock there would be twelve or more.
    expect(tally.heartbeatSends.delivered).toBe(11);
  });

  it('that is drawn counts sleeps that a reset cuts short, or meets as they end, whatever is recorded', () => {
    // Sleeps of 180 s last 342 s, so that a sleep more or less in the count moves the heartbeat by a check.
    const timing = clocked({ kind: 'drawn', leastPpm: ppm(900_000), greatestPpm: ppm(900_001) });
    const watch = { heartbeats: true, heartbeatIntervalMs: deviceMs(1_000_000) };
    const thirdMs = 3 * 342_400;
    // The second check reads open.
    const openings = [[600_000, 700_000]] as const;
    for (const resetsMs of [[], [thirdMs - 100_000], [thirdMs]]) {
      for (let endMs = 1_000_000; endMs < 3_000_000; endMs += 100_000) {
        const experiment = experimentOf({ lengthMs: endMs, openings, resetsMs }, { timing, watch });
        const { tally } = simulate(experiment, { record: 'all' });
        expect(simulate(experiment, { record: 'none' }).tally).toEqual(tally);
      }
    }
  });

  it('drawn from a range of one is the same as fixed', () => {
    const one = { kind: 'drawn', leastPpm: ppm(200_000), greatestPpm: ppm(200_000) } as const;
    const runOf = (clockError: ClockError) =>
      traceOf(
        { lengthMs, openings: leftOpen },
        { watch: { alertCooldownMs: deviceMs(2 * 180_400) }, timing: clocked(clockError) },
      );
    expect(runOf(one)).toEqual(runOf({ kind: 'fixed', ppm: ppm(200_000) }));
  });

  it('on a curve is that at the start of each sleep; the first step holds before its start', () => {
    const curve: ClockError = {
      kind: 'curve',
      steps: [
        { fromMs: trueMs(200_000), ppm: ppm(10_000) },
        { fromMs: trueMs(364_800), ppm: ppm(50_000) },
      ],
    };
    // Sleeps begin at 400, 182 600 and 364 800.
    expect(sleepsOf(curve).slice(0, 4)).toEqual([181_800, 181_800, 189_000, 189_000]);
  });

  it('without a step of its curve is none', () => {
    expect(new Set(sleepsOf({ kind: 'curve', steps: [] }))).toEqual(new Set([180_000]));
  });

  it('in turn takes the next one each sleep, and the last one stays', () => {
    const list = [ppm(0), ppm(1_000_000), ppm(-500_000)];
    expect(sleepsOf({ kind: 'inTurn', ppm: list }).slice(0, 5)).toEqual([
      180_000, 360_000, 90_000, 90_000, 90_000,
    ]);
  });

  it('as a list of sleeps gives their true lengths, and then they are nominal', () => {
    const list = [trueMs(100_000), trueMs(250_000)];
    expect(sleepsOf({ kind: 'sleeps', ms: list }).slice(0, 4)).toEqual([
      100_000, 250_000, 180_000, 180_000,
    ]);
    expect(sleepsOf({ kind: 'sleeps', ms: list }, [50_000])[1]).toBe(250_000);
  });

  it('is named in the totals only where it is one number', () => {
    const tallyOf = (clockError: ClockError) =>
      traceOf({ lengthMs }, { timing: clocked(clockError) }).tally.clockErrorPpm;
    expect(tallyOf({ kind: 'fixed', ppm: ppm(7) })).toBe(7);
    expect(tallyOf({ kind: 'inTurn', ppm: [ppm(7)] })).toBeNull();
    const step = { fromMs: trueMs(9), ppm: ppm(7) };
    expect(tallyOf({ kind: 'curve', steps: [step] })).toBe(7);
    expect(tallyOf({ kind: 'curve', steps: [step, step] })).toBeNull();
  });

  it('that leaves a sleep no time at all is our fault, not an endless loop', () => {
    const timing = { ...timingWith({ bootMs: 0, errorPpm: -999_999 }) };
    expect(() => traceOf({ lengthMs }, { timing })).toThrow(InvariantError);
  });
});

describe('the cooldown on the clock', () => {
  // Alerts are decided at 180 800 and delivered at 184 800; then checks come every 180 400 from 365 200 on.
  const decisions = (alertCooldownMs: number, timing: DeviceTiming = timingWith({})) =>
    traceOf(
      { lengthMs, openings: leftOpen },
      { watch: { alertCooldownMs: deviceMs(alertCooldownMs) }, timing },
    ).alerts.map(({ decidedMs }) => decidedMs);

  it('is over at the check that comes just as it ends', () => {
    expect(decisions(365_200 - 184_800)[1]).toBe(365_200);
    expect(decisions(365_200 - 184_800 + 1)[1]).toBe(365_200 + 180_400);
  });

  it('of nothing lets each check decide', () => {
    expect(decisions(0)[1]).toBe(365_200);
  });

  it('with one error for the run is stretched with it, and rounded to the late side', () => {
    // With 1000 ppm a sleep of 180 s lasts 180 180 ms: checks at 400 and 180 980, delivery at 184 980, then
    // checks 180 580 ms apart from 365 560 on. 180 399.6 ms of cooldown, stretched, are 180 580 ms.
    const timing = timingWith({ errorPpm: 1_000 });
    expect(decisions(180_399, timing)[1]).toBe(365_560);
    expect(decisions(180_400, timing)[1]).toBe(365_560 + 180_580);
  });

  it('with an error that changes counts completed sleeps at their nominal length', () => {
    // Sleeps of 180 s take 360 s: 180 400 ms of cooldown are over after one of them and a boot.
    const slow = clocked({ kind: 'inTurn', ppm: [ppm(1_000_000)] });
    expect(decisions(180_400, slow)[1]).toBe(decisions(0, slow)[1]);
    expect(decisions(180_401, slow)[1]).toBe((decisions(0, slow)[1] ?? 0) + 360_400);
  });

  it('counts a sleep that something cuts short as the time that it took', () => {
    const slow = clocked({ kind: 'inTurn', ppm: [ppm(1_000_000)] });
    const trace = (alertCooldownMs: number) =>
      traceOf(
        { lengthMs, openings: leftOpen, resetsMs: [464_800] },
        { watch: { alertCooldownMs: deviceMs(alertCooldownMs) }, timing: slow },
      ).alerts.map(({ decidedMs }) => decidedMs);
    // Delivered at 364 800 (sleep 360 s, connect 4 s, boots 0.4 s each), reset 100 s later, check 400 ms after.
    expect(trace(100_400)).toContain(465_200);
    expect(trace(100_401)).not.toContain(465_200);
  });

  it('counts a sleep as the time that it took also where a reset comes just as it ends, or an edge before', () => {
    const slow = clocked({ kind: 'inTurn', ppm: [ppm(1_000_000)] });
    const secondOf = (alertCooldownMs: number, world: Partial<WorldNumbers>) =>
      traceOf(
        { lengthMs, openings: leftOpen, ...world },
        { watch: { wakeOn: 'opening', alertCooldownMs: deviceMs(alertCooldownMs) }, timing: slow },
      ).alerts[1]?.decidedMs;
    // Delivered at 364 800, asleep until 724 800 at most.
    const reset = { resetsMs: [724_800] };
    expect(secondOf(360_400, reset)).toBe(725_200);
    expect(secondOf(360_401, reset)).not.toBe(725_200);
    const edge = {
      openings: [
        [0, 500_000],
        [600_000, lengthMs],
      ] as const,
    };
    expect(secondOf(235_600, edge)).toBe(600_400);
    expect(secondOf(235_601, edge)).not.toBe(600_400);
  });
});

describe('boot and connect times', () => {
  function drawnFrom(varying: VaryingMs, purpose: 'bootTime' | 'connectTime'): number[] {
    const timing = { ...timingWith({}), [purpose]: varying };
    const watch = { escalationThreshold: { open: 1, outOf: 1 }, alertCooldownMs: deviceMs(0) };
    const wakes = expandWakes(
      traceOf({ lengthMs: 20_000_000, openings: leftOpen }, { timing, watch }),
    );
    return wakes.flatMap(({ wakeMs, checkMs, alertSend }) => {
      if (purpose === 'bootTime') return checkMs === null ? [] : checkMs - wakeMs;
      return alertSend?.outcome === 'delivered' ? alertSend.endMs - alertSend.startMs : [];
    });
  }

  it.each(['bootTime', 'connectTime'] as const)(
    '%s from a range takes both of its ends',
    (name) => {
      const range = { kind: 'range', leastMs: trueMs(10), greatestMs: trueMs(13) } as const;
      const drawn = drawnFrom(range, name);
      expect(drawn.length).toBeGreaterThan(90);
      expect(new Set(drawn)).toEqual(new Set([10, 11, 12, 13]));
    },
  );

  it.each(['bootTime', 'connectTime'] as const)('%s in turn ends on its last one', (name) => {
    const list = { kind: 'inTurn', ms: [trueMs(5), trueMs(7)] } as const;
    expect(drawnFrom(list, name).slice(0, 4)).toEqual([5, 7, 7, 7]);
  });

  it('are drawn from streams of their own: more attempts leave the boots as they are', () => {
    const range = { kind: 'range', leastMs: trueMs(100), greatestMs: trueMs(900) } as const;
    const timing = { ...timingWith({}), bootTime: range };
    const bootsWith = (connectTime: VaryingMs) =>
      expandWakes(
        traceOf({ lengthMs, openings: leftOpen }, { timing: { ...timing, connectTime } }),
      ).map(({ wakeMs, checkMs }) => (checkMs ?? 0) - wakeMs);
    const fixed = bootsWith({ kind: 'fixed', ms: trueMs(500) });
    expect(bootsWith(range).slice(0, 8)).toEqual(fixed.slice(0, 8));
  });
});

describe('whole milliseconds', () => {
  const exact = (nominal: number, error: number) => BigInt(nominal) * BigInt(1_000_000 + error);
  const nominals = fc.integer({ min: 0, max: 4_000_000_000 });
  const errors = fc.integer({ min: -999_999, max: 1_000_000 });

  it('of a stretched sleep are the nearest, a half up', () => {
    fc.assert(
      fc.property(nominals, errors, (nominal, error) => {
        const wanted = (2n * exact(nominal, error) + 1_000_000n) / 2_000_000n;
        expect(lastsMs(deviceMs(nominal), ppm(error))).toBe(Number(wanted));
      }),
      { numRuns: 2_000 },
    );
    expect(lastsMs(deviceMs(1), ppm(500_000))).toBe(2);
    expect(lastsMs(deviceMs(1), ppm(-500_000))).toBe(1);
  });

  it('of a stretched timer are the first that are long enough', () => {
    fc.assert(
      fc.property(nominals, errors, (nominal, error) => {
        const wanted = (exact(nominal, error) + 999_999n) / 1_000_000n;
        expect(atLeastMs(deviceMs(nominal), ppm(error))).toBe(Number(wanted));
      }),
      { numRuns: 2_000 },
    );
  });
});
