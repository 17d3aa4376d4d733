// The forms of times that exports have. Instants of the patterns are those that Python 3.12's datetime.strptime gives
// (docs.python.org/3/library/datetime.html), worked out once and written down here.
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import type { DoorLog } from '../../src/scenarios/index.js';
import { recognisedPatterns } from '../../src/scenarios/time/recognise.js';
import { compileTimePattern } from '../../src/scenarios/time/time-pattern.js';
import { codesOf, errorsOf, pairsOf, readLog, valueOf } from './reading.js';

const at = (text: string): number => Temporal.Instant.from(text).epochMilliseconds;

describe('a written time', () => {
  it.each([
    ['31.12.2026 23:15', '2026-12-31T23:15Z'],
    ['31.12.2026, 23:15:01', '2026-12-31T23:15:01Z'],
    ['1.2.26 3:04', '2026-02-01T03:04Z'],
    ['8. 5. 2026 6:15', '2026-05-08T06:15Z'],
    ['08.05.2026 06.15', '2026-05-08T06:15Z'],
    ['12/31/2026 11:15 PM', '2026-12-31T23:15Z'],
    ['31/12/2026 12:00 am', '2026-12-31T00:00Z'],
    ['31-12-2026 12:00 p.m.', '2026-12-31T12:00Z'],
    ['2026/01/02 03:04:05.123', '2026-01-02T03:04:05.123Z'],
    ['2026/01/02T03:04+02:00', '2026-01-02T01:04Z'],
    ['2026.01.02 03:04', '2026-01-02T03:04Z'],
    ['2026-5-8 6:00', '2026-05-08T06:00Z'],
    ['20260508T060000Z', '2026-05-08T06:00Z'],
    ['20260508060000', '2026-05-08T06:00Z'],
    ['20260508 0600', '2026-05-08T06:00Z'],
    ['May 8, 2026 6:00 PM', '2026-05-08T18:00Z'],
    ['May 8, 2026, 6:00:00\u202fAM', '2026-05-08T06:00Z'],
    ['Fri, 08 May 2026 06:00:00 +0200', '2026-05-08T04:00Z'],
    ['Fri May  8 06:00:00 2026', '2026-05-08T06:00Z'],
    ['08/May/2026:06:00:00 +0200', '2026-05-08T04:00Z'],
    ['08-Sep-2026 06:00', '2026-09-08T06:00Z'],
    ['1778220000,25', '2026-05-08T06:00:00.250Z'],
    ['202605080600', '2026-05-08T06:00Z'],
    ['8.May.2026 06:00', '2026-05-08T06:00Z'],
    ['8. Sept. 2026 06:00', '2026-09-08T06:00Z'],
    ['Fri May  8 06:00:00 UTC 2026', '2026-05-08T06:00Z'],
  ])('%s is read as %s', (text, expected) => {
    const log = valueOf(readLog(`time;state\n${text};open\n`));
    expect(log.firstMs).toBe(at(expected));
  });

  it.each([
    '12.31.2026 10:00',
    '31/31/2026 10:00',
    '29.02.2026 10:00',
    '08.05.2026 25:00',
    '5/8/26 10:00',
    '13:15 PM 08.05.2026',
    '08.05.2026 13:15 PM',
    '10:15',
    '2026-05-08-06:15',
    'May 2026',
    '2026-05-08 06:00:05.',
    '2026-05-08 06:00:05,',
  ])('%s is refused', (text) => {
    expect(codesOf(readLog(`time;state\n${text};open\n`))).toEqual(['log-time-unreadable']);
  });

  it('with an abbreviation of a zone needs the zone by name', () => {
    const text = 'time;state\n08.05.2026 06:00:00 CEST;open\n';
    expect(errorsOf(readLog(text))).toEqual(['2:1 zone-abbreviated']);
    expect(valueOf(readLog(text, { zone: 'Europe/Oslo' })).firstMs).toBe(at('2026-05-08T04:00Z'));
  });

  it('that is recognised has a pattern that reads it, and no other day', () => {
    const instants = fc.integer({ min: at('2000-01-01T00:00Z'), max: at('2068-12-31T00:00Z') });
    const forms = fc.constantFrom<
      (two: (n: number) => string, t: Temporal.PlainDateTime) => string
    >(
      (two, t) => `${two(t.day)}.${two(t.month)}.${String(t.year)} ${two(t.hour)}:${two(t.minute)}`,
      (two, t) =>
        `${String(t.year)}/${String(t.month)}/${two(t.day)} ${two(t.hour)}:${two(t.minute)}`,
      (two, t) =>
        `${t.toLocaleString('en-US', { month: 'short' })} ${String(t.day)}, ${String(t.year)} ${String(t.hour % 12 || 12)}:${two(t.minute)} ${t.hour < 12 ? 'AM' : 'PM'}`,
    );
    fc.assert(
      fc.property(instants, forms, (ms, form) => {
        const minute = Math.floor(ms / 60_000) * 60_000;
        const local = Temporal.Instant.fromEpochMilliseconds(minute)
          .toZonedDateTimeISO('UTC')
          .toPlainDateTime();
        const text = form((n) => String(n).padStart(2, '0'), local);
        const patterns = recognisedPatterns(text);
        expect(patterns, text).toHaveLength(1);
        const [pattern = ''] = patterns;
        const compiled = compileTimePattern(pattern);
        expect(compiled.ok && compiled.value.read(text), text).toBe(minute);
      }),
    );
  });
});

describe('a time of digits alone', () => {
  it('is a date and a time as a number of JSON, as well', () => {
    const row = '{"time":20260508060000,"state":"open"}\n{"time":202605080610,"state":"shut"}\n';
    const log = valueOf(readLog(row, { file: 'doors.ndjson' }));
    expect(pairsOf(log)).toEqual([[at('2026-05-08T06:00Z'), at('2026-05-08T06:10Z')]]);
  });

  it('is a date where it is no more than one, in text and as a number of JSON', () => {
    const days = [[at('2026-05-08T00:00Z'), at('2026-05-09T00:00Z')]];
    const csv = 'time,state\n20260508,open\n20260509,shut\n20260510,shut\n';
    expect(pairsOf(valueOf(readLog(csv)))).toEqual(days);
    const json = '{"time":20260508,"state":"open"}\n{"time":20260509,"state":"shut"}\n';
    expect(pairsOf(valueOf(readLog(json, { file: 'doors.ndjson' })))).toEqual(days);
    const fractions = 'time,state\n20260508060000.500,open\n20260508060001,shut\n';
    const [[from] = []] = pairsOf(valueOf(readLog(fractions)));
    expect(from).toBe(at('2026-05-08T06:00:00.500Z'));
  });

  it('is a number of seconds behind one that can be no date, and refused behind a date', () => {
    const seconds = valueOf(readLog('time,state\n5,open\n20260508,shut\n'));
    expect(seconds.lastMs).toBe(20_260_508_000);
    expect(errorsOf(readLog('time,state\n20260508,open\n20260532,shut\n'))).toEqual([
      '3:1 log-time-unreadable',
    ]);
  });

  it('is refused where the year comes last, or a part of a second follows, with the options that read it', () => {
    const triesOf = (time: string): readonly string[] => {
      const read = readLog(`time,state\n${time},open\n`);
      return read.ok ? [] : (read.errors[0]?.tries ?? []);
    };
    const timeFormats = (time: string): readonly string[] =>
      triesOf(time).map((text) => text.replace('--time-format ', ''));
    expect(timeFormats('08052026')).toEqual(['%d%m%Y', '%m%d%Y', '%s']);
    expect(timeFormats('20260508.5')).toEqual(['%s.%f']);
    for (const [time, formats] of [
      ['08052026', ['%d%m%Y', '%m%d%Y', '%s']],
      ['20260508.5', ['%s.%f']],
    ] as const) {
      for (const timeFormat of formats) {
        expect(readLog(`time,state\n${time},open\n`, { timeFormat }).ok, timeFormat).toBe(true);
      }
    }
  });

  it.each([
    ['2605081230', '2605081240', '%y%m%d%H%M'],
    ['260508', '260509', '%y%m%d'],
  ])('of an unusual year gets a remark, and the pattern reads it: %s', (from, to, timeFormat) => {
    const text = `time,state\n${from},open\n${to},shut\n`;
    const codes = (log: DoorLog): readonly string[] => log.remarks.map(({ code }) => code);
    expect(codes(valueOf(readLog(text)))).toContain('times-unusual');
    const read = valueOf(readLog(text, { timeFormat }));
    expect(codes(read)).not.toContain('times-unusual');
    expect(new Date(read.firstMs).getUTCFullYear()).toBe(2026);
    // A counter that began with the log, and today's seconds.
    for (const usual of ['0,open\n600,shut', '1778220000,open\n1778220600,shut']) {
      expect(codes(valueOf(readLog(`time,state\n${usual}\n`)))).not.toContain('times-unusual');
    }
  });

  it('is a time of day where the date of the first row is given', () => {
    const log = valueOf(readLog('time,state\n0600,open\n061000,shut\n', { date: '2026-05-08' }));
    expect(pairsOf(log)).toEqual([[at('2026-05-08T06:00Z'), at('2026-05-08T06:10Z')]]);
  });
});

describe('slashes with the year last', () => {
  const column = (...times: string[]): string =>
    ['time,state', ...times.map((time, row) => `${time},${row % 2 === 0 ? 'open' : 'shut'}`)].join(
      '\n',
    );

  it('are settled by a number over 12, wherever it stands', () => {
    const day = column(
      '01/02/2026 10:00',
      '01/02/2026 10:05',
      '13/02/2026 09:00',
      '13/02/2026 09:10',
    );
    const month = column(
      '01/02/2026 10:00',
      '01/02/2026 10:05',
      '01/13/2026 09:00',
      '01/14/2026 09:10',
    );
    expect(pairsOf(valueOf(readLog(day)))).toEqual([
      [at('2026-02-01T10:00Z'), at('2026-02-01T10:05Z')],
      [at('2026-02-13T09:00Z'), at('2026-02-13T09:10Z')],
    ]);
    expect(pairsOf(valueOf(readLog(month)))).toEqual([
      [at('2026-01-02T10:00Z'), at('2026-01-02T10:05Z')],
      [at('2026-01-13T09:00Z'), at('2026-01-14T09:10Z')],
    ]);
  });

  it('that nothing settles are refused with both readings and the options that choose', () => {
    const text = column('01/02/2026 10:00', '01/02/2026 10:05');
    const result = readLog(text);
    expect(errorsOf(result)).toEqual(['2:1 time-order-unclear']);
    const tries = ["--time-format '%d/%m/%Y %H:%M'", "--time-format '%m/%d/%Y %H:%M'"];
    expect(result).toMatchObject({ errors: [{ tries }] });
    expect(result.ok ? '' : result.errors[0]?.message).toMatch(/2026-02-01 or 2026-01-02/u);
    expect(valueOf(readLog(text, { timeFormat: '%m/%d/%Y %H:%M' })).firstMs).toBe(
      at('2026-01-02T10:00Z'),
    );
  });

  it('whose order changes are refused', () => {
    const text = column('13/02/2026 10:00', '02/14/2026 10:05');
    expect(errorsOf(readLog(text))).toEqual(['3:1 time-order-changes']);
  });

  it('that are the same in both orders are not in doubt', () => {
    expect(pairsOf(valueOf(readLog(column('02/02/2026 10:00', '02/02/2026 10:05'))))).toEqual([
      [at('2026-02-02T10:00Z'), at('2026-02-02T10:05Z')],
    ]);
  });

  it('read the same as with the option, however late they are settled, errors included', () => {
    const row = fc.tuple(
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 0, max: 23 }),
      fc.constantFrom('open', 'shut', 'unavailable'),
    );
    const two = (n: number): string => String(n).padStart(2, '0');
    fc.assert(
      fc.property(
        fc.array(row, { maxLength: 12 }),
        fc.boolean(),
        fc.boolean(),
        (rows, lenient, sort) => {
          const order = sort
            ? rows.toSorted((a, b) => a[1] - b[1] || a[0] - b[0] || a[2] - b[2])
            : rows;
          const lines = order.map(
            ([day, month, hour, state]) =>
              `${two(day)}/${two(month)}/2026 ${two(hour)}:30,${state}`,
          );
          const text = ['time,state', ...lines, '31/12/2026 10:00,shut'].join('\n');
          const zone = 'Europe/Oslo';
          const settled = readLog(text, { lenient, zone }, 7);
          const named = readLog(text, { lenient, zone, timeFormat: '%d/%m/%Y %H:%M' });
          const found = (result: typeof settled) =>
            result.ok
              ? pairsOf(result.value)
              : result.errors.map(({ code, source }) => [code, source]);
          expect(found(settled)).toEqual(found(named));
        },
      ),
    );
  });
});

describe('a time format', () => {
  // Python: datetime.strptime(text, pattern), as UTC where it has no offset.
  it.each([
    ['%d/%m/%y %H:%M', '08/05/26 06:15', '2026-05-08T06:15Z'],
    ['%m-%d-%Y %I:%M:%S %p', '05-08-2026 12:15:00 AM', '2026-05-08T00:15Z'],
    ['%Y-%j %H:%M', '2026-128 06:15', '2026-05-08T06:15Z'],
    ['%d %b %Y %H:%M:%S.%f', '08 May 2026 06:15:00.25', '2026-05-08T06:15:00.250Z'],
    ['%a, %d %b %Y %H:%M:%S %z', 'Fri, 08 May 2026 06:15:00 +0530', '2026-05-08T00:45Z'],
    ['%y%m%d', '690508', '1969-05-08T00:00Z'],
    ['%y%m%d', '680508', '2068-05-08T00:00Z'],
    ['%Y-%m-%dT%H.%M%%', '2026-05-08T06.15%', '2026-05-08T06:15Z'],
    // Not in Python's: the epoch, and the short forms of POSIX.
    ['%s', '1778220000', '2026-05-08T06:00Z'],
    ['%s,%f', '1778220000,5', '2026-05-08T06:00:00.500Z'],
    ['%F %R', '2026-05-08 06:15', '2026-05-08T06:15Z'],
    ['%D %r', '05/08/26 06:15:00 PM', '2026-05-08T18:15Z'],
    ['serial', '46150.25', '2026-05-08T06:00Z'],
    ['serial', '46150,2569444444', '2026-05-08T06:10Z'],
  ])('%s reads %s', (timeFormat, time, expected) => {
    const log = valueOf(readLog(`time;state\n${time};open\n`, { timeFormat }));
    expect(log.firstMs).toBe(at(expected));
  });

  it.each([
    ['%Q', 'time-format-unknown'],
    ['%Y-%m-%d %', 'time-format-unknown'],
    ['%d.%m', 'time-format-incomplete'],
    ['%Y-%d', 'time-format-incomplete'],
    ['%Y-%m-%d %I:%M', 'time-format-incomplete'],
    ['%Y-%m-%d %H:%M %p', 'time-format-incomplete'],
    ['', 'time-format-incomplete'],
  ])('%s is one error', (timeFormat, code) => {
    expect(codesOf(readLog('time,state\nx,open\ny,shut\n', { timeFormat }))).toEqual([code]);
  });

  it('names what does not fit it, with its place', () => {
    const text = 'time,state\n08.05.2026,open\n08/05/2026,shut\n';
    expect(errorsOf(readLog(text, { timeFormat: '%d.%m.%Y' }))).toEqual([
      '3:1 log-time-unreadable',
    ]);
  });
});

describe('numbers of days, as in spreadsheets', () => {
  it('are refused with the option that reads them', () => {
    expect(readLog('time,state\n46150.25,open\n46150.5,shut\n')).toMatchObject({
      errors: [
        { code: 'log-time-unreadable', hint: expect.stringMatching(/--time-format serial/u) },
      ],
    });
  });

  it('are seconds where the log began with such', () => {
    expect(valueOf(readLog('time,state\n0,open\n46150,shut\n')).lastMs).toBe(46_150_000);
  });
});

describe('a date and a time in two columns', () => {
  const opening = [[at('2026-05-08T06:00Z'), at('2026-05-08T06:05Z')]];
  it.each([
    ['Date,Time,State\n08.05.2026,06:00,open\n08.05.2026,06:05,shut', {}],
    ['state;time;date\nopen;6:00 AM;2026-05-08\nshut;6:05 AM;2026-05-08', {}],
    [
      'a,b,c\n2026/05/08,06:00:00,open\n2026/05/08,06:05:00,shut',
      { dateColumn: 'a', timeColumn: 'b', stateColumn: 'c' },
    ],
    ['date,start,end\n2026-05-08,06:00,06:05', {}],
    ['start date,start time,end date,end time\n08.05.2026,06:00,08.05.2026,06:05', {}],
    // A date beside whole times says nothing more.
    ['date,time,state\n2026-05-08,2026-05-08 06:00,open\n2026-05-08,2026-05-08 06:05,shut', {}],
    [
      '{"date":"2026-05-08","time":"06:00","state":"open"}\n{"date":"2026-05-08","time":"06:05","state":"shut"}',
      { file: 'a.ndjson' },
    ],
  ])('%j is read', (text, options) => {
    expect(pairsOf(valueOf(readLog(text, options)))).toEqual(opening);
  });

  it('with one date for both ends goes past midnight', () => {
    const log = valueOf(readLog('date,start,end\n2026-05-08,23:50,00:10\n2026-05-09,06:00,06:01'));
    expect(pairsOf(log)[0]).toEqual([at('2026-05-08T23:50Z'), at('2026-05-09T00:10Z')]);
  });
});

describe('a header', () => {
  /** The headers by which a log of two rows is not read. */
  function unread(names: string, text: (name: string) => string): readonly string[] {
    return names.split(' ').filter((name) => {
      const log = readLog(text(name));
      return !log.ok || pairsOf(log.value).length !== 1;
    });
  }
  const opened = '2026-05-08T06:00:00Z';
  const shut = '2026-05-08T06:05:00Z';
  const edges = (header: string, open = 'open', closed = 'shut'): string =>
    `${header}\n${opened},${open}\n${shut},${closed}\n`;

  it('may call the time of a change by many names', () => {
    const names =
      'time timestamp datetime date_time at ts when event_time event_timestamp recorded_at created_at logged_at utc_time local_time clock epoch unix_time date day';
    expect(unread(names, (name) => edges(`${name},state`))).toEqual([]);
    expect(
      unread('Time TIME Event-Time Time(UTC) Time[UTC] log.time', (name) => edges(`${name},state`)),
    ).toEqual([]);
    expect(unread('tome (time) hour', (name) => edges(`${name},state`))).toHaveLength(3);
  });

  it('may call the time of day beside a date by many names', () => {
    const rows = (name: string): string =>
      `date,${name},state\n2026-05-08,06:00,open\n2026-05-08,06:05,shut\n`;
    expect(unread('time hhmm hhmmss time_of_day clock at', rows)).toEqual([]);
    const day = (name: string): string => rows('time').replace('date', name);
    expect(unread('date day Day', day)).toEqual([]);
    expect(unread('when', day)).toEqual(['when']);
  });

  it('may call the state by many names', () => {
    const names =
      'state status value door is_open open door_state door_status contact_state new_state position val event action';
    expect(unread(names, (name) => edges(`time,${name}`))).toEqual([]);
    expect(unread('mood', (name) => edges(`time,${name}`))).toEqual(['mood']);
  });

  it('may say of its state that yes means shut', () => {
    const closed = (yes: string, no: string) => (name: string) => edges(`time,${name}`, no, yes);
    const open = (yes: string, no: string) => (name: string) => edges(`time,${name}`, yes, no);
    for (const [yes, no] of [
      ['true', 'false'],
      ['1', '0'],
      ['1.0', '0.0'],
      ['on', 'off'],
      ['ON', 'Off'],
    ] as const) {
      expect(unread('closed is_closed shut is_shut contact', closed(yes, no))).toEqual([]);
      expect(unread('state open is_open door', open(yes, no))).toEqual([]);
    }
    expect(unread('closed contact state', open('opened', 'close'))).toEqual([]);
  });

  it('may call the start and the end of an opening by many names', () => {
    const row = (header: string): string => `${header}\n${opened},${shut}\n`;
    const starts =
      'start from opened open opened_at start_time start_at started_at opening open_time opened_time time_opened begin start_date';
    expect(unread(starts, (name) => row(`${name},end`))).toEqual([]);
    const ends =
      'end to closed until closed_at end_time end_at ended_at closing close close_time closed_time time_closed end_date shut shut_at shut_time time_shut';
    expect(unread(ends, (name) => row(`start,${name}`))).toEqual([]);
    expect(unread('finish', (name) => row(`start,${name}`))).toEqual(['finish']);
  });

  it('may call the length of an opening by many names, with its unit behind it', () => {
    const row = (name: string): string => `start,${name}\n${opened},00:05:00\n`;
    const names =
      'duration length open_duration duration_open open_for opened_for time_open elapsed';
    expect(unread(names, row)).toEqual([]);
    const units =
      'ms s sec secs msec msecs seconds millis milliseconds min mins minutes h hr hrs hours';
    const number = (name: string): string => `start,${name}\n${opened},3\n`;
    expect(
      unread(
        units
          .split(' ')
          .map((unit) => `duration_${unit}`)
          .join(' '),
        number,
      ),
    ).toEqual([]);
    expect(
      unread(
        'open_ms open_s open_seconds open_minutes open_hours seconds minutes seconds_open minutes_open',
        number,
      ),
    ).toEqual([]);
    expect(unread('duration_days mass durations xminutes', number)).toHaveLength(4);
    // A unit stands at the end of a name.
    const named = number('h_of_opening');
    expect(codesOf(readLog(named, { durationColumn: 'h_of_opening' }))).toEqual([
      'log-duration-unit',
    ]);
  });

  it('may have the dates of an opening beside its times', () => {
    const row = (header: string): string => `${header}\n2026-05-08,23:00,2026-05-09,00:10\n`;
    const starts = 'start_date date_opened opened_date open_date';
    const ends = 'end_date date_closed closed_date close_date';
    const over = (header: string): readonly (readonly number[])[] =>
      pairsOf(valueOf(readLog(row(header))));
    for (const [index, first] of starts.split(' ').entries()) {
      const last = ends.split(' ')[index] ?? '';
      expect(over(`${first},opened,${last},closed`)).toEqual([
        [at('2026-05-08T23:00Z'), at('2026-05-09T00:10Z')],
      ]);
    }
  });
});

describe('lines of a time and words, under a header with a space in it', () => {
  const header = 'time state';

  it('are read', () => {
    const log = valueOf(
      readLog(`${header}\n2026-05-08 06:00:00 open\n2026-05-08 06:05:00 "closed"\n`),
    );
    expect(pairsOf(log)).toEqual([[at('2026-05-08T06:00Z'), at('2026-05-08T06:05Z')]]);
  });

  it('are refused at the line that does not begin with a time', () => {
    const text = `${header}\n2026-05-08 06:00:00 open\nnobody knows\n2026-05-08 06:05:00 closed\n`;
    expect(errorsOf(readLog(text))).toEqual(['3:1 log-time-unreadable']);
  });
});

describe('a log that is refused', () => {
  const rows = ['2026-05-08T06:00:00Z,open', '2026-05-08T06:05:00Z,shut'];
  const tried = (lines: readonly string[], options = {}) => {
    const result = readLog(lines.join('\n'), options);
    return result.ok
      ? []
      : result.errors.map(({ code, tries }) => [code, ...(tries ?? [])].join(': '));
  };

  it('for lines above its rows has a command that leaves them out', () => {
    const header = 'time,state';
    const [one = ''] = tried([header, 'UTC,words', ...rows]);
    expect(one).toContain('sed 2d doors.csv');
    const [two = ''] = tried([header, 'UTC,words', '---,---', ...rows]);
    expect(two).toContain('sed 2,3d doors.csv');
  });

  it('for a row without its state is read where such rows are left out', () => {
    const lines = ['time,state', ...rows, '2026-05-08T06:07:00Z', '2026-05-08T06:09:00Z,shut'];
    expect(tried(lines)).toHaveLength(1);
    const log = valueOf(readLog(lines.join('\n'), { lenient: true }));
    expect(pairsOf(log)).toEqual([[at('2026-05-08T06:00Z'), at('2026-05-08T06:05Z')]]);
  });

  it('for its first date is refused before any row', () => {
    const times = ['time,state', '06:00,open', '06:05,shut'];
    const wrong = readLog(times.join('\n'), { date: 'the eighth' });
    expect(wrong).toMatchObject({ errors: [{ source: { file: '--date' } }] });
    expect(tried(times, { date: '2026-05-08' })).toEqual([]);
  });
});
