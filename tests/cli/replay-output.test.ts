// What `dozewatch replay` gives to other programs, and what it can be told.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, falseDay, missedDay, reportedDay } from './scenes.js';

const files = {
  'watch.yaml': exactWatch,
  'reported.yaml': reportedDay,
  'missed.yaml': missedDay,
  'false.yaml': falseDay,
  'calm.yaml': calmDay,
};
const withWatch = ['-c', 'watch.yaml'];

describe('replay --json', () => {
  it('prints one object with just the documented keys', async () => {
    const folder = ownFolder(files);
    const { stdout } = await runHere(folder, ['replay', 'reported.yaml', ...withWatch, '--json']);
    const { watch, replays, ...rest } = JSON.parse(stdout);
    expect(rest).toEqual({ schema: 'dozewatch/replay/2' });
    expect(watch.file).toBe('watch.yaml');
    expect(watch.settings).toMatchObject({
      watch: { checkInterval: '1m40s', recheckInterval: '1m40s', heartbeatInterval: 'off' },
      judge: { reportWithin: '5m', quietUpTo: null },
      contact: null,
    });
    expect(replays).toEqual([
      {
        file: 'reported.yaml',
        name: 'Trolley through the hatch',
        start: '2026-05-08T06:00:00.000+02:00',
        zone: '+02:00',
        lengthMs: 3_600_000,
        powerOnMs: 0,
        required: { leaveOpenAfterMs: 180_000, reportWithinMs: 300_000, quietUpToMs: null },
        summary: {
          openings: 1,
          leaveOpens: 1,
          reported: 1,
          late: 0,
          missed: 0,
          undecided: 0,
          unpowered: 0,
          unknown: 0,
          alerts: 1,
          falseAlarms: 0,
          earlyAlerts: 1,
          repeats: 0,
          checks: 36,
          worstDelayMs: 150_000,
        },
        openings: [
          {
            fromMs: 150_000,
            toMs: 750_000,
            durationMs: 600_000,
            outcome: 'reported',
            delayMs: 150_000,
          },
        ],
        alerts: [{ decidedMs: 300_000, deliveredMs: 300_000, kind: 'early', opening: 0 }],
        reasons: [],
        repairs: [],
        unavailable: [],
        expectations: [],
        proved: { atRest: false, anyState: false },
      },
    ]);
  });

  it('prints null for what is still open and what was never told', async () => {
    const text = missedDay.replace('for: 190s', 'until: end');
    const folder = ownFolder({ ...files, 'open.yaml': text });
    const { stdout } = await runHere(folder, ['replay', 'open.yaml', ...withWatch, '--json']);
    const [found] = JSON.parse(stdout).replays;
    expect(found.openings[0]).toMatchObject({ toMs: null, durationMs: 3_499_000 });
    expect(found.summary.worstDelayMs).toBe(found.openings[0].delayMs);
  });

  it('prints several in order, each with its file, its name and its reasons', async () => {
    const folder = ownFolder(files);
    const args = ['replay', 'calm.yaml', 'false.yaml', ...withWatch, '--json'];
    const { stdout } = await runHere(folder, args);
    const found = JSON.parse(stdout);
    expect(found.replays).toMatchObject([
      { file: 'calm.yaml', name: 'Nobody comes', openings: [], reasons: [] },
      {
        file: 'false.yaml',
        name: 'Twice looked at',
        summary: { falseAlarms: 1 },
        reasons: [{ of: 'alert', index: 0 }],
      },
    ]);
  });

  it('keeps standard output to JSON when there is something to warn of', async () => {
    const cancelled = exactWatch.replace(
      'escalationThreshold: 2',
      'escalationThreshold: { open: 2, outOf: 3 }',
    );
    const folder = ownFolder({ ...files, 'odd.yaml': cancelled });
    const { stdout, stderr, status } = await runHere(folder, [
      'replay',
      'calm.yaml',
      '-c',
      'odd.yaml',
      '--json',
    ]);
    expect(status).toBe(0);
    expect(JSON.parse(stdout).schema).toBe('dozewatch/replay/2');
    expect(stderr).toMatch(/^warning: odd\.yaml:\d+/u);
  });
});

describe('what replay is told', () => {
  it('reads a scenario, or the watch file, from standard input', async () => {
    const folder = ownFolder(files);
    const piped = await runHere(
      folder,
      ['replay', '-', '--format', 'scenario', ...withWatch, '--json'],
      { stdin: missedDay },
    );
    expect(JSON.parse(piped.stdout).replays[0].summary.missed).toBe(1);
    const watch = await runHere(folder, ['replay', 'missed.yaml', '-c', '-', '--json'], {
      stdin: exactWatch,
    });
    expect(JSON.parse(watch.stdout).replays[0].summary.missed).toBe(1);
  });

  it('moves the power-on, which moves every check', async () => {
    const folder = ownFolder(files);
    const args = ['replay', 'false.yaml', ...withWatch, '--json', '--power-on-at'];
    const now = JSON.parse((await runHere(folder, [...args, '0s'])).stdout).replays[0];
    expect(now.summary.falseAlarms).toBe(1);
    const later = JSON.parse((await runHere(folder, [...args, '50s'])).stdout).replays[0];
    expect(later.summary.falseAlarms).toBe(0);
    expect(later.summary.checks).toBe(36);
  });

  it('writes the trace: one object a wake, with local times', async () => {
    const folder = ownFolder(files);
    await runHere(folder, ['replay', 'reported.yaml', ...withWatch, '--trace', 'wakes.ndjson']);
    const lines = readFileSync(path.join(folder, 'wakes.ndjson'), 'utf8').trimEnd().split('\n');
    const wakes = lines.map((line) => JSON.parse(line));
    const checks = wakes.reduce(
      (sum: number, wake) => sum + (wake.check === null ? 0 : 1 + Number(wake.repeats)),
      0,
    );
    expect(checks).toBe(36);
    const alert = wakes.find((wake) => wake.check?.decision === 'alert');
    expect(alert).toMatchObject({
      wakeMs: 300_000,
      wakeAt: '2026-05-08T06:05:00.000+02:00',
      cause: 'timer',
      check: { atMs: 300_000, contact: 'open', door: 'open', opening: 0, escalated: true },
      memoryBefore: { recentChecks: ['open'] },
      memoryAfter: { recentChecks: ['open', 'open'] },
      alertSend: { outcome: 'delivered' },
    });
  });

  it('draws the picture as SVG or PNG, as the name says', async () => {
    const folder = ownFolder(files);
    await runHere(folder, ['replay', 'missed.yaml', ...withWatch, '--chart', 'a.svg']);
    await runHere(folder, ['replay', 'missed.yaml', ...withWatch, '--chart', 'a.png']);
    expect(readFileSync(path.join(folder, 'a.svg'), 'utf8')).toContain('<svg');
    expect(readFileSync(path.join(folder, 'a.png')).subarray(1, 4).toString()).toBe('PNG');
  });
});
