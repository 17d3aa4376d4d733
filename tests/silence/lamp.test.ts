// The time to look at the lamp: no device that the tests call dark blinks later, whatever it is doing as the door opens.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { greatestOf, ppm, trueMs } from '../../src/base/index.js';
import { longestCheckGapMs } from '../../src/bounds/index.js';
import { parseWatchFile } from '../../src/scenarios/index.js';
import { compileWatch, simulate, type Trace } from '../../src/sim/index.js';
import { deviceTiming, spansOf } from '../../src/world/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';
import { scales, someLogics, watchSettings } from '../support/arbitraries.js';
import { programOf, rangesWith, timingWith, worldOf } from '../support/experiments.js';

function checksOf({ wakes }: Trace): readonly number[] {
  return wakes.flatMap(({ check, repeats, periodMs }) =>
    check === null
      ? []
      : Array.from({ length: repeats + 1 }, (_, index) => check.atMs + index * periodMs),
  );
}

function longestGap(trace: Trace): number {
  const checks = checksOf(trace);
  return greatestOf([0, ...checks.slice(1).map((atMs, index) => atMs - (checks[index] ?? 0))]);
}

const hatch = `watch:
  checkInterval: 3m
  escalationThreshold: 2
  alertCooldown: 20m
  retry: { interval: 2m, attempts: 4 }
  heartbeatInterval: 1d
device:
  bootTime: 300ms..600ms
  connectTime: 2s..6s
  joinWait: 10s
  clockError: -2%..2%
judge: { leaveOpenAfter: 10m, reportWithin: 15m }
environment: { longestOutage: 2h, outages: 1 }
`;

async function lookMsFor(file: string): Promise<number> {
  const folder = ownFolder({ 'watch.yaml': file, 'messages.csv': 'time,event\n' });
  const span = ['--charged', '2026-11-01 18:00', '--now', '2026-11-08 09:00'];
  const of = ['--profile', 'goose-house', '--prior', 'network=50/year', '--json'];
  const ran = await runHere(folder, ['silence', '-c', 'watch.yaml', ...span, ...of]);
  expect([0, 1]).toContain(ran.status);
  const answer: { tests: readonly { kind: string; takesMs: number }[] } = JSON.parse(ran.stdout);
  return answer.tests.find(({ kind }) => kind === 'look')?.takesMs ?? 0;
}

describe('the time to look at the lamp', () => {
  it('is enough for a device without network that has an alert to send, whenever the door opens, and no longer than needed', async () => {
    const lookMs = await lookMsFor(hatch);
    const parsed = parseWatchFile(hatch, 'watch.yaml');
    if (!parsed.ok) throw new Error('the watch file is right');
    const { watch, timing } = parsed.value;
    const program = compileWatch(watch);
    const slowest = deviceTiming(
      {
        bootTime: { kind: 'fixed', ms: trueMs(600) },
        connectTime: { kind: 'fixed', ms: trueMs(6_000) },
        clockError: { kind: 'inTurn', ppm: [ppm(20_000)] },
      },
      timing,
    );
    let longestMs = 0;
    for (let openMs = 3_000_000; openMs < 3_900_000; openMs += 500) {
      const world = worldOf({
        lengthMs: openMs + 2 * lookMs,
        openings: [
          [600_000, 1_080_000],
          [openMs, Number.POSITIVE_INFINITY],
        ],
        networkDown: [[300_000, Number.POSITIVE_INFINITY]],
      });
      const { wakes } = simulate(
        { program, timing: slowest, world, seed: 'hatch' },
        { record: 'all' },
      );
      expect(wakes.some(({ alertSend }) => alertSend?.outcome === 'failed')).toBe(true);
      const blink = wakes.find(({ check }) => check?.contact === 'open' && check.atMs >= openMs);
      longestMs = Math.max(longestMs, (blink?.check?.atMs ?? Number.POSITIVE_INFINITY) - openMs);
    }
    expect(longestMs).toBeLessThanOrEqual(lookMs);
    expect(longestMs).toBeGreaterThan(lookMs - 500);
    // An attempt of 16 s, a sleep of 3 min on a clock 2 % slow, and a boot.
    expect(lookMs).toBe(16_000 + 183_600 + 600);
  });

  it('counts the sleep before a retry, where that is longer than a check interval', async () => {
    const slow = hatch.replace('interval: 2m', 'interval: 5m');
    expect(await lookMsFor(slow)).toBe(16_000 + 306_000 + 600);
  });

  it('is the longest time between two checks of any watch, whatever the door and the network do', () => {
    const scale = scales[1];
    if (scale === undefined) throw new Error('there is a scale of seconds');
    const pairs = fc.array(fc.nat(scale.lengthMs), { maxLength: 12 }).map((drawn) => {
      const edges = [...new Set(drawn)].sort((a, b) => a - b);
      return edges.flatMap((fromMs, index): [number, number][] =>
        index % 2 === 0 ? [[fromMs, edges[index + 1] ?? Number.POSITIVE_INFINITY]] : [],
      );
    });
    const reached = { all: 0, bySends: 0 };
    fc.assert(
      fc.property(
        someLogics.chain((logic) => watchSettings(logic, scale)),
        fc.record({
          bootMs: fc.nat(500),
          connectMs: fc.nat(3_000),
          joinWaitMs: fc.nat(5_000),
          errorPpm: fc.integer({ min: -50_000, max: 50_000 }),
        }),
        fc.record({ openings: pairs, networkDown: pairs, low: pairs }),
        (watch, times, { openings, networkDown, low }) => {
          const program = programOf(watch);
          const world = {
            ...worldOf({ lengthMs: scale.lengthMs, openings, networkDown }),
            batteryLow: spansOf(low),
          };
          const timing = timingWith(times);
          const trace = simulate({ program, timing, world, seed: 'lamp' }, { record: 'all' });
          const gapMs = longestGap(trace);
          const mostMs = longestCheckGapMs(program, rangesWith(times)) ?? 0;
          if (gapMs === mostMs) {
            reached.all += 1;
            if (trace.wakes.some(({ alertSend }) => alertSend?.outcome === 'failed')) {
              reached.bySends += 1;
            }
          }
          expect(gapMs).toBeLessThanOrEqual(mostMs);
        },
      ),
      { numRuns: 300, seed: 1 },
    );
    // Not only never too short: many of these devices take just as long.
    expect(reached.all).toBeGreaterThan(60);
    expect(reached.bySends).toBeGreaterThan(30);
  });
});
