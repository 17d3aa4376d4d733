// Each limit of what is read, at the limit and one beyond it.
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import {
  mostColumns,
  mostCurvePoints,
  mostDeviceLogRows,
  mostDigits,
  mostFileCharacters,
  mostLevels,
  mostLineCharacters,
  mostListColumns,
  mostMarks,
  mostNewWords,
  mostPatternCharacters,
  mostQuantityCharacters,
  mostReadings,
  mostSensors,
  mostTimeForms,
  mostTitleLines,
} from '../../src/model/index.js';
import {
  parseDeviceLog,
  parseDuration,
  parseLength,
  parseReadings,
  parseScenario,
  parseWatchFile,
  turnedList,
} from '../../src/scenarios/index.js';
import { codesOf, readLog, valueOf } from './reading.js';
import { forms } from './written-times.js';

const source = { file: '--it' };
const read = 'read';

function codes(result: Parameters<typeof codesOf>[0]): string {
  return result.ok ? read : codesOf(result).join(' ');
}

const many = (count: number, make: (index: number) => string, between = '\n'): string =>
  Array.from({ length: count }, (_, index) => make(index)).join(between);

describe('a door log at a limit', () => {
  it.each([
    [
      'lines of a title',
      mostTitleLines,
      (count: number) => readLog(`${many(count, () => 'title')}\ntime,state\n10,open\n`),
    ],
    [
      'rows of a title',
      mostTitleLines + 1,
      (count: number) => readLog(`${many(count, () => 'title')}\n`),
    ],
  ])('of %s is refused with the way out while that is known', (_, count, log) => {
    const tries = [count, count + 1].map((lines) => {
      const read = log(lines);
      return read.ok ? [] : read.errors.map(({ tries }) => tries !== undefined);
    });
    expect(tries).toEqual(count === mostTitleLines ? [[true], [false]] : [[false], [false]]);
  });

  it('of sensors names them while they can be distinguished', () => {
    const log = (sensors: number) =>
      readLog(
        `time,sensor,state\n${many(2 * sensors + 1, (row) => `${String(row)},s${String(row % sensors)},${row % 2 === 0 ? 'open' : 'shut'}`)}\n`,
      );
    expect([mostSensors, mostSensors + 1].map((count) => codes(log(count)))).toEqual([
      'several-sensors',
      read,
    ]);
    const chosen = (sensors: number) =>
      readLog(
        `time,sensor,state\n${many(sensors, (row) => `${String(row)},s${String(row)},open`)}\n`,
        {
          where: [{ column: 'sensor', value: 'other' }],
        },
      );
    expect([mostSensors, mostSensors + 1].map((count) => codes(chosen(count)))).toEqual([
      'where-matches-nothing',
      'log-without-rows',
    ]);
  });

  it('of forms of times reads no more forms', () => {
    const local = (day: number) => ({ year: 2026, month: 5, day, hour: 6, minute: 0, second: 0 });
    const one = forms.filter(
      ({ name, unclear }) =>
        unclear !== true && !/^iso|seconds|compact|date alone|epoch/u.test(name),
    );
    expect(one.length).toBeGreaterThan(mostTimeForms);
    const rows = (count: number): string =>
      one
        .slice(0, count)
        .map(({ write }, index) => {
          const { year, month, day, hour } = local(index + 1);
          const written = write(Temporal.PlainDateTime.from({ year, month, day, hour }));
          return `${written}\t${index % 2 === 0 ? 'open' : 'shut'}`;
        })
        .join('\n');
    const log = (count: number) => readLog(`time\tstate\n${rows(count)}\n`, { file: 'doors.tsv' });
    expect([mostTimeForms, mostTimeForms + 1].map((count) => codes(log(count)))).toEqual([
      read,
      'log-time-unreadable',
    ]);
  });

  it('of unknown words names no more of them', () => {
    const log = readLog(
      `time,state\n${many(mostNewWords + 5, (row) => `${String(row)},word${String(row)}x`)}\n`,
    );
    const hint = log.ok ? '' : (log.errors[0]?.hint ?? '');
    expect(hint).toContain(`word${String(mostNewWords - 1)}x`);
    expect(hint).not.toContain(`word${String(mostNewWords)}x`);
  });

  it('of characters in a line or an object', () => {
    const padded = (length: number): string => `10,open,${'x'.repeat(length - 8)}`;
    const lines = [mostLineCharacters, mostLineCharacters + 1].map((length) =>
      codes(readLog(`time,state,note\n${padded(length)}`)),
    );
    expect(lines).toEqual([read, 'log-not-text']);
    const quoted = [mostLineCharacters - 100, mostLineCharacters].map((length) =>
      codes(readLog(`time,state,note\n10,open,"x\n${'x'.repeat(length)}"\n`)),
    );
    expect(quoted).toEqual([read, 'quote-unclosed']);
    const object = (length: number): string =>
      `[{"time":10,"state":"open","note":"${'x'.repeat(length)}"}]`;
    const objects = [mostLineCharacters - 100, mostLineCharacters + 70_000].map((length) =>
      codes(readLog(object(length), { file: 'a.json' })),
    );
    expect(objects).toEqual([read, 'json-row-unreadable']);
    const list = (length: number): string =>
      `[["time","state","note"],[10,"open","${'x'.repeat(length)}"]]`;
    const lists = [mostLineCharacters - 100, mostLineCharacters].map((length) =>
      codes(readLog(list(length), { file: 'a.json' })),
    );
    expect(lists).toEqual([read, 'json-row-unreadable']);
  });

  it('of keys or levels of an object', () => {
    const object = (keys: number): string =>
      `{${many(keys, (key) => `"k${String(key)}":1`, ',')},"time":10,"state":"open"}\n`;
    const read2 = [mostColumns - 2, mostColumns - 1].map((keys) =>
      codes(readLog(object(keys), { file: 'a.ndjson' })),
    );
    expect(read2).toEqual([read, 'columns-not-found']);
    const deep = (levels: number): string =>
      `{"time":10,"state":"open","x":${'['.repeat(levels - 1)}${']'.repeat(levels - 1)}}\n`;
    expect(
      [mostLevels, mostLevels + 1].map((levels) =>
        codes(readLog(deep(levels), { file: 'a.ndjson' })),
      ),
    ).toEqual([read, 'row-too-deep']);
    const lists = (columns: number): string =>
      `{${many(columns, (column) => `"c${String(column)}":[1,2]`, ',')}}`;
    expect(
      [mostListColumns, mostListColumns + 1].map(
        (columns) => turnedList(lists(columns), () => false) === null,
      ),
    ).toEqual([false, true]);
  });

  it('of a pattern of times', () => {
    const log = (length: number) => {
      const filling = 'x'.repeat(length - 8);
      return readLog(`time,state\n2026-05-08${filling},open\n`, {
        timeFormat: `%Y-%m-%d${filling}`,
      });
    };
    expect(
      [mostPatternCharacters, mostPatternCharacters + 1].map((length) => codes(log(length))),
    ).toEqual([read, 'log-time-unreadable']);
  });
});

describe('other texts at a limit', () => {
  it('of characters, marks or levels are refused beyond it', () => {
    const watch = (text: string): string => codes(parseWatchFile(text, 'w.yaml'));
    expect(
      [mostFileCharacters, mostFileCharacters + 1].map((count) =>
        watch(`# ${'x'.repeat(count - 2)}`),
      ),
    ).toEqual(['file-empty', 'file-too-large']);
    expect([mostMarks, mostMarks + 1].map((count) => watch(`# ${','.repeat(count)}`))).toEqual([
      'file-empty',
      'file-too-large',
    ]);
    expect(
      [mostLevels, mostLevels + 1].map((levels) =>
        watch(`watch: ${'['.repeat(levels)}${']'.repeat(levels)}`),
      ),
    ).toEqual(['wrong-type', 'file-too-deep']);
  });

  it('of digits or characters of a quantity', () => {
    const digits = [mostDigits, mostDigits + 1].map((count) => `${'0'.repeat(count - 1)}5`);
    expect(digits.map((one) => codes(parseDuration(`${one}s`, source)))).toEqual([
      read,
      'duration-too-long',
    ]);
    expect(digits.map((one) => codes(parseLength(`${one}m`, source)))).toEqual([
      read,
      'length-unreadable',
    ]);
    const spaced = [mostQuantityCharacters, mostQuantityCharacters + 1].map((length) =>
      ' '.repeat(length),
    );
    expect(spaced.map((space) => codes(parseDuration(`1h${space.slice(5)}30m`, source)))).toEqual([
      read,
      'duration-unreadable',
    ]);
    expect(spaced.map((space) => codes(parseLength(`5${space.slice(2)}m`, source)))).toEqual([
      read,
      'length-unreadable',
    ]);
    const door = (length: number): string => `door: ["at 08:00 for ${' '.repeat(length - 16)}40s"]`;
    expect(
      [mostQuantityCharacters, mostQuantityCharacters + 1].map((length) =>
        codes(parseScenario(door(length), 'x.yaml')),
      ),
    ).toEqual([read, 'opening-unreadable']);
  });

  it('of points of a curve', () => {
    const file = (points: number): string =>
      `supply: { capacity: 1Ah, sleepCurrent: 1uA, celsius: 1, derating: [${many(points, (at) => `{ celsius: ${String(at / 10)}, share: 50% }`, ', ')}] }\n`;
    expect(
      [mostCurvePoints, mostCurvePoints + 1].map((points) =>
        codes(parseWatchFile(file(points), 'w.yaml')),
      ),
    ).toEqual([read, 'list-too-long']);
  });

  it('of rows of a small table', () => {
    const rows = (count: number) =>
      parseReadings(`time,temperature\n${many(count, (row) => `${String(row)},4`)}\n`, 'x.csv');
    expect([mostReadings, mostReadings + 1].map((count) => codes(rows(count)))).toEqual([
      read,
      'readings-too-many',
    ]);
    const line = { line: 1, time: '2026-05-08 06:00', event: 'reset', value: '' };
    const lines = Array.from({ length: mostDeviceLogRows + 1 }, () => line);
    expect(codes(parseDeviceLog('', 'serial', { zone: null, lines }))).toBe('device-log-too-long');
    const few = valueOf(parseDeviceLog('', 'serial', { zone: null, lines: lines.slice(0, 9) }));
    expect(few).toHaveLength(1);
  });
});
