// What a warning of a watch file says is so, whatever else the file sets: bounds and runs never contradict it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { detectionBounds, questionOf } from '../../src/bounds/index.js';
import { calmEnvironment } from '../../src/model/index.js';
import { parseWatchFile, watchWarnings } from '../../src/scenarios/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { deviceTiming, idealContactEdges, noSpans, spansOf } from '../../src/world/index.js';

const durations = fc.constantFrom('10ms', '1s', '7s', '59999ms', '1m', '61s', '3m');
const times = fc.constantFrom('0ms', '1ms', '400ms', '{ min: 1ms, max: 2s }', '30s');
const errors = fc.constantFrom(
  '0%',
  '-2%',
  '1.5%',
  '333ppm',
  '-90%',
  '{ min: -3%, max: 1% }',
  '{ byTemperature: [{ celsius: -20, error: 6% }, { celsius: 25, error: 0% }, { celsius: 40, error: -5% }] }',
);

/** Settings near the edges that warnings are about. */
const texts = fc
  .record({
    check: durations,
    recheck: durations,
    retry: durations,
    attempts: fc.integer({ min: 1, max: 3 }),
    open: fc.integer({ min: 1, max: 3 }),
    more: fc.integer({ min: 0, max: 3 }),
    clear: fc.integer({ min: 1, max: 3 }),
    cooldown: fc.oneof(durations, fc.constant('0s'), fc.constant('60399ms')),
    heartbeat: fc.constantFrom('off', '1s', '59999ms', '1m', '61s'),
    boot: times,
    connect: times,
    error: errors,
    leaveOpen: fc.oneof(durations, fc.constantFrom('60400ms', '60401ms', '2m')),
    within: durations,
  })
  .map(
    (of) => `watch:
  checkInterval: ${of.check}
  recheckInterval: ${of.recheck}
  escalationThreshold: { open: ${String(of.open)}, outOf: ${String(of.open + of.more)} }
  clearThreshold: ${String(of.clear)}
  alertCooldown: ${of.cooldown}
  retry: { interval: ${of.retry}, attempts: ${String(of.attempts)} }
  heartbeatInterval: ${of.heartbeat}
device: { bootTime: ${of.boot}, connectTime: ${of.connect}, clockError: ${of.error} }
judge: { leaveOpenAfter: ${of.leaveOpen}, reportWithin: ${of.within} }
`,
  );

function fileOf(text: string) {
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}

/** What a door that is opened once, and left open, makes of the watch. */
function leftOpen(text: string, seed: string) {
  const { watch, timing } = fileOf(text);
  const awakeMs = timing.bootTime.most + timing.connectTime.most;
  const lengthMs = 40 * (watch.checkIntervalMs + watch.recheckIntervalMs + awakeMs);
  const openings = spansOf([[Math.floor(lengthMs / 20), Number.POSITIVE_INFINITY]]);
  const world = {
    lengthMs: trueMs(lengthMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const program = compileWatch(watch);
  return simulate({ program, timing: deviceTiming({}, timing), world, seed }, { record: 'all' });
}

describe('a warning', () => {
  it('about what is reported too late or never is what bounds prove at rest', () => {
    const warned = { late: 0, short: 0 };
    fc.assert(
      fc.property(texts, (text) => {
        const file = fileOf(text);
        const codes = new Set(watchWarnings(file).map(({ code }) => code));
        const quick = { ...file.watch, heartbeats: false, heartbeatIntervalMs: null };
        const calm = { ...file, watch: quick, environment: calmEnvironment };
        const { bestDelayMs, neverAlarmedUpToMs } = detectionBounds(questionOf(calm));
        const { leaveOpenAfterMs, reportWithinMs } = file.judge;
        expect(codes.has('report-late-at-rest')).toBe((bestDelayMs ?? 0) > (reportWithinMs ?? 0));
        expect(codes.has('leave-open-too-short-at-rest')).toBe(
          leaveOpenAfterMs <= neverAlarmedUpToMs,
        );
        if (codes.has('report-late-at-rest')) warned.late += 1;
        if (codes.has('leave-open-too-short-at-rest')) warned.short += 1;
      }),
      { numRuns: 30 },
    );
    expect(Math.min(warned.late, warned.short)).toBeGreaterThan(0);
  });

  it('about a cooldown that is over by the next check is what runs show', () => {
    const seen = { over: 0, hides: 0 };
    fc.assert(
      fc.property(texts, fc.string({ maxLength: 4 }), (text, seed) => {
        const codes = watchWarnings(fileOf(text)).map(({ code }) => code);
        const { wakes } = leftOpen(text, seed);
        const hidden = wakes.some(({ check }) => check?.decision === 'quiet');
        if (codes.includes('cooldown-over-by-next-check')) {
          expect(hidden).toBe(false);
          seen.over += 1;
        } else if (hidden) seen.hides += 1;
      }),
      { numRuns: 80 },
    );
    expect(Math.min(seen.over, seen.hides)).toBeGreaterThan(0);
  });
});
