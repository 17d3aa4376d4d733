// Witnesses of bounds are scenarios that a replay on the command line reproduces to the millisecond.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesIn, ownFolder, runHere } from './run-here.js';

interface WitnessJson {
  readonly bound: string;
  readonly decidedAfterMs: number | null;
  readonly deliveredAfterMs: number | null;
  readonly file: string;
}

interface ReplayJson {
  readonly openings: readonly { readonly fromMs: number; readonly delayMs: number | null }[];
  readonly alerts: readonly { readonly decidedMs: number; readonly opening: number | null }[];
}

async function replayOf(folder: string, file: string, watch: string): Promise<ReplayJson> {
  const ran = await runHere(folder, ['replay', file, '-c', watch, '--json']);
  expect([0, 1]).toContain(ran.status);
  return JSON.parse(ran.stdout).replays[0];
}

const watches: readonly (readonly [string, string, readonly string[]])[] = [
  ['the plain watch', 'watch: {}\n', []],
  ['a quick recheck', 'watch: { checkInterval: 2m, recheckInterval: 20s }\n', []],
  [
    'two out of three',
    'watch: { escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 }\n',
    [],
  ],
  ['no cooldown', 'watch: { alertCooldown: 0s }\njudge: { leaveOpenAfter: 7m }\n', []],
  ['a long leave-open', 'watch: {}\njudge: { leaveOpenAfter: 2h, reportWithin: 3h }\n', []],
  ['woken by openings', 'watch: { wakeOn: opening, alertCooldown: 5m }\n', []],
  ['a drifting clock', 'device: { clockError: { min: -2%, max: 2% } }\n', []],
  [
    'ranges',
    'device: { bootTime: { min: 300ms, max: 500ms }, connectTime: { min: 2s, max: 8s } }\n',
    [],
  ],
  ['an outage', 'watch: { retry: { interval: 30s, attempts: 3 } }\n', ['--outage', '20m']],
  ['power losses and resets', 'watch: {}\n', ['--power-losses', '1', '--resets', '1']],
  ['chatter', 'watch: {}\n', ['--chatter', '4m']],
  ['holding until a reset', 'watch: { afterAlert: hold-until-reset, alertCooldown: 0s }\n', []],
];

describe('the witnesses of bounds', () => {
  it.each(watches)('for %s replay as they say', async (_, watch, options) => {
    const folder = ownFolder({ 'watch.yaml': watch });
    const args = ['bounds', '-c', 'watch.yaml', ...options, '--witness', 'wit', '--json'];
    const { stdout, status } = await runHere(folder, args);
    expect([0, 1]).toContain(status);
    const { witnesses, ...found }: { witnesses: readonly WitnessJson[] } & Record<string, unknown> =
      JSON.parse(stdout);
    expect(witnesses.map(({ bound }) => bound)).toContain('bestDelayMs');
    for (const { bound, file, decidedAfterMs, deliveredAfterMs } of witnesses) {
      const replay = await replayOf(folder, file, 'watch.yaml');
      const decided = replay.alerts.map(
        ({ decidedMs, opening }) => decidedMs - (replay.openings[opening ?? -1]?.fromMs ?? 0),
      );
      const delays = replay.openings.map(({ delayMs }) => delayMs);
      if (decidedAfterMs !== null) expect(decided).toContain(decidedAfterMs);
      if (deliveredAfterMs !== null) expect(delays).toContain(deliveredAfterMs);
      const claimed = bound.split('.').reduce<unknown>((value, key) => Object(value)[key], found);
      if (bound.includes('Delay')) expect(deliveredAfterMs).toBe(claimed);
    }
    // And each meets what it expects of itself.
    const suite = await runHere(folder, ['suite', 'wit', '-c', 'watch.yaml']);
    expect(suite.stdout).toMatch(/^\d+ scenarios? passed\.$/mu);
    expect(suite.status).toBe(0);
  });

  it('come with the watch they were made for, where no file says it', async () => {
    const folder = ownFolder();
    const ran = await runHere(folder, [
      'bounds',
      '--interval',
      '90s',
      '--threshold',
      '3',
      '--witness',
      'a b',
    ]);
    expect(ran.status).toBe(0);
    expect(ran.stdout).toContain('Witnesses:\n');
    const files = filesIn(folder);
    expect(files).toContain('a b/bounds-watch.yaml');
    for (const file of files.filter((name) => name !== 'a b/bounds-watch.yaml')) {
      const text = readFileSync(path.join(folder, file), 'utf8');
      expect(text).toContain(`dozewatch replay "${file}" -c "a b/bounds-watch.yaml"`);
    }
    const suite = await runHere(folder, ['suite', 'a b', '-c', 'a b/bounds-watch.yaml']);
    expect(suite.status).toBe(0);
  });

  it('take the place of a watch from standard input', async () => {
    const folder = ownFolder();
    const args = ['bounds', '-c', '-', '--witness', 'wit'];
    await runHere(folder, args, { stdin: 'watch: { checkInterval: 4m } # mine\n' });
    const watch = readFileSync(path.join(folder, 'wit', 'bounds-watch.yaml'), 'utf8');
    expect(watch).toMatch(/^# .*\nwatch: \{ checkInterval: 4m \} # mine\n$/u);
  });

  it('are left out, and counted, where a bouncing contact makes something else of them', async () => {
    const watch =
      'watch: { checkInterval: 3m, wakeOn: any-change, alertCooldown: 5m }\ndevice: { bootTime: 3ms }\n' +
      'contact: { operateGap: 8mm, releaseGap: 12mm, bounceTime: 40ms }\n';
    const folder = ownFolder({ 'watch.yaml': watch });
    const ran = await runHere(folder, ['bounds', '-c', 'watch.yaml', '--witness', 'wit']);
    expect(ran.status).toBe(1);
    const [, left] = /(\d+) more not written: the contact's bounce/u.exec(ran.stdout) ?? [];
    expect(Number(left)).toBeGreaterThan(0);
    const suite = await runHere(folder, ['suite', 'wit', '-c', 'watch.yaml']);
    expect(suite.status).toBe(0);
  });

  it('overwrite no input', async () => {
    const folder = ownFolder({ 'wit/bounds-watch.yaml': 'watch: {}\n' });
    const args = ['bounds', '-c', 'wit/bounds-watch.yaml', '--interval', '2m', '--witness', 'wit'];
    const { status, stderr } = await runHere(folder, args);
    expect(status).toBe(2);
    expect(stderr).toContain('[output-is-input]');
    expect(filesIn(folder)).toEqual(['wit/bounds-watch.yaml']);
    expect(readFileSync(path.join(folder, 'wit/bounds-watch.yaml'), 'utf8')).toBe('watch: {}\n');
  });
});
