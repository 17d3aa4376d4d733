// The library entry: what its own documentation shows works, with text in and a verdict out.
import { describe, expect, it } from 'vitest';
import {
  compileWatch,
  explain,
  judge,
  openDoorLog,
  parseScenario,
  parseWatchFile,
  type Result,
  simulate,
  type Timeline,
  timelineChart,
  timelineOf,
  timelineOfLog,
  unmetExpectations,
} from '../../src/index.js';

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
});
