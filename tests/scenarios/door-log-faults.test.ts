import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyText, brief, codesOf, errorsOf, pairsOf, readLog, valueOf } from './reading.js';

const s = 1_000;
const edges = (...rows: string[]): string => ['time,state', ...rows].join('\n');
const openings = (...rows: string[]): string => ['start,end', ...rows].join('\n');

describe('a log that is none', () => {
  it.each([
    ['', {}, 'log-empty'],
    ['\n \r\n', {}, 'log-empty'],
    ['\ufeff', {}, 'log-empty'],
    ['time,state\n', {}, 'log-without-rows'],
    ['a,b\n1,2\n', {}, '1:1 columns-not-found'],
    ['time\n1\n', {}, '1:1 columns-not-found'],
    ['start\n1\n', {}, '1:1 columns-not-found'],
    ['time,state,start,end\n1,open,2,3\n', {}, '1:1 columns-unclear'],
    ['2026-05-08 06:00:00,open\n', {}, '1:1 log-without-header'],
    ['1203934768,1203934772\n', {}, '1:1 log-without-header'],
    ['time,state\n1,open', { timeColumn: 'tme' }, '1:1 column-unknown'],
    ['a,b\n1,open', { timeColumn: 'a', endColumn: 'b' }, '1:1 columns-unclear'],
    ['time,state\n1,open', { zone: 'Mars/Base' }, 'unknown-zone'],
    ['\u0089PNG\r\n\u001a\n', {}, '1:- log-not-text'],
    ['\ufffd\ufffdtime', {}, '1:- log-not-text'],
    ['time,state\n1,open\n\0\0\0', {}, '3:- log-not-text'],
    ['t\0i\0m\0e\0', {}, '1:- log-not-text'],
    ['x'.repeat(1_100_000), {}, '1:- log-not-text'],
    ['"time,state\n1,open\n', {}, '1:1 quote-unclosed'],
    ['time,state\n1,"open\n2,closed\n', {}, '2:3 quote-unclosed'],
    ['time,state\n1,"open"x\n', {}, '2:3 quote-misplaced'],
    ['{"time":1}\n', { file: 'a.ndjson' }, '1:1 columns-not-found'],
    ['{"time":1,"state":"open"}\n{oops}\n', { file: 'a.ndjson' }, '2:2 json-row-unreadable'],
    ['{"time":1,"state":"open"}\n[1]\n', { file: 'a.ndjson' }, '2:1 json-row-unreadable'],
    ['[{"time":1,"state":"open"}, 7]', { file: 'a.json' }, '1:29 json-row-unreadable'],
    ['[\n  {"time":1,\n   "state":"open"', { file: 'a.json' }, '2:3 json-row-unreadable'],
    ['5', { file: 'a.ndjson' }, '1:1 json-row-unreadable'],
    ['{"__proto__":1,"constructor":2}', { file: 'a.ndjson' }, '1:1 columns-not-found'],
  ])('is refused (%#)', (text, options, expected) => {
    expect(errorsOf(readLog(text, options))).toEqual([expected]);
    expect(errorsOf(readLog(text, { lenient: true, ...options }))).toEqual([expected]);
  });

  it.each([',', ';', '|', '\t'])('gets a header that can be read, with the mark %j', (mark) => {
    const rows = `2026-05-08 06:00${mark}open\n2026-05-08 06:10${mark}shut\n`;
    const log = readLog(rows);
    const [filter = ''] = log.ok ? [] : (log.errors[0]?.tries ?? []);
    const [, header = ''] =
      /^\((?:echo|printf) ["']?(time.state)/u.exec(filter.replace('\\t', mark)) ?? [];
    expect(readLog(`${header}\n${rows}`).ok, filter).toBe(true);
  });

  it('is refused where it ends within a list', () => {
    const text = '[["time","state"],[10,"open"],[20,"sh';
    expect(errorsOf(readLog(text, { file: 'a.json' }))).toEqual(['1:1 json-row-unreadable']);
  });

  it.each([
    ['[{"time":10,"state":"open"},\n{"time":20,"state":"shut"}\n', '2:27'],
    ['[{"time":10,"state":"open"},\n{"time":20,"state":"shut"},\n', '2:28'],
    ['[[10,"open"],\n[20,"shut"]', '2:-'],
    ['{"time":10,"state":"open"}\n]', '2:1'],
    ['[', '1:2'],
  ])('is refused where a list was cut off between its rows (%#)', (text, place) => {
    for (const lenient of [false, true]) {
      const read = readLog(text, { file: 'a.json', lenient });
      expect(errorsOf(read)).toEqual([`${place} json-row-unreadable`]);
      // Its last lines are not the fault, and a part of a list is no list.
      expect(read).not.toMatchObject({ errors: [{ tries: [expect.anything()] }] });
    }
  });

  it('may end in a line that is still being written, and says how to read the others', () => {
    const lines = ['{"time":10,"state":"open"}', '{"time":20,"state":"shut"}'];
    const read = readLog(`${lines.join('\n')}\n{"time":3`, { file: 'a.ndjson' });
    expect(read).toMatchObject({
      errors: [
        {
          message: 'this row has no end',
          source: { line: 3 },
          tries: ['head -n 2 a.ndjson | --format ndjson'],
        },
      ],
    });
    expect(readLog(lines.join('\n'), { format: 'ndjson' }).ok).toBe(true);
  });

  it.each([
    [
      'a field of a row of several lines',
      'n,time,state\n"a\nb",10,open\n"c\nd",x,open\n',
      '5:4',
      3,
    ],
    ['the field behind it', 'time,state\n10,shut\n"20\n",wide\n', '4:3', null],
    ['JSON', '[{\n "time": 10,\n "state": "open"\n},{\n "time": 20,\n "state": 7}]', '6:2', null],
    ['a list of lists', '[["time","state"],\n [10, "open"],\n [20,\n "wide"]]', '4:2', null],
  ])('has its fault where it is: in %s', (_, text, place, lastGood) => {
    const read = readLog(text, { file: text.startsWith('[') ? 'a.json' : 'a.csv' });
    const { errors } = read.ok ? expect.fail('it has a fault') : read;
    const [first] = errors;
    expect(`${String(first?.source.line)}:${String(first?.source.column)}`).toBe(place);
    if (lastGood !== null) expect(first?.tries?.[0]).toContain(`head -n ${String(lastGood)} `);
  });

  it('has each of the columns that are read once, and a command for either of two', () => {
    for (const [header, name] of [
      ['time,state,time', 'time'],
      ['time,state,state', 'state'],
      ['start,end,note,start', 'start'],
    ]) {
      const read = readLog(`${header}\n1,2,3,4\n`);
      expect(read).toMatchObject({
        errors: [{ code: 'columns-unclear', message: `the header has the column ${name} twice` }],
      });
      const tries = read.ok ? [] : (read.errors[0]?.tries ?? []);
      expect(tries).toHaveLength(2);
      for (const one of tries) {
        const renamed = /s\/\.\*\/(.*)\//u.exec(one)?.[1]?.split(',') ?? [];
        expect(new Set(renamed).size).toBe(header?.split(',').length);
        expect(renamed).toContain(name);
      }
    }
    // A column that is not read may be there as often as it likes.
    expect(readLog('time,state,note,note\n1,open,a,b\n2,shut,a,b\n').ok).toBe(true);
  });

  it.each([
    ['2026-05-08 24:00:00', /midnight/u],
    ['2026-05-08 24:00', /midnight/u],
    ['2016-12-31T23:59:60Z', /leap second/u],
    ['2026-02-29 08:00:00', /correct/u],
    ['2026-13-01 08:00:00', /correct/u],
    ['2026-05-08 13:00:00 PM', /AM or PM/u],
    ['2026-05-08 00:30 am', /AM or PM/u],
    ['2026-05-08T08:00:00+99:00', /offset/u],
  ])('says what is wrong with a time that no calendar has: %s', (time, hint) => {
    const read = readLog(`time,state\n2016-01-01 00:00:00,open\n${time},shut\n`);
    expect(read).toMatchObject({
      errors: [
        {
          code: 'log-time-unreadable',
          source: { line: 3, column: 1 },
          found: time,
          expected: expect.stringContaining('23:59:59'),
          hint: expect.stringMatching(hint),
        },
      ],
    });
  });

  it('has no key twice in a row, of which one would be read', () => {
    const row = '{"time":10,"state":"open","state":"shut"}';
    for (const [text, file, place] of [
      [row, 'a.ndjson', '1:27'],
      [`[{"time":5,"state":"shut"},\n ${row}]`, 'a.json', '2:28'],
      [row.replace('"state":"shut"', '"state" :"shut"'), 'a.ndjson', '1:27'],
    ] as const) {
      const read = readLog(text, { file });
      expect(errorsOf(read)).toEqual([`${place} duplicate-key`]);
    }
    // The same key in an object inside, or in a text, is another one.
    const inner = '{"time":10,"a":{"time":1,"state":2},"state":"open","b":"\\"time\\":"}';
    expect(readLog(inner, { file: 'a.ndjson' }).ok).toBe(true);
  });

  it.each([
    [{ openWords: ['auf'], shutWords: ['Auf '] }],
    [{ openWords: ['auf'], unavailableWords: ['auf'] }],
    [{ shutWords: ['zu'], unavailableWords: ['zu'] }],
  ])('is refused where one word means two things (%#)', (words) => {
    expect(codesOf(readLog('time,state\n1,auf\n2,zu\n', words))).toEqual(['options-conflict']);
  });

  it('has no row where a line has nothing but delimiters', () => {
    const log = valueOf(readLog('time,state\n10,open\n,\n20,shut\n ; ,\n"",""\n'));
    expect(log.rows).toBe(2);
  });

  it('is refused where CR alone ends its lines, with what converts it', () => {
    const text = 'time,state\r10,open\r20,shut\r';
    const read = readLog(text, { file: 'a.csv' });
    expect(read).toMatchObject({
      errors: [{ code: 'log-not-text', tries: ["tr '\\r' '\\n' < a.csv | --format csv"] }],
    });
    expect(readLog(text.replaceAll('\r', '\n')).ok).toBe(true);
  });

  it('is not longer by rows that a quote inside a field would join', () => {
    const rows = ['10,shut,5" gap', '20,open,', '300,shut,5" gap', '400,shut,'];
    const log = valueOf(readLog(`time,state,note\n${rows.join('\n')}\n`));
    expect(log.rows).toBe(4);
    expect(pairsOf(log)).toEqual([[20 * s, 300 * s]]);
  });

  it('gets a hint how to get a header', () => {
    expect(readLog('2026-05-08 06:00:00,open\n')).toMatchObject({
      errors: [
        {
          hint: 'add this line above the rows: time,state',
          tries: [expect.stringMatching(/^\(echo time,state; cat .*\) \| --format csv$/u)],
          found: '2026-05-08 06:00:00,open',
        },
      ],
    });
  });
});

describe('a row that cannot be', () => {
  it.each([
    [edges('10,open', '5,closed'), '3:1 row-goes-back'],
    [edges('10,ajar'), '2:4 state-unknown'],
    [edges('ten,open'), '2:1 log-time-unreadable'],
    [edges('07:30:00,open'), '2:1 log-time-unreadable'],
    [edges(',open'), '2:1 field-missing'],
    [edges('10'), '2:3 field-missing'],
    [openings('10,5'), '2:1 ends-before-start'],
    [openings('10,20', '5,8'), '3:1 row-goes-back'],
    [openings('10,20', '15,30'), '3:1 overlap'],
    [openings('10,', '15,30'), '3:1 overlap'],
    [openings('10,later'), '2:4 log-time-unreadable'],
    ['note,state,time\n"a\nb",open,10\nx,closed,5\n', '4:10 row-goes-back'],
  ])(
    'is refused with its place, and left out or repaired when that is asked for (%#)',
    (text, expected) => {
      expect(errorsOf(readLog(text))).toEqual([expected]);
      const lenient = readLog(`${text}\n`, { lenient: true });
      const told = lenient.ok ? lenient.value.remarks.map(brief) : codesOf(lenient);
      expect(told.some((remark) => remark === expected || remark === 'log-without-rows')).toBe(
        true,
      );
    },
  );

  it('is named by the line on which its opening began', () => {
    expect(readLog(openings('10,20', '30,60', '40,50'))).toMatchObject({
      errors: [{ message: 'this opening begins before the one of line 3 ends', found: '40' }],
    });
  });

  it('is reported together with all others, up to ten', () => {
    const rows = Array.from({ length: 50 }, (_, index) => `no. ${String(index)},open`);
    const result = readLog(edges('2026-05-08 08:00,shut', ...rows));
    expect(codesOf(result)).toHaveLength(11);
    expect(codesOf(result).at(-1)).toBe('more-errors');
    expect(result).toMatchObject({ errors: { 10: { message: 'and 40 more errors' } } });
  });

  it('is one error where every row has it', () => {
    const result = readLog(edges(...Array.from({ length: 50 }, () => 'no time,open')));
    expect(result).toMatchObject({ errors: [{ code: 'log-time-unreadable' }] });
    expect(codesOf(result)).toHaveLength(1);
  });
});

describe('repairs', () => {
  it('move a row that goes back to its place', () => {
    const log = valueOf(
      readLog(edges('10,open', '30,closed', '20,closed', '25,open'), { lenient: true }),
    );
    expect(pairsOf(log)).toEqual([
      [10 * s, 20 * s],
      [25 * s, 30 * s],
    ]);
    const repairs = log.remarks.filter(({ code }) => code !== 'open-most-of-the-time');
    expect(repairs).toMatchObject([
      {
        code: 'row-goes-back',
        severity: 'warning',
        source: { line: 4, column: 1 },
        message: 'this row is earlier than the one above it: it is moved to its place',
        found: '20',
      },
      { source: { line: 5 } },
    ]);
  });

  it('make one of openings that overlap, and leave out what ends before it starts', () => {
    const text = openings('10,20', '15,30', '40,35', '50,', '55,60', '5,12');
    const log = valueOf(readLog(text, { lenient: true }));
    expect(pairsOf(log)).toEqual([
      [5 * s, 30 * s],
      [50 * s, 60 * s],
    ]);
    expect(log.remarks.slice(1).map(brief)).toEqual([
      '3:1 overlap',
      '4:1 ends-before-start',
      '6:1 overlap',
      '7:1 row-goes-back',
    ]);
  });

  it('read a skipped hour as if the clocks had not gone forward, and a doubled one so that time goes on', () => {
    const text = edges(
      '2026-03-29 01:30:00,open',
      '2026-03-29 02:35:00,closed',
      '2026-10-25 01:50:00,open',
      '2026-10-25 01:10:00,closed',
    );
    const zone = 'Europe/Lisbon';
    expect(codesOf(readLog(text, { zone }))).toEqual(['local-time-skipped']);
    expect(pairsOf(valueOf(readLog(text, { zone, lenient: true })))).toEqual([
      [Date.UTC(2026, 2, 29, 1, 30), Date.UTC(2026, 2, 29, 1, 35)],
      [Date.UTC(2026, 9, 25, 0, 50), Date.UTC(2026, 9, 25, 1, 10)],
    ]);
  });

  it('are listed up to ten, and counted', () => {
    const rows = Array.from({ length: 50 }, (_, index) => `${String(index)},what`);
    const log = valueOf(readLog(edges('1,open', ...rows), { lenient: true }));
    expect(log.remarks).toHaveLength(11);
    expect(log.remarks.at(-1)).toMatchObject({ message: 'and 40 more repairs' });
  });

  it('leave nothing that is out of order or overlaps, whatever the rows', () => {
    const time = fc.integer({ min: 0, max: 40 });
    const edgeRows = fc.array(
      fc.tuple(time, fc.constantFrom('open', 'closed', 'what')).map((row) => row.join(',')),
      { maxLength: 20 },
    );
    const openingRows = fc.array(
      fc.tuple(time, fc.option(time, { nil: '' })).map((row) => row.join(',')),
      { maxLength: 20 },
    );
    const logs = fc.oneof(
      edgeRows.map((rows) => edges(...rows)),
      openingRows.map((rows) => openings(...rows)),
    );
    fc.assert(
      fc.property(logs, (text) => {
        const result = readLog(text, { lenient: true });
        if (!result.ok) {
          expect(codesOf(result)).toEqual(['log-without-rows']);
          return;
        }
        let shutMs = Number.NEGATIVE_INFINITY;
        for (const [fromMs, toMs] of pairsOf(result.value)) {
          expect(fromMs).toBeGreaterThan(shutMs);
          expect(toMs).toBeGreaterThan(fromMs);
          shutMs = toMs;
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe('any text', () => {
  it('is read or refused, and never throws', () => {
    const pieces = fc.constantFrom(
      'time',
      ',',
      'state',
      '\n',
      '\r',
      '"',
      'open',
      '10',
      '{',
      '}',
      ':',
      '\t',
      ';',
      ' ',
      '-',
      '2026-05-08',
    );
    const text = fc.oneof(
      fc.array(pieces, { maxLength: 30 }).map((parts) => parts.join('')),
      fc.array(pieces, { maxLength: 20 }).map((parts) => `time,state\n${parts.join('')}`),
      anyText(80),
    );
    fc.assert(
      fc.property(
        text,
        fc.constantFrom('-', 'a.csv', 'a.tsv', 'a.ndjson'),
        fc.boolean(),
        (given, file, lenient) => {
          const result = readLog(given, { file, lenient }, 5);
          if (!result.ok) expect(result.errors.length).toBeGreaterThan(0);
        },
      ),
      { numRuns: 1_000 },
    );
  });
});
