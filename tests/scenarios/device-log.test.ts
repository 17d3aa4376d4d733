// What a device wrote of itself: every event in its forms, rows that come twice or out of order, and what is refused.
import { describe, expect, it } from 'vitest';
import {
  type DeviceLogOptions,
  deviceLogColumns,
  parseDeviceLog,
} from '../../src/scenarios/index.js';
import { brief, errorsOf, valueOf } from './reading.js';

const startMs = Date.UTC(2026, 4, 4, 6);

function read(rows: readonly string[], options: Partial<DeviceLogOptions> = {}) {
  const text = rows.join('\n');
  return parseDeviceLog(text, 'device.csv', { zone: null, ...options });
}

/** The rows of a log with this header, each as its minute, event and value. */
function rowsOf(
  rows: readonly string[],
  options: Partial<DeviceLogOptions> = {},
): readonly string[] {
  return valueOf(read(rows, options)).map((row) => {
    const minutes = (row.atMs - startMs) / 60_000;
    const value = 'contact' in row ? row.contact : 'delivered' in row ? row.delivered : '';
    return `${String(minutes)} ${row.event} ${String(value)}`.trim();
  });
}

/** Rows at minutes past six, from `3 check open`. */
function csv(...rows: readonly string[]): readonly string[] {
  return [
    'time,event,value',
    ...rows.map((row) => {
      const [, minute = '', event = '', value = ''] = /^(\S+) (\S+) ?(.*)$/u.exec(row) ?? [];
      const time = new Date(startMs + Number(minute) * 60_000).toISOString();
      return `${time},${event},${value}`;
    }),
  ];
}

describe('a row of a device log', () => {
  it.each([
    ['power-on', 'power-on'],
    ['power_on', 'power-on'],
    ['PowerOn', 'power-on'],
    ['boot', 'power-on'],
    ['reset', 'reset'],
    ['restart', 'reset'],
    ['check open', 'check open'],
    ['check shut', 'check shut'],
    ['CHECK Closed', 'check shut'],
    ['check 1', 'check open'],
    ['alert delivered', 'alert true'],
    ['alert sent', 'alert true'],
    ['alert received', 'alert true'],
    ['alert OK', 'alert true'],
    ['alert yes', 'alert true'],
    ['alert 1', 'alert true'],
    ['alert true', 'alert true'],
    ['alert failed', 'alert false'],
    ['alert fail', 'alert false'],
    ['alert error', 'alert false'],
    ['alert no', 'alert false'],
    ['alert 0', 'alert false'],
    ['alert false', 'alert false'],
    ['heartbeat sent', 'heartbeat true'],
    ['alive failed', 'heartbeat false'],
    ['low-battery sent', 'low-battery true'],
    ['low_battery sent', 'low-battery true'],
    ['lowbattery failed', 'low-battery false'],
  ])('may be %s', (written, meant) => {
    expect(rowsOf(csv(`3 ${written}`))).toEqual([`3 ${meant}`]);
  });

  it.each([
    ['check ajar', '2:32 state-unknown'],
    ['check unavailable', '2:32 state-unknown'],
    ['check', '2:32 state-unknown'],
    ['alert maybe', '2:32 outcome-unknown'],
    ['alert', '2:32 outcome-unknown'],
    ['door open', '2:26 event-unknown'],
  ])('is refused where it is %s', (written, why) => {
    expect(errorsOf(read(csv(`3 ${written}`)))).toEqual([why]);
  });

  it('may use words and columns of its own, in any case', () => {
    const rows = [
      'Stamp,What,Reading',
      '2026-05-04T06:03:00Z,CHK,auf',
      '2026-05-04T06:04:00Z,chk,zu',
    ];
    const options: Partial<DeviceLogOptions> = {
      ...{ timeColumn: 'stamp', eventColumn: 'what', valueColumn: 'reading' },
      ...{ openWords: ['auf'], shutWords: ['zu'], eventWords: [[' chk ', ' Check ']] },
    };
    expect(rowsOf(rows, options)).toEqual(['3 check open', '4 check shut']);
    for (const key of ['timeColumn', 'eventColumn', 'valueColumn'] as const) {
      expect(read(rows, { ...options, [key]: 'other' }).ok).toBe(false);
    }
  });

  it.each(['time', 'timestamp', 'datetime', 'at'])('finds its time in %s', (name) => {
    const rows = [`value,${name},type`, 'open,2026-05-04T06:03:00Z,check'];
    expect(rowsOf(rows)).toEqual(['3 check open']);
  });

  it.each(['event', 'type', 'action'])('finds its event in %s', (name) => {
    expect(rowsOf([`time,${name},state`, '2026-05-04T06:03:00Z,check,open'])).toEqual([
      '3 check open',
    ]);
  });

  it.each(['value', 'state', 'contact', 'result'])('finds its value in %s', (name) => {
    expect(rowsOf([`time,event,${name}`, '2026-05-04T06:03:00Z,check,open'])).toEqual([
      '3 check open',
    ]);
  });

  it('may be an object, and a log without values lists what arrived', () => {
    const text = '{"time": "2026-05-04T06:03:00Z", "event": "alert"}\n';
    expect(rowsOf([text])).toEqual(['3 alert true']);
    expect(deviceLogColumns(text)).toEqual(['time', 'event']);
    expect(rowsOf(['time,event', '2026-05-04T06:03:00Z,heartbeat'])).toEqual(['3 heartbeat true']);
  });

  it('may be a line that was taken apart', () => {
    const line = { line: 7, time: '2026-05-04T06:03:00Z', event: 'alert' };
    const lines = (value: string) => ({ lines: [{ ...line, value }] });
    expect(rowsOf([], lines(''))).toEqual(['3 alert true']);
    expect(rowsOf([], lines('failed'))).toEqual(['3 alert false']);
    expect(errorsOf(read([], lines('perhaps')))).toEqual(['7:1 outcome-unknown']);
  });
});

describe('rows of a device log', () => {
  it('that come twice count once, and others at the same time are kept', () => {
    const twice = csv(
      '3 check open',
      '3 check open',
      '3 check shut',
      '3 alert sent',
      '3 alert sent',
      '3 alert failed',
      '4 reset',
      '4 reset',
      '5 reset',
      '5 power-on',
    );
    expect(rowsOf(twice)).toEqual([
      ...['3 check open', '3 check shut', '3 alert true', '3 alert false'],
      ...['4 reset', '5 reset', '5 power-on'],
    ]);
  });

  it('that go back are refused: by a little, by more than an hour, or to a power-on', () => {
    const after = (row: string): readonly string[] =>
      errorsOf(read(csv('100 check shut', row, '200 check shut')));
    expect(after('99.99 check shut')).toEqual(['3:1 time-goes-back']);
    expect(after('40 check shut')).toEqual(['3:1 time-goes-back']);
    expect(after('39.99 check shut')).toEqual(['3:1 clock-restarted']);
    expect(after('99 power-on')).toEqual(['3:1 clock-restarted']);
    expect(rowsOf(csv('100 check shut', '100 power-on'))).toHaveLength(2);
  });

  it('that come newest first are read so where the option says it, and named where it does not', () => {
    const backwards = csv('9 check open', '6 check shut', '3 check shut');
    expect(errorsOf(read(backwards))).toEqual(['3:1 time-goes-back']);
    const result = read(backwards);
    expect(result.ok ? [] : result.errors.map(({ tries }) => tries)).toEqual([
      ['--device-newest-first'],
    ]);
    expect(rowsOf(backwards, { newestFirst: true })).toEqual([
      '3 check shut',
      '6 check shut',
      '9 check open',
    ]);
    // Two rows show nothing, and one that is wrong either way is named itself.
    const tries = (rows: readonly string[]) => {
      const result = read(rows);
      return result.ok ? [] : result.errors.map((error) => error.tries ?? null);
    };
    expect(tries(csv('9 check open', '6 check shut'))).toEqual([null]);
    expect(tries(csv('9 check open', '6 check shut', '3 check ajar'))).toEqual([null, null]);
    expect(tries(csv('9 check open', '3 check shut', '6 check shut'))).toEqual([null, null]);
  });

  it.each([
    ['chk', 'open', 'check'],
    ['peek', 'shut', 'check'],
    ['lowbat', 'delivered', 'low-battery'],
    ['lowbat', '', 'reset'],
    ['keep-alive', 'failed', 'heartbeat'],
    ['chk', '', 'reset'],
    ['ding', 'delivered', 'alert'],
  ])(
    'with the unknown event %s and the value %j are offered as %s, which can be read',
    (word, value, event) => {
      const text = `time,event,value\n2026-05-08T06:00:00Z,${word},${value}\n`;
      const log = parseDeviceLog(text, 'log', { zone: null });
      expect(log.ok ? '' : log.errors[0]?.hint).toContain(`--device-event-word ${word}=${event}`);
      expect(parseDeviceLog(text, 'log', { zone: null, eventWords: [[word, event]] }).ok).toBe(
        true,
      );
    },
  );

  it('that are all wrong in the same way give one error', () => {
    const wrong = read(csv('3 door open', '6 door open', '9 door open'));
    expect(errorsOf(wrong)).toEqual(['2:26 event-unknown']);
    expect(wrong.ok ? '' : wrong.errors[0]?.message).toContain('; and so it is in the rows below');
    expect(errorsOf(read(csv('3 door open', '6 hatch open')))).toHaveLength(2);
    expect(errorsOf(read(csv('3 check open', '6 door open', '9 door open')))).toHaveLength(2);
    expect(errorsOf(read(csv('3 door open')))).toHaveLength(1);
  });

  it('without an offset are read as UTC with a warning, or in their zone without one', () => {
    const rows = ['time,event', '2026-05-04 08:03:00,reset'];
    const warnings = (zone: string | null): readonly string[] => {
      const result = read(rows, { zone });
      return result.ok ? result.warnings.map(brief) : ['refused'];
    };
    expect(warnings(null)).toEqual(['times-taken-as-utc']);
    expect(warnings('Europe/Berlin')).toEqual([]);
    expect(rowsOf(rows)).toEqual(['123 reset']);
    expect(rowsOf(rows, { zone: 'Europe/Berlin' })).toEqual(['3 reset']);
    const blamed = (options: Partial<DeviceLogOptions>): readonly string[] => {
      const result = read(rows, options);
      return result.ok ? [] : result.errors.map(({ source }) => source.file);
    };
    expect(blamed({ zone: 'Nowhere/Atall' })).toEqual(['--zone']);
    expect(blamed({ timeFormat: 'no format' })).toEqual(['--device-time-format']);
  });

  it('of several devices are refused, and read with the one that is chosen', () => {
    const rows = [
      'time,device_id,Topic,event,value',
      '2026-05-04T06:03:00Z,hatch,a,check,open',
      '2026-05-04T06:04:00Z,store,b,check,shut',
      '2026-05-04T06:05:00Z,hatch,b,check,shut',
    ];
    expect(errorsOf(read(rows))).toEqual(['1:1 several-sensors']);
    expect(rowsOf(rows, { where: [{ column: 'device_id', value: 'hatch' }] })).toEqual([
      '3 check open',
      '5 check shut',
    ]);
    // Other columns also differ from event to event of one device.
    const one = rows.filter((row) => !row.includes('store'));
    expect(rowsOf(one)).toEqual(['3 check open', '5 check shut']);
  });

  it('have the day or the month first as any of them shows, and are in doubt without one', () => {
    const rows = 'time,event,value\n08/05/2026 06:00,check,open\n';
    const settled = valueOf(
      parseDeviceLog(`${rows}13/05/2026 06:00,check,shut\n`, 'device.csv', { zone: null }),
    );
    expect(settled[0]?.atMs).toBe(Date.UTC(2026, 4, 8, 6));
    expect(parseDeviceLog(rows, 'device.csv', { zone: null })).toMatchObject({
      errors: [
        {
          code: 'time-order-unclear',
          source: { line: 2, column: 1 },
          tries: ["--device-time-format '%d/%m/%Y %H:%M'", "--device-time-format '%m/%d/%Y %H:%M'"],
        },
      ],
    });
  });

  it('need a header', () => {
    const [, ...rows] = csv('3 check open', '6 check shut');
    expect(errorsOf(read(rows))).toEqual(['1:1 device-log-without-header']);
    expect(errorsOf(read(['time,value', '2026-05-04T06:03:00Z,open']))).toEqual([
      '1:1 device-log-without-header',
    ]);
    expect(errorsOf(read(['event,value', 'check,open']))).toEqual([
      '1:1 device-log-without-header',
    ]);
  });
});
