// `dozewatch compare`, in this process.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere } from '../cli/run-here.js';

const doors = `time,state
2026-05-08T06:00:00Z,open
2026-05-08T06:00:00.2Z,shut
2026-05-08T06:05:00Z,open
2026-05-08T06:20:00Z,shut
`;

const stamps = ['00:00.4', '03:02.6', '06:04.8', '09:07.0', '12:09.2', '15:11.4', '18:13.6'];

function deviceLog(read: (index: number) => string): string {
  const checks = stamps.map((at, index) => `2026-05-08T06:${at}Z,check,${read(index)}`);
  return ['time,event,value', '2026-05-08T06:00:00Z,power-on,', ...checks, ''].join('\n');
}

const files = {
  'doors.csv': doors,
  'watch.yaml': 'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 5m }\n',
  'device.csv': deviceLog((index) => (index >= 2 ? 'open' : 'shut')),
};
const args = ['compare', 'doors.csv', '--device-log', 'device.csv', '-c', 'watch.yaml'];

describe('dozewatch compare', () => {
  it('tells the alert that the device did not send, and its clock error', async () => {
    const ran = await runHere(ownFolder(files), [...args, '--json']);
    expect(ran.status).toBe(1);
    expect(codesIn(ran.stderr)).toEqual(['open-most-of-the-time']);
    expect(JSON.parse(ran.stdout)).toMatchObject({
      schema: 'dozewatch/compare/1',
      asItShould: false,
      checks: 7,
      clock: { ppm: 10_000, lowPpm: 10_000, highPpm: 10_000, sleeps: 3 },
      misreadings: [],
      missingChecks: [],
      alerts: [{ atMs: 547_000, kind: 'not-sent' }],
    });
  });

  // Sleeps of 181.8 s for 180 s: 1 % slow; the door is open as the device reads it, and nobody left it open.
  const slow = stamps.map((at) => `2026-05-08T06:${at}Z,check,shut`);
  const clockFiles = {
    'doors.csv': 'time,state\n2026-05-08T06:00:00Z,shut\n2026-05-08T06:20:00Z,shut\n',
    'device.csv': ['time,event,value', '2026-05-08T06:00:00Z,power-on,', ...slow, ''].join('\n'),
  };
  it.each([
    ['is a hint where the watch file says nothing of it', '', 0, false],
    ['is a finding outside what it says', 'device: { clockError: 0.5% }\n', 1, true],
    ['is neither within what it says', 'device: { clockError: { min: 0%, max: 2% } }\n', 0, false],
  ])('a clock that runs 1 % slow %s', async (_, device, status, isOutside) => {
    const watch = `watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 5m }\n${device}`;
    const folder = ownFolder({ ...clockFiles, 'watch.yaml': watch });
    const ran = await runHere(folder, [...args, '--until', '2026-05-08T06:20:00Z']);
    expect(ran.status, ran.stdout).toBe(status);
    expect(ran.stdout.includes('clockError: {')).toBe(device === '' || isOutside);
    const json = await runHere(folder, [...args, '--json']);
    expect(JSON.parse(json.stdout)).toMatchObject({
      clockInFile: device !== '',
      clockOutsideFile: isOutside,
    });
  });

  // A night of checks every 3 min, the door open for a while, one alert, and no heartbeat due yet.
  const night = Array.from({ length: 60 }, (_, index) => index * 181_120 + 400);
  const isOpenAt = (ms: number): boolean => ms > 3_600_000 && ms < 4_200_000;
  const nightRows = night.flatMap((ms) => {
    const row = (atMs: number, words: string): string =>
      `${new Date(Date.UTC(2026, 4, 8) + atMs).toISOString()},${words}`;
    const isSecond = isOpenAt(ms) && !isOpenAt(ms - 2 * 181_120) && isOpenAt(ms - 181_120);
    return [
      row(ms, `check,${isOpenAt(ms) ? 'open' : 'shut'}`),
      ...(isSecond ? [row(ms + 5_000, 'alert,delivered')] : []),
    ];
  });
  const nightFiles = {
    'doors.csv':
      'time,state\n2026-05-08T00:00:00Z,shut\n2026-05-08T01:00:00Z,open\n2026-05-08T01:10:00Z,shut\n2026-05-08T03:00:00Z,shut\n',
    'device.csv': ['time,event,value', '2026-05-08T00:00:00Z,power-on,', ...nightRows, ''].join(
      '\n',
    ),
  };
  it.each([
    ['as it is', '3m, escalationThreshold: 2', 0, ['the device did what']],
    [
      'longer',
      '5m, escalationThreshold: 2',
      1,
      ['THE CHECKS ARE about 3 min 1 s apart, and by the watch file 5 min'],
    ],
    [
      'shorter',
      '90s, escalationThreshold: 2',
      1,
      ['THE CHECKS ARE about 3 min 1 s apart', 'other firmware was flashed'],
    ],
    [
      'that holds',
      '3m, escalationThreshold: 2, afterAlert: hold-until-reset',
      1,
      ['CHECKS GO ON AFTER AN ALERT', 'the log leaves out resets'],
    ],
  ])('asks whether it is the right watch file: %s', async (_, check, status, texts) => {
    const watch = `watch: { checkInterval: ${check}, heartbeatInterval: 1d }\n`;
    const folder = ownFolder({ ...nightFiles, 'watch.yaml': watch });
    const ran = await runHere(folder, args);
    expect(ran.status, ran.stdout).toBe(status);
    for (const text of texts) expect(ran.stdout).toContain(text);
    expect(ran.stdout).toContain('heartbeats        0: none was due (one every 1 d)');
    expect(ran.stdout).not.toContain('(no power, or a hang)');
    const json = await runHere(folder, [...args, '--json']);
    const {
      otherInterval,
      checksAfterHold,
    }: { otherInterval: unknown; checksAfterHold: unknown[] } = JSON.parse(json.stdout);
    expect((otherInterval === null ? 0 : 1) + checksAfterHold.length).toBe(status);
  });

  it('calls a try that never happened a retry', async () => {
    const log = nightFiles['device.csv'].replace('alert,delivered', 'alert,failed');
    const watch = 'watch: { checkInterval: 3m, escalationThreshold: 2, retry: { interval: 1m } }\n';
    const folder = ownFolder({ ...nightFiles, 'device.csv': log, 'watch.yaml': watch });
    const { stdout, status } = await runHere(folder, args);
    expect(status).toBe(1);
    expect(stdout).toContain('about 2 retries (retry.interval) never happened');
    expect(stdout).not.toContain('(no power, or a hang)');
  });

  it('tells checks that are missing at the end of the log from those before', async () => {
    const times = ['06:00', '06:03', '06:06', '06:21', '06:24', '06:27'];
    const checks = times.map((at) => `2026-05-08T${at}:00Z,check,shut`);
    const folder = ownFolder({
      'watch.yaml': 'watch: { checkInterval: 180s }\ndevice: { bootTime: 0s }\n',
      'doors.csv': 'time,state\n2026-05-08T06:00:00Z,shut\n2026-05-08T07:00:00Z,shut\n',
      'device.csv': ['time,event,value', ...checks, ''].join('\n'),
    });
    const { status, stdout } = await runHere(folder, args);
    expect(status).toBe(1);
    const [headline = ''] = stdout.split('\n');
    expect(headline).toContain('about 4 checks never happened; about 1');
    expect(headline).toContain(
      'are missing after Fri 2026-05-08 06:27:00, where the device log ends',
    );
    expect(stdout).toContain('--until 2026-05-08T06:27:00');
    expect(stdout).toContain('find out what kept the device from checking');
  });

  it('reads NDJSON, and tells what the device read wrongly', async () => {
    const rows = stamps.map((at) =>
      JSON.stringify({ time: `2026-05-08T06:${at}Z`, event: 'check', value: 'closed' }),
    );
    const folder = ownFolder({ ...files, 'device.csv': `${rows.join('\n')}\n` });
    const { stdout } = await runHere(folder, [...args, '--json']);
    expect(JSON.parse(stdout).misreadings).toHaveLength(5);
  });

  it('reads a log whose newest row comes first with the option that the error suggests', async () => {
    const [header = '', ...rows] = files['device.csv'].trim().split('\n');
    const log = [header, ...rows.toReversed(), ''].join('\n');
    const folder = ownFolder({ ...files, 'device.csv': log });
    const refused = await runHere(folder, args);
    expect([refused.status, codesIn(refused.stderr)]).toEqual([2, ['time-goes-back']]);
    expect(refused.stderr).toContain('--device-newest-first');
    const read = await runHere(folder, [...args, '--device-newest-first', '--json']);
    const before = await runHere(ownFolder(files), [...args, '--json']);
    expect(read.stdout).toBe(before.stdout);
  });

  it('takes words in any case, and a row that was written twice once', async () => {
    const doubled = files['device.csv']
      .split('\n')
      .flatMap((row, index) => (index === 5 ? [row, row] : [row]))
      .join('\r\n');
    const log = doubled.replace(',check,open', ',Check,OPEN');
    const folder = ownFolder({ ...files, 'device.csv': log });
    const { stdout } = await runHere(folder, [...args, '--json']);
    expect(JSON.parse(stdout)).toMatchObject({
      checks: 7,
      alerts: [{ atMs: 547_000, kind: 'not-sent' }],
    });
  });

  it.each([
    ['device-log-without-header', 'at,what\n1,2\n'],
    ['event-unknown', 'time,event,value\n2026-05-08T06:00:00Z,nap,\n'],
    ['state-unknown', 'time,event,value\n2026-05-08T06:00:00Z,check,ajar\n'],
    ['outcome-unknown', 'time,event,value\n2026-05-08T06:00:00Z,alert,maybe\n'],
    ['json-row-unreadable', '{"time": 7\n'],
    [
      'time-goes-back',
      'time,event,value\n2026-05-08T06:01:00Z,reset,\n2026-05-08T06:00:00Z,reset,\n',
    ],
    ['device-log-elsewhere', 'time,event,value\n2025-05-08T06:00:00Z,power-on,\n'],
    ['file-missing', null],
  ])('refuses with %s', async (code, text) => {
    const others = Object.entries(files).filter(([name]) => name !== 'device.csv');
    const device = text === null ? [] : [['device.csv', text]];
    const folder = ownFolder(Object.fromEntries([...others, ...device]));
    const ran = await runHere(folder, args);
    expect({ status: ran.status, stdout: ran.stdout }).toEqual({ status: 2, stdout: '' });
    expect(codesIn(ran.stderr)).toEqual([code]);
  });
});
