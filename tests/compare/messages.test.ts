// Logs that hold only messages, heartbeats that are missing, and the rows of one device among several.
import { describe, expect, it } from 'vitest';
import { codesIn, ownFolder, runHere } from '../cli/run-here.js';

const dayMs = 86_400_000;
const fromMs = Date.UTC(2026, 4, 4);
const at = (ms: number): string => new Date(fromMs + ms).toISOString();

/** A door left open for 20 min at 10:00 on each of 20 days. */
const doors = [
  'start,end',
  ...Array.from({ length: 20 }, (_, day) => {
    const opensMs = day * dayMs + 36_000_000;
    return `${at(opensMs)},${at(opensMs + 1_200_000)}`;
  }),
  '',
].join('\n');

const watch = 'watch: { checkInterval: 3m }\njudge: { leaveOpenAfter: 10m }\n';
const beating = watch.replace('3m }', '3m, heartbeatInterval: 1d }');

/** Alerts and heartbeats of the days of which this is true, as a receiver lists them. */
function messages(comes: (day: number) => boolean, heartbeats: boolean): string[] {
  return Array.from({ length: 20 }, (_, day) => day)
    .filter(comes)
    .flatMap((day) => [
      ...(heartbeats && day > 0 ? [`${at(day * dayMs + day * 190_000)},heartbeat`] : []),
      `${at(day * dayMs + 36_300_000)},alert`,
    ]);
}

const compared = async (log: readonly string[], file = watch, header = 'time,event') => {
  const folder = ownFolder({
    'doors.csv': doors,
    'watch.yaml': file,
    'device.csv': [header, ...log, ''].join('\n'),
  });
  const args = ['compare', 'doors.csv', '--device-log', 'device.csv', '-c', 'watch.yaml'];
  const span = ['--from', at(0), '--until', at(20 * dayMs), '--json'];
  const run = async (more: readonly string[]) => {
    const ran = await runHere(folder, [...args, ...span, ...more]);
    return { ...ran, json: ran.status === 2 ? null : JSON.parse(ran.stdout) };
  };
  return { run, ...(await run([])) };
};

describe('a log that holds only messages', () => {
  it('is as it should be when an alert came for every opening', async () => {
    const { status, json } = await compared(messages(() => true, false));
    expect(status).toBe(0);
    expect(json).toMatchObject({ onlyMessages: true, alertsDelivered: 20, silentSinceMs: null });
  });

  it('lists each opening without an alert, and since when nothing came', async () => {
    const one = await compared(messages((day) => day !== 7, false));
    expect(one.status).toBe(1);
    expect(one.json).toMatchObject({
      alerts: [{ atMs: 7 * dayMs + 36_000_000, kind: 'not-sent' }],
      silentSinceMs: null,
    });
    const dead = await compared(messages((day) => day < 12, false));
    expect(dead.status).toBe(1);
    expect(dead.json).toMatchObject({ silentSinceMs: 11 * dayMs + 36_300_000 });
    expect(dead.json.alerts).toHaveLength(8);
  });

  it('shows an alert that came though the door had been shut since before the last one', async () => {
    const { status, json } = await compared([
      ...messages((day) => day === 0, false),
      `${at(50_000_000)},alert`,
      `${at(60_000_000)},alert`,
      ...messages((day) => day > 0, false),
    ]);
    expect(status).toBe(1);
    expect(json.alerts).toEqual([{ atMs: 60_000_000, kind: 'sent-without-reason' }]);
  });
});

describe('heartbeats', () => {
  it('that all came leave nothing to say', async () => {
    const { status, json } = await compared(
      messages(() => true, true),
      beating,
    );
    expect(status).toBe(0);
    expect(json).toMatchObject({ heartbeats: 19, missingHeartbeats: [] });
  });

  it('that are missing are counted, between two and after the last', async () => {
    const gap = await compared(
      messages(() => true, true).filter((_, row) => row < 7 || row > 16),
      beating,
    );
    expect(gap.json.missingHeartbeats).toHaveLength(1);
    expect(gap.json.missingHeartbeats[0].count).toBe(5);
    const dead = await compared(
      messages((day) => day < 5, true),
      beating,
    );
    expect(dead.status).toBe(1);
    expect(dead.json.missingHeartbeats).toMatchObject([{ beforeMs: null, count: 15 }]);
  });
});

describe('heartbeats that were due in an outage', () => {
  // The first is due at 18:00 a day after the start, and each a check later than the one before.
  const ofOutages = async (outages: readonly string[], days: readonly number[]) => {
    const folder = ownFolder({
      'door.yaml': [
        'start: 2026-05-04T18:00:00Z',
        'length: 6d',
        'network:',
        ...outages.map((down) => `  - { down: "${down}", for: 1h }`),
        '',
      ].join('\n'),
      'watch.yaml': beating,
      'device.csv': [
        'time,event',
        ...days.map((day) => `${at(18 * 3_600_000 + day * (dayMs + 200_000))},heartbeat`),
        '',
      ].join('\n'),
    });
    const args = ['compare', 'door.yaml', '--device-log', 'device.csv', '-c', 'watch.yaml'];
    const ran = await runHere(folder, [...args, '--json']);
    const { missingHeartbeats, heartbeatsWhileDown } = JSON.parse(ran.stdout);
    const counts = missingHeartbeats.map(({ count }: { count: number }) => count);
    return { status: ran.status, counts, heartbeatsWhileDown };
  };

  it.each([
    ['one', ['day 2 17:30'], [2, 3, 4, 5]],
    ['one in the middle', ['day 4 17:50'], [1, 2, 4, 5]],
    ['the last', ['day 6 17:50'], [1, 2, 3, 4]],
  ])('are no finding: %s', async (_, outages, days) => {
    expect(await ofOutages(outages, days)).toEqual({
      status: 0,
      counts: [],
      heartbeatsWhileDown: 1,
    });
  });

  it('leave those that were due at another time', async () => {
    expect(await ofOutages(['day 4 12:00'], [1, 2, 4, 5])).toEqual({
      status: 1,
      counts: [1],
      heartbeatsWhileDown: 0,
    });
    expect(await ofOutages(['day 3 17:50'], [1, 4, 5])).toEqual({
      status: 1,
      counts: [1],
      heartbeatsWhileDown: 1,
    });
  });
});

describe('messages of a kind that the watch file does not send', () => {
  it('are a finding, which asks for the watch file of the device', async () => {
    const { status, json, run } = await compared(messages(() => true, true));
    expect(status).toBe(1);
    expect(json.notInFile).toEqual([{ event: 'heartbeat', count: 19 }]);
    const { stdout } = await run(['--json']);
    expect(JSON.parse(stdout).asItShould).toBe(false);
    const low = await compared([...messages(() => true, true), `${at(19.9 * dayMs)},low-battery`]);
    expect(low.json.notInFile).toEqual([
      { event: 'heartbeat', count: 19 },
      { event: 'low-battery', count: 1 },
    ]);
  });

  it('are none where the watch file sends them', async () => {
    const { status, json } = await compared(
      messages(() => true, true),
      beating,
    );
    expect([status, json.notInFile]).toEqual([0, []]);
  });

  it('make silence ask the same, with status 1', async () => {
    const folder = ownFolder({
      'watch.yaml': watch,
      'messages.csv': ['time,event', `${at(40 * 3_600_000)},heartbeat`, ''].join('\n'),
    });
    const asked = ['silence', '-c', 'watch.yaml', '--messages', 'messages.csv', '--charged', at(0)];
    const { status, stdout } = await runHere(folder, [...asked, '--now', at(2 * dayMs), '--json']);
    expect(status).toBe(1);
    expect(JSON.parse(stdout).notInFile).toEqual([{ event: 'heartbeat', count: 1 }]);
  });
});

describe('a device whose checks go on to the end', () => {
  it('is not silent where its heartbeats are missing', async () => {
    const checks = Array.from(
      { length: 9_580 },
      (_, index) => `${at(400 + index * 180_400)},check,shut`,
    );
    const { json } = await compared([`${at(0)},power-on,`, ...checks], beating, 'time,event,value');
    expect(json.missingHeartbeats).toHaveLength(1);
    expect(json.silentSinceMs).toBeNull();
    const ended = await compared(
      [`${at(0)},power-on,`, ...checks.slice(0, 5_000)],
      beating,
      'time,event,value',
    );
    expect(ended.json.silentSinceMs).toBe(400 + 4_999 * 180_400);
  });
});

describe('a log of several devices', () => {
  const log = messages(() => true, false).flatMap((row) => [`${row},a`, `${row},b`]);

  it('is refused without --where, and read with it', async () => {
    const { status, stderr, run } = await compared(log, watch, 'time,event,device');
    expect(status).toBe(2);
    expect(codesIn(stderr)).toContain('several-sensors');
    const chosen = await run(['--where', 'device=a']);
    expect([chosen.status, chosen.json?.alertsDelivered]).toEqual([0, 20]);
    expect((await run(['--where', 'device=c'])).status).toBe(2);
  });
});

describe('openings that the door log did not see enough of', () => {
  const rows = (states: readonly (readonly [string, string])[]): string =>
    ['time,state', ...states.map(([time, state]) => `2026-05-04T${time}:00Z,${state}`), ''].join(
      '\n',
    );
  /** The watch reports each opening of 6 min at most; two are left open for 20 min, and one for 70 of which 2 are seen. */
  const partlySeen = rows([
    ['06:00', 'shut'],
    ['08:00', 'open'],
    ['08:20', 'shut'],
    ['10:00', 'open'],
    ['10:02', 'unavailable'],
    ['11:10', 'shut'],
    ['14:00', 'open'],
    ['14:20', 'shut'],
    ['20:00', 'shut'],
  ]);
  const found = async (door: string, alerts: readonly string[], more: readonly string[] = []) => {
    const log = ['time,event', ...alerts.map((time) => `2026-05-04T${time}:00Z,alert`), ''];
    const folder = ownFolder({
      ...{ 'doors.csv': door, 'watch.yaml': watch, 'device.csv': log.join('\n') },
    });
    const args = ['compare', 'doors.csv', '--device-log', 'device.csv', '-c', 'watch.yaml'];
    const { status, stdout } = await runHere(folder, [...args, '--json', ...more]);
    const { alerts: differences, lateAlerts, unknownOpenings } = JSON.parse(stdout);
    return { status, differences, lateAlerts, unknownOpenings };
  };
  const hourMs = 3_600_000;

  it('are left out: an alert of them is neither missing nor without a reason', async () => {
    const known = { status: 0, differences: [], lateAlerts: [], unknownOpenings: [4 * hourMs] };
    expect(await found(partlySeen, ['08:06', '14:06'])).toEqual(known);
    expect(await found(partlySeen, ['08:06', '11:00', '14:06'])).toEqual(known);
  });

  it('hide nothing of the others', async () => {
    const { status, differences } = await found(partlySeen, ['08:06', '11:00']);
    expect(status).toBe(1);
    expect(differences).toEqual([{ atMs: 8 * hourMs, kind: 'not-sent' }]);
  });

  it('are missed if they were seen open for long enough', async () => {
    const seen = partlySeen.replace('10:02', '10:15');
    const { differences, unknownOpenings } = await found(seen, ['08:06', '14:06']);
    expect(differences).toEqual([{ atMs: 4 * hourMs, kind: 'not-sent' }]);
    expect(unknownOpenings).toEqual([]);
  });

  it('may have been reported before the span that is compared', async () => {
    const from = ['--from', '2026-05-04T08:05Z'];
    const { status, unknownOpenings } = await found(partlySeen, ['08:04', '14:06'], from);
    expect(status).toBe(0);
    expect(unknownOpenings).toEqual([0, (4 - 2 - 5 / 60) * hourMs]);
  });

  it('leave out what the contact read where the log has no state', async () => {
    const checks = ['09:58,shut', '10:01,open', '10:30,shut', '10:33,open', '11:12,shut'];
    const lines = checks.map((check) => `2026-05-04T${check.replace(',', ':00Z,check,')}`);
    const folder = ownFolder({
      ...{ 'doors.csv': partlySeen, 'watch.yaml': watch },
      'device.csv': ['time,event,value', ...lines, ''].join('\n'),
    });
    const args = ['compare', 'doors.csv', '--device-log', 'device.csv', '-c', 'watch.yaml'];
    const { stdout } = await runHere(folder, [...args, '--json']);
    expect(JSON.parse(stdout)).toMatchObject({ misreadings: [] });
  });
});
