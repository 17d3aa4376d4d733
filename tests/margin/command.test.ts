// `dozewatch margin` from options and files to exit status.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere, withOptions } from '../cli/run-here.js';

const files = {
  'watch.yaml': 'watch: { checkInterval: 3m }\n',
  'outage.yaml': 'watch: { checkInterval: 3m }\nenvironment: { longestOutage: 1h }\n',
  'edge.yaml': 'watch: { wakeOn: opening, escalationThreshold: 1 }\n',
  'warming.csv':
    'time,temperature\n2026-05-08T06:00:00Z,1\n2026-05-08T06:10:00Z,2.1C\n2026-05-08T06:30:00Z,39.2F\n',
  'cooling.csv': 'time,temperature\n0m,3\n10m,2\n',
  'back.csv': 'time;temperature\n10m;1\n5m;2\n',
  'words.csv': 'time,temperature\n0m,cold\n10m,1\n',
  'rows.csv': '0m,1\n10m,2\n',
  'one.csv': 'time,temperature\n0m,3\n',
};
const space = ['margin', '--start', '1C', '--outside', '20C', '--limit', '5C'];
const soon = ['--worst-delay', '8m', '--response', '15m'];
const good = [...space, '--tau-open', '5h', ...soon];

describe('the answer of margin', () => {
  it.each(['watch.yaml', 'outage.yaml', 'edge.yaml'])(
    'takes the worst detection latency of %s as bounds proves it',
    async (file) => {
      const folder = ownFolder(files);
      const bounds = await runHere(folder, ['bounds', '-c', file, '--json']);
      const proved = JSON.parse(bounds.stdout).worstDelayMs.atRest;
      const { stdout } = await runHere(folder, [
        ...space,
        '--tau-open',
        '5h',
        '-c',
        file,
        '--json',
      ]);
      expect(JSON.parse(stdout)).toMatchObject({ worstDelayMs: proved, delayFrom: 'watch-file' });
    },
  );

  it('fits readings, takes the latency of a watch file, and looks at the doorway', async () => {
    const doorway = ['--door-width', '1m', '--door-height', '2m', '--volume', '12m3'];
    const args = [...space, '--readings', 'warming.csv', '-c', 'watch.yaml', ...doorway, '--json'];
    const { status, stdout } = await runHere(ownFolder(files), args);
    expect(status).toBe(1);
    const answer = JSON.parse(stdout);
    expect(answer).toMatchObject({
      schema: 'dozewatch/margin/1',
      limit: { celsius: 5, passed: 'rising', name: null },
      delayFrom: 'watch-file',
      worstDelayMs: 2 * 180_400 + 4_000 - 1,
      cases: [
        { kind: 'readings', fitted: { readings: 3 }, exchange: null },
        { kind: 'doorway', fitted: null },
      ],
    });
    expect(answer.cases[0].tauMs / 60_000).toBeCloseTo(174, -1);
  });
});

describe('what margin names next', () => {
  const soonDark = [...space, '--tau-open', '2h', '--response', '15m'];

  it('is bounds without what keeps every setting from being in time, and that runs', async () => {
    const supply = 'supply: { preset: bare-board, capacity: 1200mAh }\n';
    const folder = ownFolder({
      'outage.yaml': `${files['outage.yaml']}${supply}`,
      'power.yaml': `${files['watch.yaml']}${supply}environment: { powerLosses: 1, powerLossLasting: 20m }\n`,
      'both.yaml': `${files['watch.yaml']}environment: { longestOutage: 10m, longestChatter: 5m }\n`,
      'slow.yaml': `watch: { checkInterval: 20m }\n${supply}environment: { longestOutage: 1m }\n`,
    });
    const nextOf = async (file: string): Promise<readonly string[]> => {
      const { stdout } = await runHere(folder, [...soonDark, '-c', file]);
      const [, why = ''] =
        / every alert within [\w ]*? while (.*?) \(environment:/u.exec(
          stdout.replaceAll(/\s+/gu, ' '),
        ) ?? [];
      const [, line = ''] = /^Next: .*: dozewatch (.*)$/mu.exec(stdout) ?? [];
      return [why, line];
    };
    const [why, line = ''] = await nextOf('outage.yaml');
    expect(why).toBe('a network outage may last 1 h');
    expect(line).toMatch(/^bounds -c outage\.yaml --outage 0s --report-within \w+$/u);
    const { stdout } = await runHere(folder, [...line.split(' '), '--json']);
    expect(JSON.parse(stdout).holds.reportWithin.atRest).toBe(true);
    expect(await nextOf('power.yaml')).toEqual([
      'the power may be away for 20 min',
      expect.stringMatching(/^bounds -c power\.yaml --power-losses 0 --report-within \w+$/u),
    ]);
    expect(await nextOf('both.yaml')).toEqual([
      'the contact may read shut for 5 min while the door is open and a network outage may last 10 min, one after the other',
      expect.stringMatching(/^bounds -c both\.yaml --chatter 0s --outage 0s --report-within \w+$/u),
    ]);
    expect(await nextOf('slow.yaml')).toEqual([
      '',
      expect.stringMatching(/^tune -c slow\.yaml --worst-delay \w+$/u),
    ]);
  });
});

describe('bad input to margin is one clear error, and status 2', () => {
  it.each([
    [['margin'], 'option-missing'],
    [['margin', '--start', '1C'], 'option-missing'],
    [['margin', '--start', '1C', '--outside', '9C'], 'option-missing'],
    [[...space, ...soon], 'warming-missing'],
    [[...space, '--tau-open', '5h'], 'delay-missing'],
    [withOptions(good, ['-c', 'watch.yaml']), 'delay-twice'],
    [withOptions(good, ['--tau-open', '0s']), 'out-of-range'],
    [withOptions(good, ['--tau-open', '-5h']), 'duration-negative'],
    [withOptions(good, ['--start', 'warm']), 'temperature-unreadable'],
    [withOptions(good, ['--start', '4,5C']), 'temperature-unreadable'],
    [withOptions(good, ['--start', '4K']), 'temperature-unknown-unit'],
    [withOptions(good, ['--outside', '900C']), 'out-of-range'],
    [withOptions(good, ['--limit', 'vaccine']), 'unknown-limit'],
    [withOptions(good, ['--readings', 'cooling.csv']), 'readings-do-not-warm'],
    [withOptions(good, ['--readings', 'back.csv']), 'time-goes-back'],
    [withOptions(good, ['--readings', 'words.csv']), 'temperature-unreadable'],
    [withOptions(good, ['--readings', 'rows.csv']), 'readings-without-header'],
    [withOptions(good, ['--readings', 'one.csv']), 'readings-too-few'],
    [withOptions(good, ['--readings', 'gone.csv']), 'file-missing'],
    [withOptions(good, ['--door-width', '1m']), 'doorway-incomplete'],
    [
      withOptions(good, ['--door-width', '1m', '--door-height', '90m', '--volume', '1m3']),
      'out-of-range',
    ],
  ])('%j', async (args, code) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), args);
    expect([status, stdout, codesIn(stderr)]).toEqual([2, '', [code]]);
  });
});
