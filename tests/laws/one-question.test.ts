// Whatever a command calls proved is what bounds prove for the same file: tune, margin, the planner, battery and remedies.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { silentForAtMostMs } from '../../src/battery/index.js';
import { boundsOf, detectionBounds, questionOf } from '../../src/bounds/index.js';
import { planning } from '../../src/planner/plan.js';
import { settingsIn } from '../../src/planner/settings.js';
import { initialState } from '../../src/planner/state.js';
import { overlaidWatchText, parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { prover } from '../../src/tune/index.js';
import { deviceTiming, idealContactEdges, noSpans, spansOf } from '../../src/world/index.js';
import { supplyWith } from '../battery/supplies.js';

/** Small enough to be searched in a moment, with every range and a curve. */
const texts = fc
  .record({
    check: fc.constantFrom('1m', '150s', '4m'),
    recheck: fc.constantFrom('20s', '1m', '2m'),
    threshold: fc.constantFrom('1', '2', '{ open: 2, outOf: 3 }', '10'),
    cooldown: fc.constantFrom('0s', '5m', '30m'),
    beat: fc.constantFrom('off', 'off', '1h'),
    wakeOn: fc.constantFrom('timer', 'timer', 'opening'),
    boot: fc.constantFrom('400ms', '{ min: 0ms, max: 2s }'),
    connect: fc.constantFrom('4s', '{ min: 2s, max: 9s }'),
    error: fc.constantFrom(
      '0%',
      '-1.5%',
      '{ min: -2%, max: 3% }',
      '{ byTemperature: [{ celsius: -20, error: 8% }, { celsius: 25, error: 0% }, { celsius: 50, error: -5% }] }',
      '{ byTemperature: [{ celsius: 20, error: 1% }] }',
    ),
    leaveOpen: fc.constantFrom('90s', '5m', '15m'),
    outage: fc.constantFrom('0s', '0s', '3m'),
  })
  .map(
    (of) => `watch:
  checkInterval: ${of.check}
  recheckInterval: ${of.recheck}
  escalationThreshold: ${of.threshold}
  alertCooldown: ${of.cooldown}
  heartbeatInterval: ${of.beat}
  wakeOn: ${of.wakeOn}
device: { bootTime: ${of.boot}, connectTime: ${of.connect}, clockError: ${of.error} }
judge: { leaveOpenAfter: ${of.leaveOpen} }
environment: { longestOutage: ${of.outage} }
`,
  );

function fileOf(text: string): WatchFile {
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}

const supply = supplyWith('{ capacity: 330mAh, sleepCurrent: 20uA }');

describe('what is proved of a watch file', () => {
  it('is the same in tune and in the planner as in bounds', () => {
    const planOf = planning();
    fc.assert(
      fc.property(texts, (text) => {
        const file = fileOf(text);
        const bounds = detectionBounds(questionOf(file));
        const never = Number.POSITIVE_INFINITY;
        for (const from of ['atRest', 'anyState'] as const) {
          const proved = prover({ ...file, supply, from, seed: '1', years: 1 })(file.watch);
          if (!proved.isKnown) continue;
          expect(proved.sureFromMs).toBe(bounds.alwaysReportedFromMs[from] ?? never);
          expect(proved.worstDelayMs).toBe(bounds.worstDelayMs[from] ?? never);
          expect(proved.quietUpToMs).toBe(bounds.neverAlarmedUpToMs);
        }
        const planned = planOf({ ...initialState, set: settingsIn(text, 'watch.yaml') ?? {} });
        if (!planned.ok) throw new Error(JSON.stringify(planned.errors));
        const shown = planned.plan.bounds;
        if (shown === null) return;
        expect(shown.alwaysReportedFromMs).toEqual(bounds.alwaysReportedFromMs);
        expect(shown.worstDelayMs).toEqual(bounds.worstDelayMs);
        expect(shown.neverAlarmedUpToMs).toBe(bounds.neverAlarmedUpToMs);
      }),
      { numRuns: 2 },
    );
  });

  it('stays proved in a file with a remedy in it, which is a file', () => {
    let tried = 0;
    // All bounds and what would help take seconds where the contact wakes it, or heartbeats are followed.
    const quick = texts.map((text) =>
      text
        .replace(/heartbeatInterval: 1h/u, 'heartbeatInterval: off')
        .replace(/wakeOn: opening/u, 'wakeOn: timer')
        .replace(/longestOutage: 3m/u, 'longestOutage: 0s'),
    );
    fc.assert(
      fc.property(quick, (text) => {
        for (const { changes, holds, ...promised } of boundsOf(questionOf(fileOf(text))).remedies) {
          const overrides = changes.map(({ key, value }) => ({
            path: ['watch', key],
            value: value.startsWith('{')
              ? {
                  open: Number(/open: (\d+)/u.exec(value)?.[1]),
                  outOf: Number(/outOf: (\d+)/u.exec(value)?.[1]),
                }
              : /^\d+$/u.test(value)
                ? Number(value)
                : value,
            text: value,
            source: key,
          }));
          const remedied = fileOf(
            overlaidWatchText(text, 'watch.yaml', { overrides, comment: [] }),
          );
          const bounds = detectionBounds(questionOf(remedied));
          const { leaveOpenAfterMs } = remedied.judge;
          expect(
            bounds.alwaysReportedFromMs[holds] ?? Number.POSITIVE_INFINITY,
            text,
          ).toBeLessThanOrEqual(leaveOpenAfterMs);
          expect(bounds.alwaysReportedFromMs[holds], text).toBe(promised.alwaysReportedFromMs);
          expect(bounds.worstDelayMs[holds], text).toBe(promised.worstDelayMs);
          tried += 1;
        }
      }),
      { numRuns: 8 },
    );
    expect(tried).toBeGreaterThan(5);
  });

  it('is never beaten by a run at any temperature: how long a dead watch stays unnoticed', () => {
    fc.assert(
      fc.property(texts, fc.integer({ min: -40, max: 60 }), (text, celsius) => {
        const { watch, timing } = fileOf(
          text.replace(/heartbeatInterval: off/u, 'heartbeatInterval: 10m'),
        );
        const lengthMs = 12 * 3_600_000;
        const temperature = [{ atMs: trueMs(0), celsius }];
        const openings = spansOf([]);
        const world = {
          lengthMs: trueMs(lengthMs),
          openings,
          contact: idealContactEdges(openings),
          networkDown: noSpans,
          powerLost: noSpans,
          resetsMs: new Float64Array(0),
          powerOnAtMs: trueMs(0),
        };
        const run = deviceTiming({ temperature }, timing);
        const { wakes } = simulate(
          { program: compileWatch(watch), timing: run, world, seed: String(celsius) },
          { record: 'all' },
        );
        const ends = wakes.flatMap(({ heartbeatSend }) =>
          heartbeatSend?.outcome === 'delivered' ? [heartbeatSend.endMs] : [],
        );
        const most = silentForAtMostMs(watch, timing) ?? 0;
        const gaps = ends.slice(1).map((endMs, index) => endMs - (ends[index] ?? 0));
        for (const gap of gaps) expect(gap, text).toBeLessThanOrEqual(most);
        expect(gaps.length).toBeGreaterThan(0);
      }),
      { numRuns: 30 },
    );
  });
});
