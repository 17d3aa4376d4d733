// Families of small logs and files, each made by plain loops: every order of columns, every turn of two sensors, every pair of
// times, every size of a number, every place for a stranger among keys.
import { describe, it } from 'vitest';
import { settings } from '../../src/model/index.js';
import { parseProfile, parseScenario, parseWatchFile } from '../../src/scenarios/index.js';
import { readRowDuration } from '../../src/scenarios/log/row-duration.js';
import { brief, pairsOf, readLog } from './reading.js';
import { digestOf, expectRecorded, openSentences, plainText } from './recording.js';
import { linesOf } from './texts.js';

type Sentences = ReturnType<typeof openSentences>;

function outcome(
  text: string,
  options: Parameters<typeof readLog>[1],
  sentences: Sentences,
): string {
  const log = readLog(text, options);
  if (!log.ok) return log.errors.map((error) => sentences.brief(error)).join('; ');
  const { remarks, rows } = log.value;
  const said = remarks.map((one) => sentences.brief(one)).join(' ');
  return `${String(rows)}: ${plainText(pairsOf(log.value))} ${said}`;
}

/** Every order of some things. */
function orders<T>(things: readonly T[]): readonly (readonly T[])[] {
  if (things.length < 2) return [things];
  return things.flatMap((first, at) =>
    orders(things.toSpliced(at, 1)).map((rest) => [first, ...rest]),
  );
}

describe('rows without a known header', () => {
  const cells: readonly (readonly [string, string])[] = [
    ['2026-05-08 06:00:00', '2026-05-08 07:00:00'],
    ['2026-05-08 06:10:00', '2026-05-08 07:10:00'],
    ['open', 'shut'],
    ['7', '8'],
    ['porch', 'porch'],
    ['', ''],
  ];
  const choices = [
    [0, 2],
    [0, 1],
    [0, 1, 2],
    [0, 2, 3],
    [0, 2, 4],
    [0, 1, 3],
    [0, 3],
    [0, 4],
    [2, 3],
    [0, 2, 5],
  ];

  it('are taken or refused as before, in every order of their columns', () => {
    const sentences = openSentences();
    const lines = choices.flatMap((choice) =>
      orders(choice).flatMap((order) => {
        const rows = [0, 1].map((row) => order.map((cell) => cells[cell]?.[row] ?? '').join(','));
        const headless = `${rows.join('\n')}\n`;
        const named = `${order.map((cell) => 'abcdef'.charAt(cell)).join(',')}\n${headless}`;
        return [
          `${order.join(' ')}: ${outcome(headless, {}, sentences)}`,
          `  named: ${outcome(named, {}, sentences)}`,
        ];
      }),
    );
    expectRecorded('families-of-columns', [...lines, ...sentences.list()]);
  });

  it('get the columns that their names and values show', () => {
    const names = linesOf('column-names');
    const values = ['0.83', '1', 'open', '90', '0:13', '21.5 C', 'x', ''];
    const sentences = openSentences();
    const lines = names.flatMap((name, at) =>
      values.map((value, row) => {
        const other = names[(at + row + 1) % names.length] ?? '';
        const text = `zeit,${name},${other}\n2026-05-08 06:00:00,${value},3.3\n2026-05-08 06:10:00,${value},0.4\n`;
        return `${name}=${value}, ${other}: ${outcome(text, {}, sentences)}`;
      }),
    );
    const many = `zeit,${Array.from({ length: 9 }, (_, at) => `a${String(at)}`).join(',')}\n2026-05-08 06:00:00${',open'.repeat(9)}\n`;
    expectRecorded('families-of-names', [
      ...lines,
      outcome(many, {}, sentences),
      outcome(many.replaceAll('open', '0.5'), {}, sentences),
      ...sentences.list(),
    ]);
  });
});

describe('a column beside the states', () => {
  it('tells sensors apart, or not, as before: every turn of two values and two states', () => {
    const lines = ['sensor', 'name', 'source', 'id', 'zone', 'channel'].map((column) => {
      const turns = Array.from({ length: 4 ** 4 }, (_, turn) => {
        const rows = [0, 1, 2, 3].map((row) => {
          const bits = (turn >> (2 * row)) & 3;
          return `${String(10 + row)},${bits & 1 ? 'b' : 'a'},${bits & 2 ? 'open' : 'shut'}`;
        });
        const log = readLog(`time,${column},state\n${rows.join('\n')}\n`);
        return log.ok ? '.' : String(log.errors[0]?.source.line ?? '?');
      });
      return `${column} ${turns.join('')}`;
    });
    const counts = [2, 3, 9, 10, 11, 12, 20].flatMap((count) =>
      ['sensor', 'id'].map((column) => {
        const found = [count, count + 1, 2 * count - 1, 2 * count, 2 * count + 1, 3 * count].map(
          (total) => {
            const rows = Array.from(
              { length: total },
              (_, row) =>
                `${String(row)},v${String(row % count)},${row % 2 === 0 ? 'open' : 'shut'}`,
            );
            return readLog(`time,${column},state\n${rows.join('\n')}\n`).ok ? '.' : 'x';
          },
        );
        return `${column} ${String(count)}: ${found.join('')}`;
      }),
    );
    expectRecorded('families-of-sensors', [...lines, ...counts]);
  });

  it('that repeats states, or jumps in time, counts as before: every turn of four rows', () => {
    const stamps = ['10', '20', '20', '15'];
    const states = ['open', 'shut', 'unknown'];
    for (const [name, options] of [
      ['strict', {}],
      ['lenient', { lenient: true }],
      ['newest first', { newestFirst: true }],
    ] as const) {
      const lines = Array.from({ length: 81 }, (_, turn) => {
        const word = [1, 3, 9, 27].map((by) => states[Math.floor(turn / by) % 3] ?? '');
        const tries = [stamps, ['10', '20', '30', '40'], ['40', '30', '20', '20']].map((at) => {
          const log = readLog(
            `time,state\n${word.map((one, row) => `${at[row] ?? ''},${one}`).join('\n')}\n`,
            options,
          );
          if (!log.ok) return log.errors.map(brief).join(' ');
          const { unavailable, mergedRows, emptyOpenings, hidingRepairs } = log.value;
          return `${plainText(pairsOf(log.value))} ${plainText(unavailable)} ${[mergedRows, emptyOpenings, hidingRepairs].join(' ')}`;
        });
        return `${word.join(' ')}: ${tries.join(' | ')}`;
      });
      expectRecorded(`families-of-states-${name.replace(' ', '-')}`, lines);
    }
  });

  it('openings that touch, overlap or have no end: every pair', () => {
    const spans = [
      '10,20',
      '20,30',
      '15,18',
      '15,40',
      '20,20',
      '5,8',
      '25,',
      '30,10',
      ',40',
      '10,20',
    ];
    const lines = spans.flatMap((one) =>
      spans.map((other) => {
        const text = `start,end\n12,14\n${one}\n${other}\n50,60\n`;
        const tries = [{}, { lenient: true }, { newestFirst: true }].map((options) => {
          const log = readLog(text, options);
          if (!log.ok) return log.errors.map(brief).join(' ');
          const { mergedRows, emptyOpenings, hidingRepairs, firstMs, lastMs } = log.value;
          return `${plainText(pairsOf(log.value))} ${[mergedRows, emptyOpenings, hidingRepairs, firstMs, lastMs].join(' ')}`;
        });
        return `${one} ${other}: ${tries.join(' | ')}`;
      }),
    );
    expectRecorded('families-of-openings', lines);
  });
});

describe('times of one log', () => {
  it('settle each other, or not, as before: every pair', () => {
    const times = linesOf('paired-times');
    const sentences = openSentences();
    const lines = times.flatMap((first) =>
      times.map((second) => {
        const text = `time;state\n${first};open\n${second};shut\n`;
        const strict = outcome(text, {}, sentences);
        const inZone = outcome(text, { zone: 'America/New_York', lenient: true }, sentences);
        return `${first} ${second}: ${strict} | ${inZone}`;
      }),
    );
    expectRecorded('families-of-times', [...lines, ...sentences.list()]);
  });

  it('are numbers of every size, as text and in JSON', () => {
    const sizes = Array.from({ length: 21 }, (_, power) => 10 ** power).flatMap((size) => [
      size - 1,
      size,
      size + 1,
      -size,
      1.5 * size,
      2 * size,
    ]);
    const lines = [
      ...sizes,
      197_001_010_000,
      197_001_009_999,
      209_912_312_359,
      210_000_000_000,
      19_700_101_000_000,
      21_000_000_000_000,
      32_874,
      73_051,
      73_052,
    ].map((size) => {
      const [text, json] = [
        readLog(`time,state\n${String(size)},open\n`),
        readLog(`{"time":${String(size)},"state":"open"}\n`, { file: 'x.ndjson' }),
      ].map((log) =>
        log.ok
          ? String(log.value.firstMs)
          : log.errors.map(({ code, tries = [] }) => `${code} ${tries.join(' ')}`).join(),
      );
      return `${String(size)}: ${String(text)} | ${String(json)}`;
    });
    expectRecorded('families-of-numbers', lines);
  });

  it('begin a new day or year where they go back far enough', () => {
    const clocks = [
      '00:10',
      '00:50',
      '01:05',
      '06:00',
      '12:00',
      '12:00 am',
      '12:30 PM',
      '22:55',
      '23:05',
      '23:59:59',
    ];
    const sentences = openSentences();
    const days = clocks.flatMap((one) =>
      clocks.map((other) => {
        const text = `time,state\n06:00,open\n${one},shut\n${other},open\n05:00,shut\n`;
        const tries = [{ date: '2026-05-08' }, { date: '2026-05-08', newestFirst: true }].map(
          (options) => outcome(text, options, sentences),
        );
        const spans = outcome(
          `start,end\n${one},${other}\n06:00,06:10\n`,
          { date: '2026-05-08', lenient: true },
          sentences,
        );
        return `${one} ${other}: ${tries.join(' | ')} | ${spans}`;
      }),
    );
    const months = ['Jan', 'May', 'Jun', 'Jul', 'Aug', 'Dec'];
    const years = months.flatMap((one) =>
      months.map((other) => {
        const text = `time,state\n${one} 3 06:00,open\n${other} 4 06:00,shut\nMay 5 06:00,open\nDec 6 06:00,shut\n`;
        const tries = [{ date: '2026-05-08' }, { date: '2026-05-08', newestFirst: true }].map(
          (options) => outcome(text, { ...options, lenient: true }, sentences),
        );
        return `${one} ${other}: ${tries.join(' | ')}`;
      }),
    );
    expectRecorded('families-of-days', [...days, ...years, ...sentences.list()]);
  });
});

describe('a length', () => {
  it('has its unit in each of its words', () => {
    const units = [
      'ms',
      'msec',
      's',
      'sec',
      'secs',
      'second',
      'seconds',
      'm',
      'min',
      'mins',
      'minute',
      'minutes',
      'h',
      'hr',
      'hrs',
      'hour',
      'hours',
      'd',
      'day',
      'days',
      'w',
      'week',
      'y',
      'Sec',
      'MINUTES',
      'hour s',
    ];
    const lines = units.map((unit) => {
      const reads = [`2 ${unit}`, `2${unit}`, `1 h 2 ${unit}`, `2 ${unit} 3 ms`].map((text) => {
        const read = readRowDuration(text, null);
        return read.ok ? String(read.value) : read.problem.code;
      });
      const heads = [
        `duration_${unit}`,
        `duration (${unit})`,
        `${unit} open`,
        `open [${unit}]`,
        unit,
      ].map((head) => {
        const log = readLog(`start,${head}\n10,2\n`, { durationColumn: head });
        return log.ok ? String(log.value.lastMs - log.value.firstMs) : log.errors.map(brief).join();
      });
      return `${unit}: ${reads.join(' ')} | ${heads.join(' ')}`;
    });
    expectRecorded('families-of-lengths', lines);
  });
});

describe('a stranger among the keys of a file', () => {
  const strangers = [
    'zzz',
    'checkInterval',
    'attempts',
    'at',
    'kind',
    'celsius',
    'powers',
    'leave-open-after',
    'resets',
    'mean',
  ];

  it('is named with the place where it belongs, wherever it stands', () => {
    const sentences = openSentences();
    const sections = Object.entries(settings).flatMap(([name, { keys }]) => [
      name,
      ...Object.entries<{ kind: string }>(keys).flatMap(([key, part]) =>
        part.kind === 'section' ? [`${name}.${key}`] : [],
      ),
    ]);
    const lines: string[] = [];
    const add = (
      place: string,
      read:
        | ReturnType<typeof parseWatchFile>
        | ReturnType<typeof parseScenario>
        | ReturnType<typeof parseProfile>,
    ): void => {
      lines.push(
        `${place}: ${read.ok ? digestOf(read.value) : read.errors.map((error) => sentences.brief(error)).join('; ')}`,
      );
    };
    for (const stranger of strangers) {
      for (const place of ['', ...sections]) {
        const [section = '', inner] = place.split('.');
        const line = `${stranger}: 1`;
        const text = inner === undefined ? line : `${inner}: { ${line} }`;
        add(
          `watch ${place} ${stranger}`,
          parseWatchFile(
            section === '' ? `watch: {}\n${line}\n` : `${section}: { ${text} }\n`,
            'w.yaml',
          ),
        );
      }
      for (const text of [
        'X',
        'environment: { X }',
        'environment: { reset: { X } }',
        'expect: { X }',
        'expect: { checks: { X } }',
        'door: [{ at: "08:00", for: 1m, X }]',
        'network: [{ down: "08:00", for: 1m, X }]',
        'contact: [{ stuck: open, at: "08:00", for: 1m, X }]',
        'temperature: [{ at: "08:00", celsius: 1, X }]',
        'resets: [{ at: "08:00", X }]',
        'generate: { profile: seed-bank, X }',
        'generate: { profile: { openingsPerHour: { "6-8": 1 }, duration: 5s, X } }',
      ]) {
        add(
          text.replace('X', stranger),
          parseScenario(`name: x\n${text.replace('X', `${stranger}: 1`)}\n`, 's.yaml'),
        );
      }
      for (const text of [
        'X',
        'leaveOpen: { share: 5%, duration: 20m, X }',
        'fitted: { days: 1, openings: 1, leaveOpens: 0, X }',
      ]) {
        add(
          `profile ${text.replace('X', stranger)}`,
          parseProfile(
            `openingsPerHour: { "6-8": 1 }\nduration: 5s\n${text.replace('X', `${stranger}: 1`)}\n`,
            'p.yaml',
          ),
        );
      }
    }
    expectRecorded('families-of-keys', [...lines, ...sentences.list()]);
  });
});
