import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultWatchFile, timelineOfLog } from '../../src/scenarios/index.js';
import { brief, pairsOf, readLog, valueOf } from './reading.js';

const s = 1_000;
const endless = Number.POSITIVE_INFINITY;
const diagnosticsOf = (read: ReturnType<typeof readLog>) => (read.ok ? [] : read.errors);

describe('a door log', () => {
  it.each([
    ['edges', 'time,state\n10,open\n20,closed\n30,open\n', {}],
    ['edges in other words', 'Timestamp;Status\n10;ON\n20;Off\n30;on', {}],
    ['edges as numbers', 'at,value\n10,1\n20,0\n30,1', {}],
    ['edges as truths', 'datetime,is_open\n10,True\n20,FALSE\n30,true', {}],
    ['a contact that is closed at true', 'datetime,contact\n10,False\n20,TRUE\n30,false', {}],
    ['a column that is true while the door is shut', 'time,shut\n10,false\n20,true\n30,false', {}],
    ['a contact that is closed at on', 'time,Contact\n10,off\n20,On\n30,OFF', {}],
    ['a column named closed', 'time,closed\n10,0\n20,1\n30,0', {}],
    ['a column named is closed', 'time,Is Closed\n10,false\n20,true\n30,false', {}],
    [
      'a contact by the last part of its name',
      'time,door.Contact\n10,0\n20,1\n30,0',
      { stateColumn: 'door.contact' },
    ],
    [
      'a contact of objects',
      '{"time":10,"contact":false}\n{"time":20,"contact":true}\n{"time":30,"contact":false}',
      { file: 'a.ndjson' },
    ],
    ['a contact in words', 'time,contact\n10,open\n20,closed\n30,open', {}],
    [
      'a contact with words of its own',
      'time,contact\n10,1\n20,0\n30,1',
      { openWords: ['1'], shutWords: ['0'] },
    ],
    ['a contact with one word of its own', 'time,contact\n10,1\n20,0\n30,1', { openWords: ['1'] }],
    ['a start beside a closed', 'time,opened,closed\n1,10,20\n1,30,', {}],
    ['edges of a door', 'date,door\n10,opened\n20,shut\n30,opened', {}],
    ['openings', 'start,end\n10,20\n30,\n', {}],
    ['openings in other words', 'from,to\n10,20\n30,\n', {}],
    ['openings by participles', 'Opened,Closed\n10,20\n30,', {}],
    ['columns among others', 'id,state,note,time\n1,open,"a, b",10\n2,closed,,20\n3,open,x,30', {}],
    ['a tab-separated file', 'time\tstate\n10\topen\n20\tclosed\n30\topen', { file: 'doors.tsv' }],
    [
      'objects',
      '{"time":10,"state":"open"}\n{"time":20,"state":"closed"}\n{"state":"open","time":30}',
      { file: 'a.ndjson' },
    ],
    ['objects of openings', '{"start":10,"end":20}\n{"start":30,"end":null}', { file: 'a.jsonl' }],
    ['objects with no ending to tell by', '{"start":"10","end":"20"}\n{"start":30}', { file: '-' }],
    [
      'columns by name',
      'when,what\n10,open\n20,closed\n30,open',
      { timeColumn: 'When', stateColumn: 'what' },
    ],
    [
      'words of its own',
      'time,state\n10,auf\n20,ZU\n30,auf',
      { openWords: ['Auf'], shutWords: ['zu'] },
    ],
    ['readings above a limit', 'time,state\n10,2.9\n20,1.1 V\n30,3', { openAbove: '2' }],
    [
      'readings below a limit, with units and commas',
      'time;state\n10;12 mm\n20;80,5 mm\n30;9',
      { openBelow: '40' },
    ],
    [
      'readings with a band in which the door stays as it was',
      'time,state\n10,2.9\n15,2\n20,1.1\n25,2\n30,3',
      { openAbove: '1.5..2.5' },
    ],
    [
      'a date beside a time of digits alone',
      'date,hhmmss,door\n19700101,000010,open\n19700101,000020,closed\n,000030,open',
      {},
    ],
    ['readings of 1 and 0', 'time,state\n10,0\n20,1\n30,0', { openBelow: '0.5' }],
    [
      'objects of readings',
      '{"time":10,"state":9}\n{"time":20,"state":1.5}\n{"time":30,"state":9}',
      { file: 'a.ndjson', openAbove: '5' },
    ],
    [
      'everything a spreadsheet does',
      '\ufeff"time","state"\r\n"10","open"\r\n\r\n"20","closed"\r\n  \r\n"30","open"',
      {},
    ],
    [
      'a format by option',
      'time\tstate\n10\topen\n20\tclosed\n30\topen',
      { file: 'x', format: 'tsv' as const },
    ],
  ])('reads %s', (_, text, options) => {
    expect(pairsOf(valueOf(readLog(text, options)))).toEqual([
      [10 * s, 20 * s],
      [30 * s, endless],
    ]);
  });

  it('reads the same however its text is cut', () => {
    const text = [
      '\ufefftime,note,state',
      '2026-05-08T06:00:00Z,"two\nlines ""quoted""",open',
      '2026-05-08T06:00:40Z,,closed',
      '',
      '2026-05-08T06:01:00+00:00,é😀,open',
      '2026-05-08 06:02:00,x,closed',
    ].join('\r\n');
    const whole = readLog(text);
    expect(pairsOf(valueOf(whole))).toHaveLength(2);
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 80 }), (length) => {
        expect(readLog(text, {}, length)).toEqual(whole);
      }),
    );
  });

  it('of many rows keeps every one', () => {
    const rows = Array.from(
      { length: 5_000 },
      (_, index) => `${String(index)},${String(index % 2)}`,
    );
    const log = valueOf(readLog(['time,state', ...rows].join('\n')));
    expect(log).toMatchObject({ rows: 5_000, firstMs: 0, lastMs: 4_999 * s, mergedRows: 0 });
    expect(pairsOf(log)).toEqual(
      Array.from({ length: 2_500 }, (_, index) => [
        (2 * index + 1) * s,
        index === 2_499 ? endless : (2 * index + 2) * s,
      ]),
    );
  });

  it.each([{}, { lenient: true }])(
    'merges states that repeat, and counts them, but not the first row: %j',
    (options) => {
      const rows = '0,closed\n10,open\n12,open\n20,closed\n21,closed\n';
      const log = valueOf(readLog(`time,state\n${rows}`, options));
      expect(pairsOf(log)).toEqual([[10 * s, 20 * s]]);
      expect(log).toMatchObject({ rows: 5, mergedRows: 2, firstMs: 0, lastMs: 21 * s });
      expect(log.remarks).toMatchObject([
        { code: 'rows-merged', message: 'merged 2 rows that changed nothing' },
      ]);
      const plain = valueOf(readLog('time,state\n0,closed\n10,open\n20,closed\n', options));
      expect(plain).toMatchObject({ mergedRows: 0, remarks: [] });
    },
  );

  it.each([
    ['time,contact\n10,1\n20,0\n30,1', {}, ['1 means closed and 0 means open']],
    ['time,contact\n10,1\n20,1', {}, ['1 means closed']],
    ['time,contact\n10,open\n20,closed\n90,closed', {}, []],
    ['time,contact\n10,1\n20,0\n90,0', { openWords: ['1'], shutWords: ['0'] }, []],
    ['time,state\n10,1\n20,0\n90,0', {}, []],
  ])('of %j says how it took words that depend on their column', (text, options, said) => {
    const { remarks } = valueOf(readLog(text, options));
    const found = remarks.filter(({ code }) => code === 'yes-means-closed');
    expect(found.map(({ message }) => message)).toEqual(
      said.map((words) => `in the column contact, ${words}`),
    );
    if (said.length > 0) expect(remarks[0]).toBe(found[0]);
  });

  it.each([
    ['open for half of it', '10,open\n20,closed\n30,closed', null],
    ['open for more than half', '10,open\n21,closed\n30,closed', '55 %'],
    ['open to its end', '10,closed\n20,open\n90,open', '87 %'],
    ['open from its first row to its last', '10,open\n90,open', '100 %'],
    ['open but for a moment', '10,open\n9998,closed\n9999,closed', '99 %'],
    ['of one row', '10,open', null],
  ])('%s is questioned only above half', (_, rows, share) => {
    const { remarks } = valueOf(readLog(`time,state\n${rows}\n`));
    const found = remarks.filter(({ code }) => code === 'open-most-of-the-time');
    expect(found.map(({ message }) => message)).toEqual(
      share === null ? [] : [`the door reads open for ${share} of the log`],
    );
    for (const { hint } of found) {
      const words = rows.includes('closed') ? '--open-word closed ' : '';
      expect(hint).toMatch(new RegExp(`swap the words with ${words}--shut-word open$`, 'u'));
    }
  });

  it('of openings is never questioned: it has no words to swap', () => {
    expect(valueOf(readLog('start,end\n10,90\n')).remarks).toEqual([]);
  });

  it.each([
    ['time,state\n10,agape\n90,tight\n91,tight', { openWords: ['agape'], shutWords: ['tight'] }],
    ['time,contact\n10,0\n90,1\n91,1', {}],
  ])(
    'of %j read with the words that the question gives has the rest of the time',
    (text, first) => {
      const before = valueOf(readLog(text, first));
      const hint = before.remarks.find(({ code }) => code === 'open-most-of-the-time')?.hint ?? '';
      const [, open = '', shut = ''] = /--open-word (\S+) --shut-word (\S+)$/u.exec(hint) ?? [];
      const after = valueOf(readLog(text, { openWords: [open], shutWords: [shut] }));
      expect(pairsOf(before)).toEqual([[10 * s, 90 * s]]);
      expect(pairsOf(after)).toEqual([[90 * s, endless]]);
      expect(after.remarks.map(({ code }) => code)).toEqual(['rows-merged']);
    },
  );

  it.each([
    [[1.12, 1.09, 2.91, 2.87, 1.11, 1.1], '--open-above', '2'],
    [[203, 198, 204, 12, 14, 201, 199.5], '--open-below', '110'],
  ])(
    'of the readings %j is read with the option that the error gives',
    (values, option, middle) => {
      const rows = values.map((value, index) => `${String(10 * (index + 1))},${String(value)}`);
      const text = `time,state\n${rows.join('\n')}\n`;
      const [error] = diagnosticsOf(readLog(text));
      const [given, limit] = error?.tries?.[0]?.split(' ') ?? [];
      expect([error?.code, given, limit]).toEqual(['state-unknown', option, middle]);
      const key = option === '--open-above' ? 'openAbove' : 'openBelow';
      const openings = pairsOf(valueOf(readLog(text, { [key]: limit })));
      const from = values.findIndex((value) => value === 2.91 || value === 12);
      expect(openings).toEqual([[10 * (from + 1) * s, 10 * (from + 3) * s]]);
    },
  );

  it.each([
    ['time,opened,closed\n10,1,0\n20,0,1\n', '--state-column opened'],
    [
      'Logged,Door\n8-May-26 6:00 AM,open\n',
      "--time-column Logged --state-column Door --time-format '%d-%b-%y %I:%M %p'",
    ],
    ['id;ts;type\n1;2026-05-08 06:00:00;BEAT\n', '--time-column ts --state-column type'],
    ['time,state\n10,open\n20,BEAT\n30,shut\n40,BEAT\n', '--where state=open --where state=shut'],
  ])('of %j has an error that names the way in', (text, way) => {
    const [error] = diagnosticsOf(readLog(text));
    expect(error?.tries?.[0]?.replaceAll('"', "'")).toBe(way);
  });

  it('that only ever says yes in a column of closed doors has one word to swap', () => {
    const { remarks } = valueOf(readLog('time,contact\n10,true\n20,true\n'));
    expect(remarks.map(({ code, hint }) => [code, hint])).toContainEqual([
      'yes-means-closed',
      'if it is the other way round, swap the words with --open-word true',
    ]);
  });

  it.each(['', 'high', '3..1', '1..2..3', '1,2,3'])('refuses the limit %j', (openAbove) => {
    const [error] = diagnosticsOf(readLog('time,state\n1,2\n', { openAbove }));
    expect(error?.code).toBe('open-limit-unreadable');
  });

  it('makes one of openings that touch', () => {
    expect(pairsOf(valueOf(readLog('start,end\n1,2\n2,3\n')))).toEqual([[s, 3 * s]]);
    const edges = valueOf(readLog('time,state\n1,open\n2,closed\n2,open\n3,closed\n'));
    expect(pairsOf(edges)).toEqual([[s, 3 * s]]);
    expect(edges.mergedRows).toBe(2);
  });

  it('leaves out openings of no length, and counts them', () => {
    const edges = valueOf(readLog('time,state\n1,open\n1,closed\n2,open\n3,closed\n'));
    const rows = valueOf(readLog('start,end\n1,1\n2,3\n'));
    for (const log of [edges, rows]) {
      expect(pairsOf(log)).toEqual([[2 * s, 3 * s]]);
      expect(log).toMatchObject({ emptyOpenings: 1, firstMs: s, lastMs: 3 * s });
      expect(log.remarks).toMatchObject([{ code: 'empty-openings' }]);
    }
  });

  it('shows its instants in the zone that was asked for, else by its first offset, else in UTC', () => {
    const zoneOf = (time: string, zone?: string): string =>
      valueOf(readLog(`time,state\n${time},open\n`, { zone })).timeZone;
    expect(zoneOf('2026-05-08T06:00:00+05:30')).toBe('+05:30');
    expect(zoneOf('2026-05-08T06:00:00Z')).toBe('UTC');
    expect(zoneOf('2026-05-08 06:00:00')).toBe('UTC');
    expect(zoneOf('10')).toBe('UTC');
    expect(zoneOf('2026-05-08T06:00:00+05:30', 'Europe/Lisbon')).toBe('Europe/Lisbon');
  });

  it('says once that it took local times as UTC', () => {
    const text = 'start,end\n2026-05-08 06:00:00,2026-05-08 06:00:40\n';
    const remarks = valueOf(readLog(text)).remarks.map(brief);
    expect(remarks).toEqual(['times-taken-as-utc']);
    expect(valueOf(readLog(text, { zone: '+02:00' })).firstMs).toBe(Date.UTC(2026, 4, 8, 4));
  });

  it('reads a doubled hour of a zone when its rows bear offsets', () => {
    const text = 'start,end\n2026-10-25T01:30:00+01:00,2026-10-25T01:30:00+00:00\n';
    const log = valueOf(readLog(text, { zone: 'Europe/Lisbon' }));
    expect(pairsOf(log)).toEqual([[Date.UTC(2026, 9, 25, 0, 30), Date.UTC(2026, 9, 25, 1, 30)]]);
  });
});

describe('a part of a door log as a timeline', () => {
  const log = valueOf(readLog('start,end\n10,20\n30,50\n60,\n80,90\n', { lenient: true }));
  const open = valueOf(readLog('time,state\n10,open\n20,closed\n30,open\n40,closed\n50,open\n'));
  const watch = defaultWatchFile();
  const part = (from: number, until: number, of = open) =>
    valueOf(
      timelineOfLog(of, watch, { name: 'x', file: 'x.csv', fromMs: from * s, untilMs: until * s }),
    );
  const pairs = (timeline: ReturnType<typeof part>): number[][] =>
    Array.from(timeline.world.openings.fromMs, (from, index) => [
      from / s,
      (timeline.world.openings.toMs[index] ?? 0) / s,
    ]);

  it('runs from its first to its last event', () => {
    const whole = valueOf(timelineOfLog(open, watch, { name: 'Store', file: 'store.csv' }));
    expect(whole).toMatchObject({
      name: 'Store',
      file: 'store.csv',
      start: { epochMs: 10 * s, timeZone: 'UTC' },
      world: { lengthMs: 40 * s, powerOnAtMs: 39_999 },
      seed: '1',
      moves: null,
    });
    expect(pairs(whole)).toEqual([
      [0, 10],
      [20, 30],
    ]);
    expect(whole.remarks.map(({ code }) => code)).toEqual(['ends-as-it-opens']);
  });

  it.each([
    [
      10,
      60,
      [
        [0, 10],
        [20, 30],
        [40, endless],
      ],
    ],
    [
      0,
      100,
      [
        [10, 20],
        [30, 40],
        [50, endless],
      ],
    ],
    [
      15,
      35,
      [
        [0, 5],
        [15, endless],
      ],
    ],
    [20, 30, []],
    [20, 31, [[10, endless]]],
    [15, 20, [[0, 5]]],
    [15, 19, [[0, endless]]],
    [32, 33, [[0, endless]]],
    [55, 60, [[0, endless]]],
  ])('is cut from %i to %i', (from, until, expected) => {
    expect(pairs(part(from, until))).toEqual(expected);
  });

  it('keeps the repairs and the edges in step', () => {
    expect(pairs(part(0, 100, log))).toEqual([
      [10, 20],
      [30, 50],
      [60, 90],
    ]);
    expect(Array.from(part(15, 35).world.contact)).toEqual([0, 5 * s, 15 * s]);
  });

  it.each([
    [{ fromMs: 30 * s, untilMs: 30 * s }, 'range-empty'],
    [{ fromMs: 40 * s, untilMs: 30 * s }, 'range-empty'],
    [{ untilMs: 4e14 }, 'range-too-long'],
    [{ powerOnAtMs: 40 * s }, 'power-on-outside'],
  ])('is refused: %j', (range, code) => {
    const result = timelineOfLog(open, watch, { name: 'x', file: 'x.csv', ...range });
    expect(result).toMatchObject({ ok: false, errors: [{ code }] });
  });

  it('is refused when all of the log is one instant', () => {
    const single = valueOf(readLog('time,state\n10,open\n'));
    expect(timelineOfLog(single, watch, { name: 'x', file: 'x.csv' })).toMatchObject({
      errors: [{ code: 'range-empty', hint: 'say how long the door was watched, with --until' }],
    });
  });
});

const realLogs = process.env['DOOR_LOGS'] ?? path.resolve('..', 'shared', 'door-logs');
const haveLogs = existsSync(realLogs);
if (!haveLogs) console.log(`no door logs in ${realLogs}: the test that reads them is left out`);

// Openings of one home recorded by reed switches: van Kasteren et al., Accurate activity recognition in a home
// setting, UbiComp 2008.
describe('real door logs', () => {
  it.skipIf(!haveLogs).each([
    ['house-a-freezer.csv', 36],
    ['house-a-fridge.csv', 140],
    ['house-a-front-door.ndjson', 90],
  ])('%s has %i openings', (file, count) => {
    const log = valueOf(readLog(readFileSync(path.join(realLogs, file), 'utf8'), { file }));
    expect(log.openings.fromMs).toHaveLength(count);
    const timeline = valueOf(timelineOfLog(log, defaultWatchFile(), { name: file, file }));
    expect(timeline.world.openings.fromMs).toHaveLength(count);
  });
});
