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

interface Chosen {
  readonly settings: { readonly escalationThreshold: { readonly open: number } };
}

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

  it('names the fault that keeps every setting from a requirement, and says how often alerts repeat', async () => {
    const long = files['watch.yaml'].replace('6m5s', '20m');
    const two = ['--interval', '3m', '--threshold', '2', '--cooldown', '0s', '--years', '3'];
    const args = ['tune', '--profile', 'calm.yaml', ...two];
    const toldWith = async (
      environment: string,
      ...more: readonly string[]
    ): Promise<readonly [string, boolean, boolean]> => {
      const watch = `${long}environment: { ${environment} }\n`;
      const folder = ownFolder({ ...files, 'watch.yaml': watch });
      const words = await wordsOf(folder, [...args, ...more]);
      const [, why = ''] =
        /No setting can meet (.*?) \(environment: in the watch file\)/u.exec(words) ?? [];
      const repeats = / alert comes about every 3 min.* while the door stays open/iu.test(words);
      return [why, repeats, words.includes('What may go wrong (environment:')];
    };
    expect(await toldWith('longestOutage: 1h', '--any-state')).toEqual([
      '--sure-from 20m from any state while a network outage may last 1 h',
      true,
      false,
    ]);
    expect(await toldWith('longestOutage: 1h')).toEqual(['', true, false]);
    expect(await toldWith('longestOutage: 10m', '--any-state', '--worst-delay', '5m')).toEqual([
      '--worst-delay 5m while a network outage may last 10 min',
      true,
      false,
    ]);
    expect(await toldWith('powerLosses: 2, powerLossLasting: 15m')).toEqual([
      '--sure-from 20m while the power may be away for 30 min in all',
      true,
      false,
    ]);
    // Not beyond every setting, but beyond these.
    const one = ['--recheck', '3m', '--wake-on', 'timer'];
    expect(await toldWith('longestOutage: 10m', ...one, '--worst-delay', '10m30s')).toEqual([
      '',
      false,
      true,
    ]);
  });

  it('does not give up for bounds from any state what the present settings do at rest, or says so first', async () => {
    const watch = `watch: { checkInterval: 3m, recheckInterval: 2m, escalationThreshold: 2, alertCooldown: 20m }
judge: { leaveOpenAfter: 6m }
supply: { preset: bare-board, capacity: 1200mAh }
environment: { longestOutage: 1h }
`;
    // Many openings of some minutes, so that a higher threshold has far fewer false alarms.
    const busy = `openingsPerHour: { "6-18": 2 }
duration: { lognormal: { median: 2m, sigma: 0.8 } }
leaveOpen: { share: 1%, duration: { lognormal: { median: 40m, sigma: 0.3 } } }
`;
    const folder = ownFolder({ 'watch.yaml': watch, 'busy.yaml': busy });
    const grid = ['--interval', '3m', '--recheck', '2m,3m', '--wake-on', 'timer', '--years', '2'];
    const args = ['tune', '--profile', 'busy.yaml', '--any-state', '--prefer', 'quiet', ...grid];
    const relaxed = ['--sure-from', '1h10m', '--cooldown', '0s'];
    const askFor = async (...more: readonly string[]) => {
      const { stdout } = await runHere(folder, [...args, ...more, '-c', 'watch.yaml', '--json']);
      return JSON.parse(stdout);
    };
    const both = await askFor(...relaxed, '--threshold', '2,3');
    expect(both.present.atRest.alwaysReportedFromMs).toBeLessThanOrEqual(360_000);
    expect(both.recommended.settings.escalationThreshold.open).toBe(2);
    expect(both.recommended.atRest.alwaysReportedFromMs).toBeLessThanOrEqual(360_000);
    const openOf = ({ settings }: Chosen): number => settings.escalationThreshold.open;
    const quieter = both.front.find((one: Chosen) => openOf(one) === 3);
    expect(quieter.falseAlarms.high).toBeLessThan(both.recommended.falseAlarms.low);
    expect(both.alternatives.map(openOf)).toEqual([2, 2]);
    const told = await wordsOf(folder, [
      ...args,
      ...relaxed,
      '--threshold',
      '3',
      '-o',
      'tuned.yaml',
    ]);
    const proved = await runHere(folder, ['bounds', '-c', 'tuned.yaml']);
    const [share = 'none'] =
      /goes unreported [^;.]*/u.exec(proved.stdout.replaceAll(/\s+/gu, ' ')) ?? [];
    const first = told.slice(0, told.indexOf('Recommended, under watch:'));
    expect(first).toMatch(
      /NOT met even at rest: the settings below are sure only from .* \(yours: from /u,
    );
    expect(first).toContain(`a door left open for 6 min ${share}`);
    // Nothing is relaxed alone that would give it up, where something else does not.
    const requirementOf = (one: { readonly requirement: string }): string => one.requirement;
    const { relax, nearest } = await askFor(
      '--threshold',
      '2,3',
      '--cooldown',
      '0s',
      '--false-alarms',
      '500/year',
    );
    expect(relax.map(requirementOf)).toEqual(['sureFrom']);
    expect(relax[0].settings.escalationThreshold.open).toBe(3);
    expect(nearest.settings.escalationThreshold.open).toBe(2);
    expect(nearest.shortfalls.map(requirementOf)).toEqual(['sureFrom', 'falseAlarms']);
  });

  it('gives lives in days, however long, so that they compare with what is required', async () => {
    const supply =
      'supply: { preset: bare-board, sleepCurrent: 5uA, selfDischarge: 0.1%, capacity: 9000mAh }';
    const folder = ownFolder({
      ...files,
      'watch.yaml': `watch: { checkInterval: 3m }\n${supply}\n`,
    });
    const one = ['--interval', '3m,5m', '--recheck', '3m', '--threshold', '2', '--years', '1'];
    const told = await wordsOf(folder, [
      'tune',
      ...one,
      '--profile',
      'calm.yaml',
      '--life',
      '9999d',
    ]);
    const [, life = ''] = /at least 9999 d is required, ([\d,]+) d is/u.exec(told) ?? [];
    expect(Number(life.replace(',', ''))).toBeGreaterThan(2 * 366);
    const rows = told.slice(told.indexOf('Settings that no other beats'));
    expect(rows).toContain(` ${life} d `);
  });

  it('blames faults only for requirements that they alone keep settings from', async () => {
    const watch = `${files['watch.yaml']}environment: { longestOutage: 10m }\n`;
    const folder = ownFolder({ ...files, 'watch.yaml': watch });
    const one = ['--interval', '3m', '--recheck', '3m', '--threshold', '2', '--wake-on', 'timer'];
    const askFor = (...more: readonly string[]) =>
      wordsOf(folder, ['tune', ...one, '--profile', 'calm.yaml', '--years', '3', ...more]);
    const blame = 'What may go wrong (environment: in the watch file) keeps these settings from';
    expect(await askFor('--worst-delay', '12m')).toContain(
      `${blame} --worst-delay 12m: without faults they report within 6 min `,
    );
    // Too many false alarms are no fault of an outage, and a bound that is missed without it is none either.
    const loud = await askFor('--worst-delay', '1h', '--false-alarms', '1/year');
    expect(loud).toContain('Fails on false alarms per year');
    expect(loud).not.toContain(blame);
    const slow = await askFor('--worst-delay', '12m', '--sure-from', '4m');
    expect(slow).toContain('Fails on sure from');
    expect(slow).not.toContain(blame);
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

  it('names what gets worse from any state, where only bounds at rest are required', async () => {
    const plain =
      'watch: { checkInterval: 5m, recheckInterval: 1m, escalationThreshold: 2, alertCooldown: 20m }\ndevice: { bootTime: 400ms, connectTime: 4s }\njudge: { leaveOpenAfter: 4m, reportWithin: 6m }\nsupply: { preset: bare-board, capacity: 1200mAh, sleepCurrent: 90uA }\n';
    const folder = ownFolder({ ...files, 'plain.yaml': plain });
    const own = ['--interval', '30m', '--recheck', '1m30s', '--threshold', '3', '--years', '2'];
    const args = [
      'tune',
      '-c',
      'plain.yaml',
      '--profile',
      'calm.yaml',
      '--wake-on',
      'opening',
      ...own,
    ];
    const { status, stdout } = await runHere(folder, args);
    expect(status).toBe(0);
    const json = await runHere(folder, [...args, '--json']);
    const { presentFromAnyState: yours, recommendedFromAnyState: these } = JSON.parse(json.stdout);
    // 20 min of cooldown and less than a check of 5 min against 30 min between two checks.
    expect(yours.alwaysReportedFromMs).toBeLessThan(1_500_000);
    expect(these.alwaysReportedFromMs).toBeGreaterThan(1_800_000);
    const worse = /worse(?<what>[^]*?)no clear change/u.exec(stdout)?.groups?.['what'] ?? '';
    expect(worse).toContain('sure from: 30 min');
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
      64,
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
