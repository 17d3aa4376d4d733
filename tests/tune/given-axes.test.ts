// Settings that a search tries only where values are given for them.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { gridOf, programsOf, prover, watchWith } from '../../src/tune/index.js';
import { codesIn, ownFolder, runHere } from '../cli/run-here.js';
import { axes, question } from './grid-of-trials.js';

const files = {
  'watch.yaml': `watch: { checkInterval: 3m, recheckInterval: 1m, retry: { interval: 1m, attempts: 4 } } # ours
judge: { leaveOpenAfter: 20m }
environment: { longestOutage: 10m }
supply: { preset: bare-board, capacity: 1200mAh }
`,
  'calm.yaml': `openingsPerHour: { "6-18": 0.3 }
duration: { lognormal: { median: 25s, sigma: 0.8 } }
`,
};
const fixed = '--interval 3m --recheck 1m --threshold 2 --wake-on timer --years 1'.split(' ');
const base = ['tune', '-c', 'watch.yaml', '--profile', 'calm.yaml', ...fixed];

describe('settings that are tried only where values are given', () => {
  it('multiply the grid only where they are given', () => {
    const plain = gridOf(axes);
    expect(gridOf({ ...axes, clearThreshold: [1, 2], retryAttempts: [3] })).toEqual(
      plain.flatMap((one) =>
        [1, 2].map((clearThreshold) => ({ ...one, clearThreshold, retryAttempts: 3 })),
      ),
    );
  });

  it('have logics of their own where the logic depends on them', () => {
    const programOf = programsOf(question.watch);
    const [tuned] = gridOf(axes);
    if (tuned === undefined) throw new Error('the grid has settings');
    const beating = { ...tuned, heartbeatIntervalMs: deviceMs(3_600_000) };
    expect(programOf(beating).watch.heartbeats).toBe(true);
    expect(programOf(beating).table).not.toBe(programOf(tuned).table);
    expect(programOf({ ...tuned, clearThreshold: 2 }).table).not.toBe(programOf(tuned).table);
    expect(watchWith(question.watch, tuned).heartbeats).toBe(false);
    expect(prover(question)({ ...tuned, clearThreshold: 2 }).isKnown).toBe(true);
  });

  it('reach the answer, its proof, and the file that is written', async () => {
    const folder = ownFolder(files);
    const args = [
      '--retry',
      '30s,2m',
      '--clear',
      '1..2',
      '--heartbeat',
      'off,12h',
      '-o',
      'tuned.yaml',
    ];
    const { status, stdout } = await runHere(folder, [...base, ...args, '--json']);
    expect(status).toBe(0);
    const { searched, recommended, present } = JSON.parse(stdout);
    expect(searched).toBe(8);
    // An alert waits for the end of the outage and then at most one retry: the shorter retry is the sooner.
    expect(recommended.settings).toMatchObject({
      retryIntervalMs: 30_000,
      clearThreshold: 1,
      heartbeatIntervalMs: null,
    });
    expect(present.settings).toMatchObject({ retryIntervalMs: 60_000, clearThreshold: 1 });
    expect(recommended.settings).not.toHaveProperty('retryAttempts');
    const bounds = await runHere(folder, ['bounds', '-c', 'tuned.yaml', '--json']);
    expect(JSON.parse(bounds.stdout).worstDelayMs.atRest).toBe(recommended.worstDelayMs);
  });

  it.each([
    [['--clear', '0'], 'out-of-range'],
    [['--clear', '3..1'], 'range-upside-down'],
    [['--retry', '30'], 'duration-without-unit'],
    [['--heartbeat', 'never'], 'duration-unreadable'],
  ])('refuses %j with one error: %s', async (args, code) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), [...base, ...args]);
    expect([status, stdout, codesIn(stderr)]).toEqual([2, '', [code]]);
    expect(stderr).toContain(args[0]);
  });
});
