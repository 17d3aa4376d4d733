// `dozewatch tune` from options and files to exit status.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hourMs, roundedDurationText } from '../../src/base/index.js';
import { passInterrupt } from '../../src/cli/host/interrupt.js';
import { codesIn, ownFolder, runHere, withOptions } from '../cli/run-here.js';

const files = {
  'watch.yaml': `watch: { checkInterval: 3m, escalationThreshold: 2 }
judge: { leaveOpenAfter: 6m5s }
supply: { preset: bare-board, capacity: 1200mAh }
`,
  'bare.yaml': 'watch: { checkInterval: 3m }\n',
  'calm.yaml': `openingsPerHour: { "6-18": 0.3 }
duration: { lognormal: { median: 25s, sigma: 0.8 } }
leaveOpen: { share: 5%, duration: { lognormal: { median: 20m, sigma: 0.6 } } }
`,
};
const small = ['--interval', '1m..5m', '--recheck', '1m,3m', '--threshold', '1..2', '--years', '3'];
const base = ['tune', '-c', 'watch.yaml', '--profile', 'calm.yaml', ...small];

/** What a command prints of watch.yaml, each run of spaces one space. */
async function wordsOf(folder: string, args: readonly string[]): Promise<string> {
  const { stdout } = await runHere(folder, [...args, '-c', 'watch.yaml']);
  return stdout.replaceAll(/\s+/gu, ' ');
}

describe('tune', () => {
  it('recommends settings, and writes a watch file that estimate finds as good', async () => {
    const folder = ownFolder(files);
    const args = [...base, '--worst-delay', '8m', '--output', 'tuned.yaml', '--json'];
    const { status, stdout } = await runHere(folder, args);
    expect(status).toBe(0);
    const answer = JSON.parse(stdout);
    expect(answer).toMatchObject({
      schema: 'dozewatch/tune/1',
      asked: { sureFromMs: 365_000, worstDelayMs: 480_000, lifeMs: null },
      relax: [],
      nearest: null,
    });
    const { recommended } = answer;
    expect(recommended.worstDelayMs).toBeLessThanOrEqual(480_000);
    const bounds = await runHere(folder, ['bounds', '-c', 'tuned.yaml', '--json']);
    expect(bounds.status).toBe(0);
    expect(JSON.parse(bounds.stdout).alwaysReportedFromMs.atRest).toBe(
      recommended.alwaysReportedFromMs,
    );
    const years = ['--profile', 'calm.yaml', '--years', '3', '--json'];
    const estimate = await runHere(folder, ['estimate', '-c', 'tuned.yaml', ...years]);
    const { rates } = JSON.parse(estimate.stdout);
    expect(rates.falseAlarms).toMatchObject(recommended.falseAlarms);
    expect(rates.missed).toMatchObject(recommended.missed);
  });

  it('names the outage that keeps every setting from a requirement, and says what no cooldown means', async () => {
    const long = files['watch.yaml'].replace('6m5s', '20m');
    const two = ['--interval', '3m', '--threshold', '2', '--cooldown', '0s', '--years', '3'];
    const args = ['tune', '-c', 'watch.yaml', '--profile', 'calm.yaml', ...two];
    const toldWith = async (
      outage: string,
      ...more: readonly string[]
    ): Promise<[boolean, boolean]> => {
      const watch = `${long}environment: { longestOutage: ${outage} }\n`;
      const folder = ownFolder({ ...files, 'watch.yaml': watch });
      const { stdout } = await runHere(folder, [...args, ...more]);
      const words = stdout.replaceAll(/\s+/gu, ' ');
      return [
        words.includes('from any state while a network outage may last 1 h'),
        words.includes('Without a cooldown, every check'),
      ];
    };
    expect(await toldWith('1h', '--any-state')).toEqual([true, true]);
    expect(await toldWith('1h')).toEqual([false, false]);
    expect(await toldWith('10m', '--any-state', '--worst-delay', '5m')).toEqual([false, true]);
  });

  it('prints bounds of more than an hour as bounds and margin do, in words and pictures', async () => {
    const watch = `${files['watch.yaml']}environment: { longestOutage: 1h }\n`;
    const folder = ownFolder({ ...files, 'watch.yaml': watch });
    const { stdout: proved } = await runHere(folder, ['bounds', '-c', 'watch.yaml', '--json']);
    const { alwaysReportedFromMs: sure, worstDelayMs: worst } = JSON.parse(proved);
    expect(worst.atRest).toBeGreaterThan(hourMs);
    const text = (ms: number): string => roundedDurationText(ms, 'at most');
    const one = ['--interval', '3m', '--recheck', '3m', '--threshold', '2', '--wake-on', 'timer'];
    const years = ['--profile', 'calm.yaml', '--years', '1', '--worst-delay', '10m'];
    const from = ['--cooldown', '30m', '--any-state', '--chart', 'tune.svg'];
    const tuned = await wordsOf(folder, ['tune', ...one, ...years, ...from]);
    expect(tuned).toContain(text(worst.anyState));
    expect(tuned).toContain(text(sure.anyState));
    await wordsOf(folder, ['bounds', '--chart', 'bounds.svg']);
    const warms = ['--start', '15C', '--outside', '24C', '--limit', '18C', '--tau-open', '2h'];
    const margin = await wordsOf(folder, ['margin', ...warms, '--chart', 'margin.svg']);
    expect(margin).toContain(text(worst.atRest));
    const drawn = (name: string): string =>
      readFileSync(join(folder, `${name}.svg`), 'utf8').replaceAll('\u00a0', ' ');
    expect(drawn('tune')).toContain(text(worst.anyState));
    expect(drawn('bounds')).toContain(text(worst.atRest));
    expect(drawn('margin')).toContain(text(worst.atRest));
  });

  it('keeps the settings where only a requirement has to give way', async () => {
    const folder = ownFolder(files);
    const own = ['--interval', '3m', '--recheck', '3m', '--threshold', '2', '--years', '3'];
    const args = ['tune', '-c', 'watch.yaml', '--profile', 'calm.yaml', ...own, '--life', '900d'];
    const { status, stdout } = await runHere(folder, args);
    expect(status).toBe(1);
    expect(stdout).toMatch(
      /Relax one requirement, --life 900d to --life \d+d, and keep your settings\.\nWith these a charge lasts/u,
    );
  });

  it.each([
    ['while proving', 2, /Interrupted: \d+ of \d+ settings were proved\./u],
    [
      'while living',
      45,
      /Interrupted: all \d+ settings were proved, and \d+ of them were simulated/u,
    ],
  ])('interrupted %s, claims nothing, writes nothing, and ends with 130', async (_, look, told) => {
    const folder = ownFolder(files);
    let looks = 0;
    const io = {
      elapsed: () => {
        looks += 1;
        if (looks === look) passInterrupt();
        return looks * 10;
      },
    };
    const args = [...base, '--output', 'tuned.yaml', '--chart', 'front.svg', '--json'];
    const { status, stdout, stderr } = await runHere(folder, args, { io, terminalColumns: 90 });
    expect([status, stdout]).toEqual([130, '']);
    expect(stderr).toMatch(told);
    expect(stderr).toContain('nothing is claimed, and nothing is written');
    expect(readdirSync(folder).toSorted()).toEqual(Object.keys(files).toSorted());
    expect(passInterrupt()).toBe(false);
  });

  it.each([
    [['--profile', 'calm.yaml', '-c', 'bare.yaml'], 'supply-missing'],
    [withOptions(base.slice(1), ['--quiet-up-to', '7m']), 'requirements-contradict'],
    [withOptions(base.slice(1), ['--worst-delay', '2s']), 'requirements-contradict'],
    [withOptions(base.slice(1), ['--life', '0s']), 'out-of-range'],
    [withOptions(base.slice(1), ['--false-alarms', '0/year']), 'out-of-range'],
    [withOptions(base.slice(1), ['--false-alarms', '0.01/year']), 'years-too-few'],
    [withOptions(base.slice(1), ['--interval', '5m..1m']), 'range-upside-down'],
    [withOptions(base.slice(1), ['--interval', '1m..10m/0s']), 'out-of-range'],
    [withOptions(base.slice(1), ['--interval', '3']), 'duration-without-unit'],
    [withOptions(base.slice(1), ['--threshold', '3..1']), 'range-upside-down'],
    [
      withOptions(base.slice(1), ['--interval', '1m..30m/1s', '--recheck', '1s..1m/1s']),
      'too-many-settings',
    ],
    [withOptions(base.slice(1), ['--output', 'watch.yaml']), 'output-is-input'],
    [withOptions(base.slice(1), ['--chart', 'front.gif']), 'unknown-picture'],
  ])('refuses %j with one error: %s', async (args, code) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), ['tune', ...args]);
    expect([status, stdout, codesIn(stderr)]).toEqual([2, '', [code]]);
  });
});
