import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { DoorLogOptions } from '../../src/scenarios/index.js';
import { codesOf, errorsOf, pairsOf, readLog, valueOf } from './reading.js';

const s = 1_000;
const endless = Number.POSITIVE_INFINITY;

/** A hatch that is open from 10 s to 30 s, and a gate that is open from 20 s on, until 25 s. */
const rows = ['10,hatch,open', '20,gate,open', '25,gate,closed', '30,hatch,closed'];
const csv = ['time,sensor,state', ...rows].join('\n');
const ndjson = rows
  .map((row) => row.split(','))
  .map(([time, sensor, state]) => JSON.stringify({ time: Number(time), sensor, state }))
  .join('\n');

const hatch = { column: 'sensor', value: 'hatch' };
const gate = { column: 'sensor', value: 'gate' };

const forms: readonly (readonly [string, string, Partial<DoorLogOptions>])[] = [
  ['CSV', csv, {}],
  ['TSV', csv.replaceAll(',', '\t'), { file: 'doors.tsv' }],
  ['NDJSON', ndjson, { file: 'doors.ndjson' }],
  ['quoted CSV', csv.replaceAll(/\w+/gu, '"$&"'), {}],
];

describe.each(forms)('a log of two sensors, as %s', (_, text, options) => {
  it('is refused with its column, its values and how to choose one', () => {
    const read = readLog(text, options);
    expect(codesOf(read)).toEqual(['several-sensors']);
    const [error] = read.ok ? [] : read.errors;
    expect(error?.message).toContain('the column sensor has hatch, gate');
    expect(error?.tries?.[0]).toBe('--where sensor=hatch');
    // The first row that is not of the first sensor.
    expect(error?.source.line).toBe(text === ndjson ? 2 : 3);
  });

  it('is refused when it repairs rows, as well', () => {
    expect(codesOf(readLog(text, { ...options, lenient: true }))).toEqual(['several-sensors']);
  });

  it('is read sensor by sensor', () => {
    const ofHatch = valueOf(readLog(text, { ...options, where: [hatch] }));
    expect(pairsOf(ofHatch)).toEqual([[10 * s, 30 * s]]);
    expect(ofHatch.rows).toBe(2);
    const ofGate = readLog(text, { ...options, where: [{ column: 'Sensor', value: ' gate' }] });
    expect(pairsOf(valueOf(ofGate))).toEqual([[20 * s, 25 * s]]);
  });

  it('is read as one door where both values are named', () => {
    const both = valueOf(readLog(text, { ...options, where: [hatch, gate] }));
    expect(pairsOf(both)).toEqual([[10 * s, 25 * s]]);
    expect(both.rows).toBe(4);
  });

  it('is refused for a value that no row has, even beside one that some have', () => {
    const where = [hatch, { column: 'sensor', value: 'gaet' }];
    const read = readLog(text, { ...options, where });
    expect(codesOf(read)).toEqual(['where-matches-nothing']);
    const [error] = read.ok ? [] : read.errors;
    expect(error?.expected).toBe('one of hatch, gate');
    expect(error?.hint).toContain('gate');
  });

  it('is refused for a column that it does not have', () => {
    const where = [{ column: 'snesor', value: 'hatch' }];
    expect(codesOf(readLog(text, { ...options, where }))).toEqual(['column-unknown']);
  });
});

describe('conditions on several columns', () => {
  const text = [
    'time,room,sensor,state',
    '10,cool store,hatch,open',
    '20,drying room,hatch,open',
    '25,drying room,hatch,closed',
    '27,cool store,vent,closed',
    '30,cool store,hatch,closed',
  ].join('\n');
  const cool = { column: 'room', value: 'cool store' };

  it('all have to be met', () => {
    expect(pairsOf(valueOf(readLog(text, { where: [cool, hatch] })))).toEqual([[10 * s, 30 * s]]);
  });

  it.each([
    [[cool], 'sensor'],
    [[hatch], 'room'],
  ])('with %j what else varies is refused', (where, column) => {
    const read = readLog(text, { where });
    expect(codesOf(read)).toEqual(['several-sensors']);
    expect(read.ok ? '' : read.errors[0]?.message).toContain(`the column ${column} has`);
  });

  it('that no row meets together leave no row', () => {
    const where = [
      { column: 'room', value: 'drying room' },
      { column: 'sensor', value: 'vent' },
    ];
    expect(codesOf(readLog(text, { where }))).toEqual(['log-without-rows']);
  });
});

describe('rows of another kind beside those of the door', () => {
  it('are the cause that is named, not what else is wrong with them', () => {
    const text = 'time,entity_id,state\n10,hatch,open\n9,battery,87\n20,hatch,closed\n';
    expect(errorsOf(readLog(text))).toEqual(['3:- several-sensors']);
    const where = [{ column: 'entity_id', value: 'hatch' }];
    expect(pairsOf(valueOf(readLog(text, { where })))).toEqual([[10 * s, 20 * s]]);
  });

  it('may come first and have other keys', () => {
    const text =
      '{"time":5,"sensor":"warmth","celsius":4}\n{"time":10,"sensor":"hatch","contact":false}\n' +
      '{"time":20,"sensor":"hatch","contact":true}';
    const log = valueOf(readLog(text, { file: 'a.ndjson', where: [hatch] }));
    expect(pairsOf(log)).toEqual([[10 * s, 20 * s]]);
  });
});

describe('a column with the name of one that tells sensors apart', () => {
  const varied = (column: string, values: readonly string[]): string =>
    [
      `time,${column},state`,
      ...values.map((value, at) => `${String(at)},${value},${at % 2 === 0 ? 'open' : 'closed'}`),
    ].join('\n');
  const numbers = Array.from({ length: 30 }, (_, at) => String(at + 1));

  it.each([
    ['sensor', ['hatch', 'hatch', 'hatch']],
    ['sensor', ['hatch', '', 'hatch']],
    ['id', ['1', '2', '3']],
    ['id', numbers],
    ['name', numbers.map((number) => `event ${number}`)],
    ['door', ['Open', 'Closed', 'Open']],
    ['zone', ['CET', 'CEST', 'CEST', 'CET']],
    ['zone', ['+01:00', '+02:00']],
    ['name', ['Hatch opened', 'Hatch closed', 'Hatch opened', 'Hatch closed']],
    ['source', ['by hand', 'by wind', 'by hand', 'by wind']],
    ['battery', ['98', '97', '96']],
    ['signal', ['-70', '-71', '-70']],
  ])('%s is none with %j', (column, values) => {
    expect(valueOf(readLog(varied(column, values))).rows).toBe(values.length);
  });

  it.each([
    ['sensor', ['a', 'b']],
    ['zone', ['north', 'south']],
    ['channel', ['0', '1', '0']],
    ['Device ID', ['7', '8']],
    ['attributes.room', ['a', 'b']],
    // Each opens and shuts by turns.
    ['name', ['a', 'a', 'b', 'b']],
    ['id', ['7', '7', '9', '9']],
  ])('%s is one with %j', (column, values) => {
    expect(codesOf(readLog(varied(column, values)))).toEqual(['several-sensors']);
  });

  it('is left alone as the column of states', () => {
    const text = 'time,door\n10,open\n20,closed\n';
    expect(pairsOf(valueOf(readLog(text)))).toEqual([[10 * s, 20 * s]]);
  });

  it('counts for rows of openings, as well', () => {
    const text = 'start,end,door\n10,20,hatch\n15,18,gate\n30,,hatch\n';
    expect(errorsOf(readLog(text))).toEqual(['3:- several-sensors']);
    const where = [{ column: 'door', value: 'hatch' }];
    expect(pairsOf(valueOf(readLog(text, { where })))).toEqual([
      [10 * s, 20 * s],
      [30 * s, endless],
    ]);
  });

  it('has its first ten values listed, and the others counted', () => {
    const values = Array.from({ length: 26 }, (_, at) => `store ${String(at % 13)}`);
    const read = readLog(varied('sensor', values));
    const message = read.ok ? '' : (read.errors[0]?.message ?? '');
    expect(message).toContain('store 0, store 1, ');
    expect(message.endsWith('store 9 and 3 more')).toBe(true);
    expect(read.ok ? '' : read.errors[0]?.tries?.[0]).toBe('--where "sensor=store 0"');
  });
});

it('a sensor chosen from a mixed log reads as its own rows alone', () => {
  const row = fc.tuple(fc.constantFrom('hatch', 'gate', 'vent'), fc.constantFrom('open', 'closed'));
  fc.assert(
    fc.property(fc.array(row, { maxLength: 30 }), fc.integer({ min: 1, max: 40 }), (of, piece) => {
      const all = [['hatch', 'open'] as const, ...of];
      const lines = all.map(([sensor, state], at) => `${String(at)},${sensor},${state}`);
      const header = 'time,sensor,state';
      const own = lines.filter((line) => line.includes('hatch'));
      const chosen = readLog([header, ...lines].join('\n'), { where: [hatch] }, piece);
      expect(chosen).toEqual(readLog([header, ...own].join('\n')));
    }),
  );
});
