// Device logs, readings of temperatures, and what a text shows itself to be; wrapped lists; quantities and durations.
import { describe, expect, it } from 'vitest';
import type { Result } from '../../src/base/index.js';
import {
  type DeviceLogOptions,
  deviceLogColumns,
  didYouMean,
  otherKindOfText,
  parseCelsius,
  parseDeviceLog,
  parseDuration,
  parseLength,
  parseMeasuredLife,
  parseReadings,
  parseShare,
  parseVolume,
  turnedList,
  wrappedList,
} from '../../src/scenarios/index.js';
import { logTimes } from '../../src/scenarios/log/log-time.js';
import {
  actChargeMeasure,
  chargeMeasure,
  currentMeasure,
  errorMeasure,
  gapMeasure,
  readMeasure,
  resistanceMeasure,
  shareMeasure,
  voltageMeasure,
} from '../../src/scenarios/quantity/measure.js';
import { expectRecorded, onOneLine, openSentences, plainText } from './recording.js';
import { deviceLogs, kindTexts, readingLogs, wrappedTexts } from './table-texts.js';
import { linesOf } from './texts.js';

type Sentences = ReturnType<typeof openSentences>;

function lineOf<T>(
  read: Result<T>,
  sentences: Sentences,
  show: (value: T) => string = plainText,
): string {
  if (!read.ok) return read.errors.map((error) => sentences.brief(error)).join('; ');
  return [show(read.value), ...read.warnings.map((one) => sentences.brief(one))].join('; ');
}

const shown = (text: string): readonly string[] =>
  text
    .trimEnd()
    .split('\n')
    .map((line) => `| ${line}`);

const deviceOptions: readonly Partial<DeviceLogOptions>[] = [
  {},
  { zone: 'Europe/Oslo' },
  { newestFirst: true },
  {
    eventWords: [
      ['chk', 'check'],
      ['Woken', ' Boot '],
      ['x', 'nothing'],
    ],
    openWords: ['auf'],
    shutWords: ['zu'],
  },
  { timeColumn: 'when', eventColumn: 'what', valueColumn: 'how' },
  { where: [{ column: 'device', value: 'a' }] },
  { timeFormat: '%d/%m/%Y %H:%M' },
  { timeFormat: '%q' },
  { zone: 'Mars/Base' },
];

describe('small tables', () => {
  it('of a device are read or refused as before', () => {
    const sentences = openSentences();
    const lines = deviceLogs.flatMap((text) => {
      const outcomes = deviceOptions.map((options) => {
        const read = parseDeviceLog(text, 'device.csv', { zone: null, ...options });
        const rows = (value: readonly object[]): string =>
          value
            .map((row) =>
              Object.entries(row)
                .flatMap(([key, one]) => (key === 'source' ? [] : [String(one)]))
                .join(' '),
            )
            .join(', ');
        return [JSON.stringify(options), lineOf(read, sentences, rows)] as const;
      });
      const first = outcomes[0]?.[1];
      const others = outcomes.slice(1).filter(([, line]) => line !== first);
      return [
        '',
        ...shown(text),
        `  ${deviceLogColumns(text).join(', ')}`,
        `  ${String(first)}`,
        ...others.map(([options, line]) => `  ${options} ${line}`),
      ];
    });
    const taken = [
      [
        { line: 1, time: '2026-05-08 06:00', event: 'check', value: 'open' },
        { line: 3, time: '2026-05-08 06:01', event: 'alert', value: '' },
      ],
      [{ line: 1, time: '2026-05-08 06:00', event: 'alert', value: '' }],
      [
        { line: 2, time: 'x', event: 'alert', value: '' },
        { line: 4, time: 'y', event: 'reset', value: '' },
      ],
    ].map((rows) =>
      lineOf(parseDeviceLog('', 'serial.txt', { zone: null, lines: rows }), sentences),
    );
    const words = [
      'chk',
      'checks',
      'poll',
      'sample',
      'bat',
      'volts',
      'charge',
      'power low',
      'powerlow',
      'beat',
      'still alive',
      'status',
      'ping',
      'boot',
      'start',
      'power',
      'reset!',
      'crash',
      'watchdog',
      'foo',
      '',
    ];
    const guesses = words.map((word) => {
      const likely = ['open', 'shut', 'delivered', 'failed', 'unknown', '', 'x'].map((value) => {
        const read = parseDeviceLog(`time,event,value\n1778220000,${word},${value}\n`, 'x', {
          zone: null,
        });
        return read.ok ? 'read' : (read.errors[0]?.hint ?? '').replace(/^.*=/u, '');
      });
      const alone = parseDeviceLog(`time,event\n1778220000,${word}\n`, 'x', { zone: null });
      return `${word}: ${likely.join(' ')} ${alone.ok ? 'read' : (alone.errors[0]?.hint ?? '').replace(/^.*=/u, '')}`;
    });
    expectRecorded('device-logs', [...guesses, ...lines, '', ...taken, ...sentences.list()]);
  });

  it('of temperatures are read or refused as before', () => {
    const sentences = openSentences();
    const lines = readingLogs.flatMap((text) => [
      ...shown(text),
      `  ${lineOf(parseReadings(text, 'warmth.csv'), sentences, (rows) => rows.map(({ atMs, celsius, source }) => `${String(source.line)}: ${String(atMs)} ${String(celsius)}`).join(', '))}`,
    ]);
    expectRecorded('readings', [...lines, ...sentences.list()]);
  });

  it('and other texts show what they are', () => {
    const wanted = ['door log', 'scenario', 'list of trials'] as const;
    const lines = kindTexts.flatMap((text) => {
      const kinds = wanted.map((kind) =>
        otherKindOfText(text, {
          file: 'x',
          wanted: kind,
          ...(kind === 'scenario' ? { option: '--it' } : {}),
        }),
      );
      return [
        `${onOneLine(text).slice(0, 200)} → ${kinds.map((found) => found?.kind ?? '-').join(' | ')} ${kinds[1]?.message ?? ''}`,
      ];
    });
    expectRecorded('kinds-of-text', lines);
  });

  it('inside JSON objects are found', () => {
    const times = logTimes(null);
    const isTime = (key: string): boolean => key.length > 5 && !Number.isNaN(times.read(key));
    const lines = wrappedTexts.flatMap((text) => [
      onOneLine(text),
      `  wrapped: ${onOneLine(wrappedList(text) ?? 'no')}`,
      `  turned: ${onOneLine(turnedList(text, isTime) ?? 'no')}`,
    ]);
    for (const text of wrappedTexts) {
      const found = wrappedList(text);
      // Lines and columns stay as they are.
      if (found !== null)
        expect(found.split('\n').map((line) => line.length)).toEqual(
          text.split('\n').map((line) => line.length),
        );
    }
    expectRecorded('wrapped-lists', lines);
  });
});

const measures = {
  gapMeasure,
  errorMeasure,
  shareMeasure,
  currentMeasure,
  chargeMeasure,
  actChargeMeasure,
  resistanceMeasure,
  voltageMeasure,
};
const source = { file: '--it' };

describe('an amount', () => {
  it('is read or refused as before', () => {
    const sentences = openSentences();
    const lines = linesOf('quantities').map((text) => {
      const ranges = [
        { least: 0.5, most: 0.999 },
        { least: 0, most: 1 },
      ];
      const alone: readonly (readonly [string, Result<unknown>])[] = [
        ['duration', parseDuration(text, source)],
        ['celsius', parseCelsius(text, source)],
        ['length', parseLength(text, source)],
        ['volume', parseVolume(text, source)],
        ...ranges.map(
          (range) => [`share ${String(range.most)}`, parseShare(text, source, range)] as const,
        ),
      ];
      const outcomes = [
        ...alone.map(
          ([name, read]) =>
            [name, lineOf(read, sentences).replace(` [${text.trim()}]`, '')] as const,
        ),
        ...Object.entries(measures).map(([name, measure]) => {
          const read = readMeasure(measure, text);
          return [
            name,
            read.ok
              ? String(read.value)
              : `${read.problem.code}${read.problem.hint === undefined ? '' : '?'}`,
          ] as const;
        }),
      ];
      // What is refused because of its unit is said once.
      const good = outcomes.filter(([, line]) => !/-(?:unreadable|unknown-unit)\??$/u.test(line));
      const bad = outcomes.filter(([, line]) => line.endsWith('-unreadable')).map(([name]) => name);
      return `${onOneLine(text)} → ${good.map(([name, line]) => `${name} ${line}`).join(' | ')}; unreadable: ${bad.join(' ')}`;
    });
    expectRecorded('quantities', [...lines, ...sentences.list()]);
  });

  it('of a measured life is read or refused as before', () => {
    const sentences = openSentences();
    const lines = linesOf('measured-lives').map(
      (text) => `${text} → ${lineOf(parseMeasuredLife(text, source), sentences)}`,
    );
    expectRecorded('measured-lives', [...lines, ...sentences.list()]);
  });

  it.each([
    ['opne', ['open', 'shut'], 'open'],
    ['nepo', ['open', 'shut'], undefined],
    ['check_intervall', ['checkInterval', 'clear'], 'checkInterval'],
    ['leave', ['leaveOpenAfter', 'report'], 'leaveOpenAfter'],
    ['leaveOpenAfterwards', ['leaveOpenAfter'], 'leaveOpenAfter'],
    ['le', ['leaveOpenAfter'], undefined],
    ['ab', ['ba'], 'ba'],
    ['x', ['y'], undefined],
    ['xy', ['zw'], undefined],
    ['sting', ['string', 'sing'], 'string'],
    ['kitten', ['sitting', 'mitten'], 'mitten'],
    ['', ['a'], undefined],
    ['aaaaaaaaa', ['aaaaaabbb', 'aaaabbbbb'], 'aaaaaabbb'],
    ['aaaaaaaaa', ['aaaaabbbb'], undefined],
    ['retry interval', ['retry-interval'], 'retry-interval'],
  ])('or a word %j beside %j reminds of %j', (written, words, near) => {
    expect(didYouMean(written, words)).toBe(
      near === undefined ? undefined : `did you mean ${near}?`,
    );
  });
});
