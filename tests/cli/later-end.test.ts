// A timeline that ends while an alert is being sent: the later end that is suggested shows that it is delivered.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { itemAt, trueMs } from '../../src/base/index.js';
import { simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { laterEndMs } from '../../src/wording/index.js';
import { experiments, type Scale, someLogics } from '../support/arbitraries.js';
import { asked } from '../support/experiments.js';
import { assertUntil } from '../support/until-seen.js';
import { ownFolder, runHere } from './run-here.js';

const files = {
  'watch.yaml':
    'watch: { checkInterval: 2m, escalationThreshold: 2 }\ndevice: { connectTime: 1m }\njudge: { leaveOpenAfter: 3m }\n',
  'log.csv':
    'start,end\n2026-06-01 08:00:00,2026-06-01 08:00:40\n2026-06-01 12:00:00,2026-06-01 12:04:30\n',
  'day.yaml':
    'length: 2h5s\npowerOnAt: +57s\ndoor: [at 01:55:25 for 4m30s]\nexpect: { missed: 0 }\n',
};
const zone = ['--zone', 'Europe/Oslo'];

/** The command of the next line. */
function nextIn(stdout: string): readonly string[] {
  const next = /^Next: .*: dozewatch (.*)$/mu.exec(stdout)?.[1];
  return next?.split(' ') ?? [];
}

describe('a timeline that ends while an alert is being sent', () => {
  it('has a next line for a log with which the alert is delivered', async () => {
    const folder = ownFolder(files);
    const first = await runHere(folder, ['replay', 'log.csv', ...zone, '--power-on-at', '60s']);
    expect(first.status).toBe(1);
    const next = nextIn(first.stdout);
    expect(next.slice(-2)).toEqual(['--until', '2026-06-01T12:06:00+02:00']);
    const second = await runHere(folder, next);
    expect([second.status, nextIn(second.stdout)]).toEqual([0, []]);
  });

  it('has one for every phase that leaves no miss', async () => {
    const folder = ownFolder(files);
    const first = await runHere(folder, ['replay', 'log.csv', ...zone, '--every-phase']);
    expect(first.status).toBe(1);
    const next = nextIn(first.stdout);
    expect(next).toContain('--until');
    expect((await runHere(folder, next)).status).toBe(0);
    const shares = async (words: readonly string[]) => {
      const { stdout } = await runHere(folder, [...words, '--json']);
      const json: {
        replays: readonly {
          openings: readonly { reportedShare: number; cutOffShare: number }[];
        }[];
      } = JSON.parse(stdout);
      return itemAt(itemAt(json.replays, 0).openings, 1);
    };
    const { reportedShare, cutOffShare } = await shares([
      'replay',
      'log.csv',
      ...zone,
      '--every-phase',
    ]);
    expect(cutOffShare).toBeGreaterThan(0);
    expect(reportedShare + cutOffShare).toBeCloseTo(1, 9);
    expect(await shares(next)).toMatchObject({ reportedShare: 1, cutOffShare: 0 });
  });

  it('of a scenario names a length with which its expectations are met', async () => {
    const first = await runHere(ownFolder(files), ['replay', 'day.yaml']);
    expect(first.status).toBe(1);
    const length = /give a later end: length: (\S+)\)/u.exec(first.stdout)?.[1] ?? '';
    expect(length).toBe('2h2m');
    const longer = { ...files, 'day.yaml': files['day.yaml'].replace('2h5s', length) };
    expect((await runHere(ownFolder(longer), ['suite', '.'])).status).toBe(0);
  });

  it('keeps what the watch misses for other reasons as the next step', async () => {
    const twice = files['log.csv'].replace(
      '12:00:00,',
      '10:00:00,2026-06-01 10:03:10\n2026-06-01 12:00:00,',
    );
    const folder = ownFolder({ ...files, 'log.csv': twice });
    const { stdout } = await runHere(folder, ['replay', 'log.csv', ...zone, '--every-phase']);
    expect(stdout).toContain('of the phases only because the end of the timeline cuts');
    expect(nextIn(stdout)[0]).toBe('bounds');
  });
});

const small: Scale = {
  ...{ leastMs: 2, mostMs: 40, mostBootMs: 4, mostConnectMs: 30, lengthMs: 500 },
  errorPpm: 300_000,
};

it('the later end gives the alert the time to be delivered, in every run that has such an end', () => {
  const seen = { cut: 0, open: 0 };
  const start = { epochMs: 0, timeZone: 'UTC' };
  const property = fc.property(
    experiments(small, 4, someLogics),
    fc.integer({ min: 1, max: 90 }),
    fc.nat(),
    (drawn, leaveOpenAfterMs, pick) => {
      for (const one of drawn) {
        // The timeline ends within an attempt of the longer run.
        const sends = simulate(one).alerts.flatMap(({ attempts }) => attempts);
        const send = sends[pick % Math.max(1, sends.length)];
        if (send === undefined || send.endMs === send.startMs) continue;
        const length = send.startMs + 1 + (pick % (send.endMs - send.startMs));
        const lengthMs = trueMs(length);
        const required = asked({ leaveOpenAfterMs, reportWithinMs: null });
        const world = { ...one.world, lengthMs };
        const early = judge(world.openings, simulate({ ...one, world }), required);
        const { timing } = one;
        const endMs = laterEndMs({ world, timing, start, logged: null });
        if (early.cutOff === undefined || endMs === null) continue;
        const longer = { ...world, lengthMs: trueMs(endMs) };
        const late = judge(world.openings, simulate({ ...one, world: longer }), required);
        expect(late.openings.at(early.cutOff).outcome).not.toBe('missed');
        expect(late.openings.at(early.cutOff).delayMs).not.toBeNull();
        if (early.openings.at(early.cutOff).outcome === 'missed') seen.cut += 1;
        else seen.open += 1;
      }
    },
  );
  assertUntil(property, { numRuns: 100 }, () => Math.min(seen.cut, seen.open) >= 5);
});
