// `dozewatch suite` from a folder to exit status, in this process.
import { readFileSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { codesIn, filesIn, ownFolder, runHere } from './run-here.js';
import { calmDay, exactWatch, falseDay, missedDay, reportedDay } from './scenes.js';

const knowsMiss = `${missedDay}expect: { missed: 1, alerts: 0 }\n`;

describe('the exit status of suite', () => {
  it('is 0 when every expectation is met, a miss included', async () => {
    const folder = ownFolder({ 'watch.yaml': exactWatch, 'a.yaml': knowsMiss, 'b.yml': calmDay });
    const { status, stdout, stderr } = await runHere(folder, ['suite', '.', '--json']);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(JSON.parse(stdout)).toMatchObject({ total: 2, passed: 2 });
  });

  it('is 1, with what was expected and what it got, when one is unmet', async () => {
    const text = `${missedDay}expect: { missed: 0 }\n`;
    const folder = ownFolder({ 'watch.yaml': exactWatch, 'a.yaml': text });
    const { status, stdout } = await runHere(folder, ['suite', '.', '--json']);
    expect(status).toBe(1);
    expect(JSON.parse(stdout).scenarios).toMatchObject([
      { file: 'a.yaml', outcome: 'failed', unmet: [{ name: 'missed', got: '1' }] },
    ]);
  });

  it('is 1 when a scenario that expects nothing sees something missed or false', async () => {
    for (const [text, name] of [
      [missedDay, 'missed'],
      [falseDay, 'falseAlarms'],
    ] as const) {
      const folder = ownFolder({ 'watch.yaml': exactWatch, 'a.yaml': text });
      const { status, stdout } = await runHere(folder, ['suite', '.', '--json']);
      expect(status).toBe(1);
      expect(JSON.parse(stdout).scenarios).toMatchObject([{ unmet: [{ name, got: '1' }] }]);
    }
  });

  it('says how many leave-opens and alerts it counted beside those that it lists', async () => {
    const hours = [1, 2, 3, 4, 5];
    const start = 'start: 2026-05-08T06:00:00Z\nlength: 6h\n';
    const five = `${start}door: [${hours.map((hour) => `{ at: +${String(hour)}h, for: 10m }`).join(', ')}]\n`;
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      'alerts.yaml': `name: Alerts\n${five}expect: { alerts: 4 }\n`,
      'misses.yaml': `name: Misses\n${five}network: [{ down: +0s, for: 6h }]\nexpect: { missed: 0 }\n`,
      'three.yaml': `name: Three\n${five}expect: { alerts: 5, missed: 5 }\n`,
    });
    const { stdout } = await runHere(folder, ['suite', '.', '--json']);
    const reasons: readonly (readonly string[])[] = JSON.parse(stdout).scenarios.map(
      (one: { readonly reasons: readonly string[] }) => one.reasons,
    );
    expect(reasons.map((each) => [each.length, each.at(-1)])).toEqual([
      [4, '… and 2 more alerts'],
      [4, '… and 2 more leave-opens'],
      [0, undefined],
    ]);
  });

  it('is 2 when one cannot be read, and the others are still replayed', async () => {
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      'a.yaml': 'nmae: x\n',
      'b.yaml': calmDay,
    });
    const { status, stdout } = await runHere(folder, ['suite', '.', '--json']);
    expect(status).toBe(2);
    expect(JSON.parse(stdout).scenarios).toMatchObject([
      { file: 'a.yaml', outcome: 'error' },
      { name: 'Nobody comes', outcome: 'passed' },
    ]);
  });

  it.each([
    ['folder-missing', ['nowhere'], {}],
    ['folder-expected', ['a.yaml'], { 'a.yaml': calmDay }],
    ['no-scenarios', ['.'], { 'watch.yaml': exactWatch, 'notes.txt': 'x' }],
    ['file-missing', ['.', '-c', 'nowhere.yaml'], { 'a.yaml': calmDay }],
    ['output-is-input', ['.', '--junit', 'a.yaml'], { 'a.yaml': calmDay }],
    [
      'output-is-input',
      ['.', '--junit', 'watch.yaml'],
      { 'a.yaml': calmDay, 'watch.yaml': exactWatch },
    ],
    ['output-is-stdout', ['.', '--junit', '-'], { 'a.yaml': calmDay }],
    ['standard-input-here', ['.', '-c', '-'], { 'a.yaml': calmDay }],
  ])('is 2 with %s for %j', async (code, args, files: Record<string, string>) => {
    const { status, stdout, stderr } = await runHere(ownFolder(files), ['suite', ...args]);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(stderr)).toEqual([code]);
  });
});

describe('the reasons of a failed scenario', () => {
  // A miss, a false alarm, a report with a repeated alert, and an early alert that is delivered late.
  const busyDay = `name: Busy day
start: 2026-05-08T06:00:00+02:00
length: 4h
door:
  - { at: +101s, for: 190s }
  - { at: +1190s, for: 150s }
  - { at: +2501s, for: 40m }
  - { at: +6050s, for: 20m }
network: [{ down: +6000s, for: 10m }]
`;
  const watch = exactWatch.replace('2 }', '2, alertCooldown: 30m }');

  it.each<[expected: string, of: readonly string[]]>([
    ['missed: 0', ['missed']],
    ['missed: 2', ['late']],
    ['reported: 3', ['missed', 'late']],
    ['late: 0', ['late']],
    ['falseAlarms: 0', ['false alarm']],
    ['earlyAlerts: 0', ['early alert']],
    ['repeats: 0', ['repeated alert']],
    ['alerts: 0', ['false alarm', 'repeated alert', 'early alert', '… and 1 more alert']],
    ['alerts: 9', ['missed']],
    ['worstDelayAtMost: 3m', ['late']],
    ['worstDelayAtLeast: 1h', ['late']],
    ['checks: 1', []],
    ['leaveOpens: 9', []],
    ['missed: 0, falseAlarms: 0', ['missed', 'false alarm']],
  ])('are on what %s counts', async (expected, of) => {
    const text = `${busyDay}expect: { ${expected} }\n`;
    const folder = ownFolder({ 'watch.yaml': watch, 'a.yaml': text });
    const { stdout } = await runHere(folder, ['suite', '.', '--json']);
    const [{ outcome, reasons }] = JSON.parse(stdout).scenarios;
    expect(outcome).toBe('failed');
    const kinds = reasons.map(
      (reason: string) => /(?:^|, )(?<kind>… .*|[a-z ]+(?=: ))/u.exec(reason)?.groups?.['kind'],
    );
    expect(kinds).toEqual(of);
  });

  it('are chosen before the first few are taken', async () => {
    const doors = Array.from(
      { length: 5 },
      (_, index) => `{ at: +${String(1_000 * index + 101)}s, for: 190s }`,
    );
    const text = `name: Missed, then late
start: 2026-05-08T06:00:00+02:00
length: 4h
door: [${doors.join(', ')}, { at: +6050s, for: 20m }]
network: [{ down: +6000s, for: 10m }]
expect: { late: 0 }
`;
    const folder = ownFolder({ 'watch.yaml': watch, 'a.yaml': text });
    const { stdout } = await runHere(folder, ['suite', '.', '--json']);
    expect(JSON.parse(stdout).scenarios[0].summary).toMatchObject({ missed: 5, late: 1 });
    expect(JSON.parse(stdout).scenarios[0].reasons).toEqual([expect.stringContaining(', late: ')]);
  });
});

describe('which scenarios and which watch suite takes', () => {
  it('goes through folders in a fixed order, past watch files, hidden folders and other files', async () => {
    const folder = ownFolder({
      'b/two.yaml': calmDay,
      'b/night-watch.yaml': exactWatch,
      'a.json': JSON.stringify({ name: 'In JSON' }),
      'B.yaml': calmDay,
      'watch.yaml': exactWatch,
      '.dozewatch/scenario.schema.json': '{}',
      'node_modules/x/y.yaml': 'x',
      'doors.csv': 'start,end\n',
    });
    symlinkSync('..', path.join(folder, 'b', 'loop'));
    const { stdout } = await runHere(folder, ['suite', '.', '--json']);
    const found = JSON.parse(stdout);
    expect(found.scenarios.map(({ file }: { file: string }) => file)).toEqual([
      'B.yaml',
      'a.json',
      'b/two.yaml',
    ]);
  });

  it('takes the nearest watch file above a scenario, unless one is given', async () => {
    // A check every 100 s misses it; one every 60 s does not.
    const keen = exactWatch.replace('100s', '60s');
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      'far.yaml': missedDay,
      'near/watch.yml': keen,
      'near/deep/one.yaml': missedDay,
      'keen.yaml.txt': keen,
    });
    const missedIn = async (...more: string[]): Promise<number[]> => {
      const { stdout } = await runHere(folder, ['suite', '.', '--json', ...more]);
      const { scenarios } = JSON.parse(stdout);
      return scenarios.map((one: { summary: { missed: number } }) => one.summary.missed);
    };
    expect(await missedIn()).toEqual([1, 0]);
    expect(await missedIn('-c', 'keen.yaml.txt')).toEqual([0, 0]);
    expect(await missedIn('-c', 'watch.yaml')).toEqual([1, 1]);
  });
});

describe('suite --junit', () => {
  it('writes XML with the host’s stamp, or SOURCE_DATE_EPOCH', async () => {
    const folder = ownFolder({
      'watch.yaml': exactWatch,
      'a.yaml': reportedDay,
      'b.yaml': missedDay,
      'out/results.xml': 'old',
    });
    const ran = await runHere(folder, ['suite', '.', '--junit', 'out/results.xml']);
    expect(ran.status).toBe(1);
    const xml = readFileSync(path.join(folder, 'out/results.xml'), 'utf8');
    expect(xml).toContain('timestamp="2026-05-08T04:00:00"');
    expect(xml).toContain('tests="2" failures="1" errors="0"');
    expect(xml).toMatch(
      /<failure type="promise-not-kept" message="missed: expected [^"]*0, got 1">/u,
    );
    const environment = { SOURCE_DATE_EPOCH: '86400' };
    await runHere(folder, ['suite', '.', '--junit', 'out/results.xml'], { environment });
    const again = readFileSync(path.join(folder, 'out/results.xml'), 'utf8');
    expect(again).toContain('timestamp="1970-01-02T00:00:00"');
    expect(filesIn(folder)).toEqual(['a.yaml', 'b.yaml', 'out/results.xml', 'watch.yaml']);
  });
});

describe('progress', () => {
  it('shows on a terminal’s error stream only after a second, and is taken away again', async () => {
    const folder = ownFolder({ 'a.yaml': calmDay, 'b.yaml': calmDay });
    const slow = () => {
      let now = 0;
      return { elapsed: () => (now += 700) };
    };
    const args = ['suite', '.', '--no-color'];
    const quick = await runHere(folder, args, { terminalColumns: 80 });
    const noWatch = 'watch file: none found, so the defaults apply\n';
    expect(quick.stderr).toBe(noWatch);
    const piped = await runHere(folder, args, { io: slow() });
    expect(piped.stderr).toBe(noWatch);
    const shown = await runHere(folder, args, { terminalColumns: 80, io: slow() });
    expect(shown.stderr).toMatch(/replaying scenarios … \d+ %/u);
    expect(shown.stderr.endsWith(`\r\u001b[2K${noWatch}`)).toBe(true);
    expect(shown.stdout).toBe(quick.stdout);
  });
});
