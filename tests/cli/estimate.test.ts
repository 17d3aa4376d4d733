// `dozewatch estimate` and `merge` as a user meets them.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { passInterrupt } from '../../src/cli/host/interrupt.js';
import { codesIn, filesIn, ownFolder, runHere, withOptions } from './run-here.js';

const watch = `watch: { checkInterval: 5m }
device: { clockError: { min: -2%, max: 2% } }
judge: { leaveOpenAfter: 6m, reportWithin: 15m }
`;
const profile = `openingsPerHour: { "7-19": 0.3 }
duration: { lognormal: { median: 30s, sigma: 0.8 } }
leaveOpen: { share: 5%, duration: { exponential: { mean: 20m } } }
`;
const files = { 'watch.yaml': watch, 'room.yaml': profile };
const base = [
  'estimate',
  '-c',
  'watch.yaml',
  '--profile',
  'room.yaml',
  '--outage-rate',
  '6/year',
  '--outage-lasting',
  '1h',
];
const json = [...base, '--json'];

describe('estimate', () => {
  it('prints the same bytes for the same seed, and others for another', async () => {
    const folder = ownFolder(files);
    const first = await runHere(folder, [...json, '--years', '30']);
    const again = await runHere(folder, [...json, '--years', '30', '--jobs', '1']);
    const other = await runHere(folder, [...json, '--years', '30', '--seed', '2']);
    expect(first).toMatchObject({ status: 0, stderr: '' });
    expect(again.stdout).toBe(first.stdout);
    expect(other.stdout).not.toBe(first.stdout);
    expect(JSON.parse(first.stdout)).toMatchObject({
      schema: 'dozewatch/estimate/1',
      seed: '1',
      yearsAsked: 30,
      years: 30,
      stoppedBy: 'years',
      confidence: 0.95,
      outages: { perYear: 6, meanMs: 3_600_000 },
      powerCuts: null,
    });
  });

  it('judges a log that a profile is fitted to at every phase, as replay does', async () => {
    const rows = Array.from({ length: 20 }, (_, day) => {
      const at = (clock: string) => `2026-03-${String(day + 1).padStart(2, '0')} ${clock}`;
      return `${at('08:00:00')},${at('08:00:40')}\n${at('12:00:00')},${at('12:07:30')}\n`;
    });
    const folder = ownFolder({ ...files, 'doors.csv': `start,end\n${rows.join('')}` });
    const estimate = [
      'estimate',
      '-c',
      'watch.yaml',
      '--profile-from',
      'doors.csv',
      '--years',
      '1',
    ];
    const { status, stdout } = await runHere(folder, [...estimate, '--json']);
    expect(status).toBe(0);
    const { log } = JSON.parse(stdout);
    const replay = ['replay', 'doors.csv', '-c', 'watch.yaml', '--every-phase', '--json'];
    const { replays } = JSON.parse((await runHere(folder, replay)).stdout);
    const { summary } = replays[0];
    expect(log.leaveOpens).toBe(20);
    for (const name of ['expectedMissed', 'expectedLate', 'expectedFalseAlarms', 'phaseLengthMs']) {
      expect(log[name]).toBeCloseTo(summary[name], 6);
    }
    expect(log.expectedMissed).toBeGreaterThan(0);
  });

  it('stops at a wanted precision, after the same year each time, and says when it was not reached', async () => {
    const folder = ownFolder(files);
    const precise = ['--precision', '5%', '--precision-of', 'missed'];
    const { stdout } = await runHere(folder, [...json, ...precise]);
    const { years, stoppedBy, rates } = JSON.parse(stdout);
    expect(stoppedBy).toBe('precision');
    expect(years % 100).toBe(0);
    expect((rates.missed.high - rates.missed.low) / 2 / rates.missed.perYear).toBeLessThan(0.05);
    const short = await runHere(folder, [...json, ...precise, '--years', '2']);
    expect(codesIn(short.stderr)).toEqual(['precision-not-reached']);
    expect(short.status).toBe(0);
  });

  it('interrupted, reports the years done so far as such, and ends with 130', async () => {
    const folder = ownFolder(files);
    let looks = 0;
    const io = {
      elapsed: () => {
        looks += 1;
        if (looks === 4) passInterrupt();
        return looks * 1_000;
      },
    };
    const args = [...base, '--years', '100000', '--no-color'];
    const { status, stdout } = await runHere(folder, args, { io, terminalColumns: 90 });
    expect(status).toBe(130);
    expect(stdout).toMatch(/device-years +\d+ of 100,000: interrupted/u);
    expect(passInterrupt()).toBe(false);
  });
});

describe('shards', () => {
  it('merge, in any order, into the bytes of one run', async () => {
    const folder = ownFolder(files);
    const years = ['--years', '31'];
    for (const index of ['1', '2', '3']) {
      const shard = ['--shard', `${index}/3`, '-o', `part-${index}.json`];
      expect((await runHere(folder, [...base, ...years, ...shard])).status).toBe(0);
    }
    const parts = ['part-3.json', 'part-1.json', 'part-2.json'];
    for (const style of [[], ['--json'], ['--confidence', '80%']]) {
      const whole = await runHere(folder, [...base, ...years, ...style]);
      expect(await runHere(folder, ['merge', ...parts, ...style])).toEqual(whole);
    }
    const missing = await runHere(folder, ['merge', 'part-3.json', 'part-1.json']);
    expect([missing.status, ...codesIn(missing.stderr)]).toEqual([2, 'part-missing']);
    const cut = await runHere(folder, ['merge', 'part-1.json', 'part-2.json']);
    expect([cut.status, ...codesIn(cut.stderr)]).toEqual([2, 'part-missing']);
    const twice = await runHere(folder, ['merge', ...parts, 'part-2.json']);
    expect([twice.status, ...codesIn(twice.stderr)]).toEqual([2, 'part-twice']);
  });

  it('of other estimates, or no parts at all, do not merge', async () => {
    const folder = ownFolder({ ...files, 'other.yaml': watch.replace('15m', '16m') });
    const part = (name: string, ...more: readonly string[]) =>
      runHere(folder, withOptions(base, ['--years', '4', '-o', name, ...more]));
    await part('one.json', '--shard', '1/2');
    await part('seed.json', '--shard', '2/2', '--seed', '7');
    await part('watch.json', '--shard', '2/2', '-c', 'other.yaml');
    const text = readFileSync(path.join(folder, 'one.json'), 'utf8');
    const broken = {
      'cut.json': text.slice(0, 200),
      'list.json': '[]',
      'schema.json': text.replace('estimate-part/9', 'estimate-part/two'),
      'zero.json': text.replace('estimate-part/9', 'estimate-part/0'),
      'count.json': text.replace(/"missed":\d+/u, '"missed":-1'),
      'sum.json': text.replace(/"reported":\d+/u, '"reported":9999'),
      'lost.json': text.replace('"missedByLoss":0', '"missedByLoss":9999'),
      'years.json': text.replace('"to":2', '"to":3'),
    };
    const dump = ownFolder({ ...broken, 'one.json': text });
    for (const name of ['seed.json', 'watch.json']) {
      const { status, stderr } = await runHere(folder, ['merge', 'one.json', name]);
      expect([status, ...codesIn(stderr)]).toEqual([2, 'part-of-another']);
    }
    const schema = 'dozewatch/estimate-part/';
    expect(text).toContain(`"schema":"${schema}9"`);
    for (const [version, word] of [
      ['1', 'older'],
      ['10', 'newer'],
    ] as const) {
      const changed = text.replace(`${schema}9`, `${schema}${version}`);
      const other = ownFolder({ 'other.json': changed, 'one.json': text });
      for (const names of [['other.json'], ['one.json', 'other.json']]) {
        const { status, stderr } = await runHere(other, ['merge', ...names]);
        expect([status, ...codesIn(stderr)]).toEqual([2, 'part-of-another-version']);
        expect(stderr).toContain(`a${version === '1' ? 'n' : ''} ${word} version of dozewatch`);
      }
    }
    for (const name of Object.keys(broken)) {
      const { status, stderr } = await runHere(dump, ['merge', name]);
      expect([name, status, ...codesIn(stderr)]).toEqual([name, 2, 'not-a-part']);
    }
  });
});

describe('bad input', () => {
  it.each([
    [['--profile', 'flower-stor'], 'profile-unknown'],
    [['--years', '0'], 'not-a-whole-number'],
    [['--years', '1e3'], 'not-a-whole-number'],
    [['--jobs', '-1'], 'not-a-whole-number'],
    [['--confidence', '100%'], 'out-of-range'],
    [['--confidence', '0.95'], 'share-without-unit'],
    [['--precision', '0%'], 'out-of-range'],
    [['--precision-of', 'late'], 'precision-missing'],
    [['--outage-rate', 'x/year', '--outage-lasting', '30m'], 'rate-unreadable'],
    [['--outage-rate', '12', '--outage-lasting', '30m'], 'rate-unreadable'],
    [['--outage-rate', '401/year', '--outage-lasting', '30m'], 'out-of-range'],
    [['--outage-rate', '12/year', '--outage-lasting', '30'], 'duration-without-unit'],
    [['--outage-rate', '12/year', '--outage-lasting', '40d'], 'out-of-range'],
    [['--power-loss-rate', '1/year', '--power-loss-lasting', '0s'], 'out-of-range'],
    [['--shard', '1/2'], 'output-missing'],
    [['--shard', '0/2', '-o', 'p.json'], 'shard-unreadable'],
    [['--shard', '3/2', '-o', 'p.json'], 'shard-unreadable'],
    [['--shard', '1/2', '-o', 'watch.yaml'], 'output-is-input'],
    [['--shard', '1/2', '-o', '-'], 'output-is-stdout'],
    [['--shard', '1/2', '-o', 'p.json', '--json'], 'json-with-shard'],
    [['--shard', '1/2', '-o', 'p.json', '--precision', '5%'], 'shard-with-precision'],
    [['--shard', '1/20', '-o', 'p.json', '--years', '10'], 'shard-empty'],
    [['-o', 'p.json'], 'output-without-shard'],
    [['-c', '-', '--profile', '-'], 'standard-input-twice'],
  ])('%j is one error, %s, and leaves nothing behind', async (more, code) => {
    const folder = ownFolder(files);
    const { status, stdout, stderr } = await runHere(folder, withOptions(base, more));
    expect([status, stdout, ...codesIn(stderr)]).toEqual([2, '', code]);
    expect(filesIn(folder)).toEqual(['room.yaml', 'watch.yaml']);
  });

  it.each([
    ['doors.csv', 'time,state\n2026-05-08T06:00:00Z,open\n2026-05-08T06:01:00Z,shut\n'],
    ['doors.txt', 'start;end\n2026-05-08 06:00;2026-05-08 06:01\n'],
  ])('a door log in place of a profile, %s, is named as one', async (log, text) => {
    const folder = ownFolder({ ...files, [log]: text });
    const { status, stderr } = await runHere(folder, withOptions(base, ['--profile', log]));
    expect([status, ...codesIn(stderr)]).toEqual([2, 'profile-is-log']);
    expect(stderr).toContain(`--profile-from ${log}`);
  });
});

describe('a profile that was fitted with another leaveOpenAfter', () => {
  const fitted = `${profile.replace('exponential: { mean: 20m }', 'drawn: [6m, 6m30s, 7m, 12m, 40m]')}fitted:
  days: 30
  openings: 60
  leaveOpens: 5
  leaveOpensApart: 5
  leaveOpenAfter: 6m
  resamples: []
`;
  const of = async (after: string, text = fitted) => {
    const folder = ownFolder({
      ...{ 'watch.yaml': watch.replace('leaveOpenAfter: 6m', `leaveOpenAfter: ${after}`) },
      'room.yaml': text,
    });
    const args = ['estimate', '-c', 'watch.yaml', '--profile', 'room.yaml', '--years', '40'];
    const ran = await runHere(folder, [...args, '--json']);
    return { codes: codesIn(ran.stderr), json: JSON.parse(ran.stdout) };
  };

  it('has intervals as wide as its own leave-opens allow, with a warning', async () => {
    const { codes, json } = await of('11m');
    expect(codes).toContain('profile-fitted-otherwise');
    const refitted = fitted
      .replace('leaveOpens: 5', 'leaveOpens: 2')
      .replace('leaveOpensApart: 5', 'leaveOpensApart: 2')
      .replace('leaveOpenAfter: 6m', 'leaveOpenAfter: 11m');
    const again = await of('11m', refitted);
    expect(again.codes).not.toContain('profile-fitted-otherwise');
    expect(json.leaveOpens).toEqual(again.json.leaveOpens);
    // None of 2 missed: up to 77.6 % stay possible.
    expect(json.shares.missed.high).toBeGreaterThan(0.77);
    expect(json.rates.missed.high).toBeGreaterThanOrEqual(again.json.rates.missed.high);
  });

  it('is as it was where it is the same', async () => {
    const { codes, json } = await of('6m');
    expect(codes).not.toContain('profile-fitted-otherwise');
    expect(json.leaveOpens.low).toBeGreaterThan((365 / 30) * 1.6);
  });
});
