// The library entry: what its own documentation shows works, with text in and a verdict out.
import { describe, expect, it } from 'vitest';
import {
  bounds,
  builtInProfile,
  compileWatch,
  estimate,
  explain,
  judge,
  margin,
  namedLimits,
  openDoorLog,
  parseScenario,
  parseWatchFile,
  type Result,
  replay,
  replayAtEveryPhase,
  simulate,
  type Timeline,
  timelineChart,
  timelineOf,
  timelineOfLog,
  unmetExpectations,
} from '../../src/index.js';
import { ownFolder, runHere } from '../cli/run-here.js';

const watchText = `watch: { checkInterval: 100s }
device: { bootTime: 0ms, connectTime: 0ms }
`;

const scenarioText = `name: A hatch
length: 1h
door: [{ at: +101s, for: 190s }]
expect: { missed: 0 }
`;

function given<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}

function judged(timeline: Timeline) {
  const watchFile = given(parseWatchFile(watchText, 'watch.yaml'));
  const { timing, world, seed } = timeline;
  const experiment = { program: compileWatch(watchFile.watch), timing, world, seed };
  const trace = simulate(experiment);
  return { watchFile, experiment, trace, verdict: judge(world.openings, trace, watchFile.judge) };
}

describe('the library', () => {
  it('goes from text to a verdict, its reasons and its picture', () => {
    const scenario = given(parseScenario(scenarioText, 'hatch.yaml'));
    const watch = given(parseWatchFile(watchText, 'watch.yaml'));
    const timeline = given(timelineOf(scenario, watch));
    const { experiment, trace, verdict, watchFile } = judged(timeline);
    expect(verdict.summary).toMatchObject({ openings: 1, missed: 1, checks: 36 });
    const reasons = explain({ experiment, verdict, asked: watchFile.judge, limit: 5 });
    expect(reasons).toMatchObject([{ subject: { kind: 'opening', index: 0 } }]);
    const every = replayAtEveryPhase(timeline, watch);
    expect(every.summary.phaseLengthMs).toBe(100_000);
    expect(every.openingAt(0).reportedShare).toBe(0.9);
    expect(
      timeline.expect === null ? [] : unmetExpectations(timeline.expect, verdict.summary),
    ).toMatchObject([{ name: 'missed', got: '1' }]);
    expect(timelineChart({ timeline, trace, verdict, watchFile })).toContain('<svg');
  });

  it('reads a door log piece by piece', () => {
    const reader = openDoorLog({ file: 'doors.csv' });
    for (const piece of ['start,e', 'nd\n2026-05-08T06:00:00Z,', '2026-05-08T07:00:00Z\n'])
      reader.push(piece);
    const log = given(reader.finish());
    const watch = given(parseWatchFile(watchText, 'watch.yaml'));
    const timeline = given(timelineOfLog(log, watch, { name: 'doors', file: 'doors.csv' }));
    expect(judged(timeline).verdict.summary).toMatchObject({
      openings: 1,
      leaveOpens: 1,
      reported: 1,
    });
  });

  it('says what is wrong with text as data', () => {
    const result = parseWatchFile('watch: { checkInterval: 3 }', 'watch.yaml');
    expect(result).toMatchObject({
      ok: false,
      errors: [{ code: 'duration-without-unit', source: { file: 'watch.yaml', line: 1 } }],
    });
  });

  const plainWatch = given(parseWatchFile('judge: { leaveOpenAfter: 3m }', 'watch.yaml'));

  it('replays a timeline, with the reason of what it missed', () => {
    const scenario = given(parseScenario(scenarioText, 'hatch.yaml'));
    const watch = given(parseWatchFile(watchText, 'watch.yaml'));
    const { verdict, reasons, unmet } = replay(given(timelineOf(scenario, watch)), watch);
    expect(verdict.summary).toMatchObject({ missed: 1, falseAlarms: 0 });
    expect(reasons).toMatchObject([{ subject: { kind: 'opening', index: 0 } }]);
    expect(unmet).toMatchObject([{ name: 'missed' }]);
  });

  it('proves the bounds of the plain watch, which its closed form gives', () => {
    // P = S = 120 s + 400 ms: D = P + S, Q = S, worst latency D + 4 s - 1 ms, best Q + 4 s.
    expect(bounds(plainWatch)).toMatchObject({
      alwaysReportedFromMs: { atRest: 240_800 },
      neverAlarmedUpToMs: 120_400,
      worstDelayMs: { atRest: 244_799 },
      bestDelayMs: 124_400,
      holds: { leaveOpenAfter: { atRest: false } },
    });
  });

  it('estimates as the command line does', async () => {
    const profile = builtInProfile('seed-bank');
    if (profile === null) throw new Error('a profile that is included');
    const own = estimate(plainWatch, { profile, years: 3, seed: 'x' });
    const command = ['estimate', '--no-color', '--profile', 'seed-bank', '--years', '3', '--json'];
    const ran = await runHere(ownFolder(), [...command, '--seed', 'x', '--jobs', '1']);
    const counts = Object.entries(own.rates).map(([name, { count }]) => [name, { count }]);
    expect(JSON.parse(ran.stdout)).toMatchObject({
      years: 3,
      rates: Object.fromEntries(counts),
      delays: { count: own.delays.count, worstMs: own.delays.worstMs },
    });
    expect(own.rates.falseAlarms.count).toBeGreaterThan(0);
  });

  it('gives the time left to a limit by one exponential', () => {
    // (22 - 8)/(22 - 4) = exp(-t/tau): t = tau * ln(18/14).
    const limit = { celsius: 8, passed: 'rising' } as const;
    const space = { startCelsius: 4, outsideCelsius: 22, limit, tauMs: 3_600_000 };
    const answer = margin({ ...space, worstDelayMs: 244_799, responseMs: 300_000 });
    const toLimitMs = Math.floor(3_600_000 * Math.log(18 / 14));
    expect(answer).toMatchObject({ toLimitMs, leftMs: toLimitMs - 544_799 });
    expect(namedLimits.map(({ name }) => name)).toContain('vaccines');
  });
});
