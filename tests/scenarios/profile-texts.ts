// Logs that are drawn by plain arithmetic, of doors of several kinds; and profile files.
import { randomStream } from '../../src/base/index.js';
import type { TimelineStart } from '../../src/scenarios/index.js';

const second = 1_000;
const minute = 60 * second;
const hour = 60 * minute;
const day = 24 * hour;

interface DrawnLog {
  readonly name: string;
  readonly start: TimelineStart;
  readonly lengthMs: number;
  /** Starts and ends, ascending. */
  readonly pairs: () => readonly (readonly [number, number])[];
}

const monday = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };
const inOslo = { epochMs: Date.UTC(2026, 9, 22, 9, 30), timeZone: 'Europe/Oslo' };

type Draw = (unit: () => number) => readonly (readonly [number, number])[];

function drawn(
  name: string,
  lengthMs: number,
  draw: Draw,
  start: TimelineStart = monday,
): DrawnLog {
  const pairs = () => {
    const stream = randomStream('recorded log', name);
    const all = draw(() => stream.unit()).toSorted((a, b) => a[0] - b[0]);
    // No opening begins before the one above it has ended.
    let untilMs = -1;
    return all.filter(([fromMs, toMs]) => {
      const isApart = fromMs > untilMs && fromMs < lengthMs;
      if (isApart) untilMs = toMs;
      return isApart;
    });
  };
  return { name, start, lengthMs, pairs };
}

const many = <T>(count: number, make: (index: number) => T): readonly T[] =>
  Array.from({ length: count }, (_, index) => make(index));
const exponential = (mean: number, unit: () => number): number =>
  Math.max(1, Math.round(-mean * Math.log1p(-unit())));
const bell = (unit: () => number): number => many(12, unit).reduce((sum, one) => sum + one, -6);

export const drawnLogs: readonly DrawnLog[] = [
  drawn('regular', 10 * day, () =>
    many(80, (at) => [at * 3 * hour + 7 * minute, at * 3 * hour + 8 * minute]),
  ),
  drawn('even', 20 * day, (unit) =>
    many(200, () => Math.floor(unit() * 20 * day)).map((from) => [
      from,
      from + exponential(30 * second, unit),
    ]),
  ),
  drawn('bell', 12 * day, (unit) =>
    many(150, () => Math.floor(unit() * 12 * day)).map((from) => [
      from,
      from + Math.round(25 * second * Math.exp(0.7 * bell(unit))),
    ]),
  ),
  drawn('bursts', 14 * day, (unit) =>
    many(60, () => Math.floor(unit() * 14 * day)).flatMap((from) => {
      let at = from;
      return many(1 + Math.floor(exponential(2.5, unit)), () => {
        const start = at;
        const length = exponential(20 * second, unit);
        at += length + exponential(25 * second, unit);
        return [start, start + length] as const;
      });
    }),
  ),
  drawn('like bursts', 14 * day, (unit) =>
    many(70, () => Math.floor(unit() * 14 * day)).flatMap((from) => {
      let at = from;
      let length = 10 * second;
      return many(4, () => {
        const start = at;
        length = Math.round(0.6 * length + 0.4 * exponential(20 * second, unit)) + 1;
        at += length + 2 * length + Math.round(2 * second * unit());
        return [start, start + length] as const;
      });
    }),
  ),
  drawn('nights', 9 * day, (unit) =>
    many(9, (at) => at).flatMap((at) =>
      many(12, () => at * day + 22 * hour + Math.floor(unit() * 5 * hour)).map(
        (from) => [from, from + 15 * second] as const,
      ),
    ),
  ),
  drawn('weekdays', 21 * day, (unit) =>
    many(21, (at) => at).flatMap((at) =>
      at % 7 > 4
        ? []
        : many(6, () => at * day + 8 * hour + Math.floor(unit() * 8 * hour)).map(
            (from) => [from, from + exponential(minute, unit)] as const,
          ),
    ),
  ),
  drawn(
    'weekend',
    2 * day,
    (unit) =>
      many(30, () => Math.floor(unit() * 2 * day)).map((from) => [
        from,
        from + exponential(40 * second, unit),
      ]),
    { epochMs: Date.UTC(2026, 4, 9), timeZone: 'UTC' },
  ),
  drawn('one a day', 12 * day, () =>
    many(12, (at) => [
      at * day + 7 * hour + at * minute,
      at * day + 7 * hour + at * minute + 5 * second,
    ]),
  ),
  drawn('left open', 30 * day, (unit) =>
    many(120, () => Math.floor(unit() * 30 * day)).map((from, at) => [
      from,
      from +
        (at % 6 === 0
          ? 3 * minute + exponential(20 * minute, unit)
          : exponential(15 * second, unit)),
    ]),
  ),
  drawn('often left open', 40 * day, (unit) =>
    many(160, () => Math.floor(unit() * 40 * day)).map((from, at) => [
      from,
      from + (at % 3 === 0 ? 4 * minute + exponential(9 * minute, unit) : 20 * second),
    ]),
  ),
  drawn('only left open', 6 * day, (unit) =>
    many(8, () => Math.floor(unit() * 6 * day)).map((from) => [
      from,
      from + 4 * minute + exponential(9 * minute, unit),
    ]),
  ),
  drawn('few', 3 * day, () => [
    [hour, hour + 9 * second],
    [day, day + 20 * second],
  ]),
  drawn('four', 5 * day, () => [
    [hour, hour + 9 * second],
    [day, day + 20 * second],
    [2 * day, 2 * day + 15 * second],
    [3 * day, 3 * day + 5 * minute],
  ]),
  drawn('short', 6 * hour, (unit) =>
    many(20, () => Math.floor(unit() * 6 * hour)).map((from) => [from, from + 10 * second]),
  ),
  drawn('empty days', 15 * day, (unit) =>
    many(40, () => 4 * day + Math.floor(unit() * 2 * day)).map((from) => [
      from,
      from + exponential(20 * second, unit),
    ]),
  ),
  drawn('endless', 4 * day, (unit) => [
    ...many(25, () => Math.floor(unit() * 3 * day)).map(
      (from) => [from, from + 30 * second] as const,
    ),
    [4 * day - hour, Number.POSITIVE_INFINITY],
  ]),
  drawn('open at first', 4 * day, (unit) => [
    [0, 2 * hour],
    ...many(25, () => 3 * hour + Math.floor(unit() * 3 * day)).map(
      (from) => [from, from + 30 * second] as const,
    ),
  ]),
  drawn(
    'clocks go back',
    6 * day + 3 * hour,
    (unit) =>
      many(90, () => Math.floor(unit() * 6 * day)).map((from) => [
        from,
        from + exponential(30 * second, unit),
      ]),
    inOslo,
  ),
  drawn('no openings', 4 * day, () => []),
];

const rates = 'openingsPerHour: { "6-18": 1 }\n';

export const profileTexts: readonly string[] = [
  ...[
    '',
    'x',
    '[]',
    '{}',
    'openingsPerHour: x\n',
    'duration: 5s\n',
    rates,
    `${rates}duration: 5s\n`,
    `${rates}duration: 0s\n`,
    `${rates}duration: 5\n`,
    `${rates}duration: { fixed: 5s }\n`,
    `${rates}duration: { exponential: { mean: 5s } }\n`,
    `${rates}duration: { exponential: {} }\n`,
    `${rates}duration: { lognormal: { median: 5s, sigma: 0.5 } }\n`,
    `${rates}duration: { lognormal: { median: 5s, sigma: 9 } }\n`,
    `${rates}duration: { drawn: [1s, 2s] }\n`,
    `${rates}duration: { drawn: [] }\n`,
    `${rates}duration: { fixed: 5s, drawn: [1s] }\n`,
    `${rates}duration: {}\n`,
    `${rates}duration: { drawn: ${JSON.stringify(Array.from({ length: 40 }, (_, at) => `${String(at + 1)}s`))} }\n`,
  ],
  ...[
    'weekdayFactor: 0.5\nweekendFactor: 2',
    'weekendFactor: -1',
    'weekdayFactor: 0\nweekendFactor: 0',
    'leaveOpen: { share: 5%, duration: 20m }',
    'leaveOpen: { share: 5% }',
    'leaveOpen: { share: 105%, duration: 20m }',
    'leaveOpen: { share: 0.000001%, duration: { drawn: [20m, 1h] } }',
    'visits: {}',
    'days: []',
    'name: x',
    'watch: {}',
  ].map((more) => `${rates}duration: 5s\n${more}\n`),
  ...[
    'openingsPerHour: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]\nduration: 5s\n',
    'openingsPerHour: { "0-24": 0.5 }\nduration: 5s\n',
    'openingsPerHour: { "0-25": 0.5 }\nduration: 5s\n',
    'openingsPerHour: { "23": 400 }\nduration: 5s\n',
    'openingsPerHour: { "23": x }\nduration: 5s\n',
    'openingsPerHour: { "22-2": 1, "1": 2 }\nduration: 5s\n',
    'openingsPerHour: {}\nduration: 5s\n',
  ],
  ...[
    '{ kind: fixed, count: 1 }',
    '{ kind: fixed, count: 2 }, gap: { kind: fixed, time: 5s }',
    '{ kind: fixed }, gap: { kind: fixed, time: 5s }',
    '{ kind: fixed, count: 2 }',
    '{ kind: geometric, mean: 2.5 }, gap: { kind: exponential, mean: 5s }',
    '{ kind: geometric, mean: 0.5 }, gap: { kind: exponential, mean: 5s }',
    '{ kind: poisson, mean: 2 }, gap: { kind: lognormal, median: 5s, sigma: 1 }',
    '{ kind: drawn, counts: [1, 2, 9] }, gap: { kind: drawn, times: [1s, 2m] }',
    '{ kind: drawn, counts: [] }, gap: { kind: drawn, times: [1s] }',
    '{ kind: drawn, counts: [1] }, gap: { kind: drawn, times: [] }',
    '{ kind: other }',
    '{ kind: geometric, mean: 2, count: 3 }',
    '{ kind: fixed, count: 2 }, gap: { kind: lognormal, median: 5s }',
    '{ kind: fixed, count: 2 }, gap: { kind: exponential, mean: 5s, sigma: 1 }',
    '{ kind: fixed, count: 2 }, gap: { kind: fixed, time: 5s }, dependence: { lengths: 0.5 }',
    '{ kind: fixed, count: 2 }, gap: { kind: fixed, time: 5s }, dependence: { lengths: 0.9, gapAfter: 0.9, lengthAfter: -0.9 }',
    '{ kind: fixed, count: 2 }, gap: { kind: fixed, time: 5s }, dependence: { lengths: 2 }',
    '{ kind: fixed, count: 2 }, gap: { kind: fixed, time: 5s }, weekday: 0.5, weekend: 3',
  ].map((openings) => `visits: { perHour: { "6-18": 1 }, openings: ${openings} }\nduration: 5s\n`),
  ...[
    'visits: { perHour: { "6-18": 0 }, openings: { kind: fixed, count: 1 } }\nduration: 5s\n',
    'visits: { perHour: { "6-18": 1 }, openings: { kind: fixed, count: 1 } }\nduration: 5s\nweekendFactor: 2\n',
    'visits: { openings: { kind: fixed, count: 1 } }\nduration: 5s\n',
    'visits: { perHour: { "6-18": 1 } }\nduration: 5s\n',
    'visits: { perHour: { "6-18": 1 }, openings: { kind: fixed, count: 1 } }\n',
  ],
  ...[
    '"08:15:20 for 40s"',
    '"8:15 for 40s", "23:59:59.5 for 2h"',
    '"24:30 for 1s"',
    '"25:00 for 1s"',
    '"08:60 for 1s"',
    '"08:15:60 for 1s"',
    '"08:15 for 0s"',
    '"08:15 for x"',
    '"08:15"',
    '5',
    '',
  ].map(
    (openings) =>
      `days: [{ on: weekday, openings: [${openings}] }, { on: weekend, openings: ["07:00:00.250 for 1h"] }]\n`,
  ),
  ...[
    'days: []\n',
    'days: [{ on: holiday, openings: [] }]\n',
    'days: [{ on: weekday, openings: [] }]\n',
    'days: [{ openings: [] }]\n',
    'days: [{ on: weekday, openings: ["07:00 for 5s"] }]\nduration: 5s\n',
    'days: [{ on: weekday, openings: ["07:00 for 5s"] }]\nweekendFactor: 1\n',
    'days: [{ on: weekday, openings: ["07:00 for 5s", "09:00 for 1h", "10:00 for 2h"] }, { on: weekday, openings: ["07:00 for 3m"] }]\nfitted: { days: 2, openings: 4, leaveOpens: 3, leaveOpenAfter: 3m }\n',
  ],
  ...[
    '{}',
    '{ days: 5, openings: 9, leaveOpens: 0 }',
    '{ days: 5, openings: 9, leaveOpens: 2, leaveOpenAfter: 3m, leaveOpensApart: 1.5, resamples: [[1, 1, 1, 1, 1, 1, 1, 1, 1], [2, 1, 1, 1, 0.5, 2, 3, 1, 1], [0.5, 1, 1, 1, 2, 0.5, 0.2, 2, 0.5]] }',
    '{ days: 5, openings: 90, leaveOpens: 40, leaveOpenAfter: 3m, resamples: [[1.5, 1, 1, 1, 1, 1, 0.5, 2, 0.5], []] }',
    '{ days: 0, openings: 9, leaveOpens: 0 }',
    '{ days: 1, openings: 9, leaveOpens: 0, resamples: [[-1]] }',
    '{ days: 1, openings: 9, leaveOpens: 1, resamples: 5 }',
  ].flatMap((fitted) =>
    [
      '20m',
      '{ exponential: { mean: 20m } }',
      '{ lognormal: { median: 20m, sigma: 0.7 } }',
      '{ drawn: [5m, 9m, 1h] }',
      '{ drawn: [5m, 6m, 7m, 8m, 9m, 1h] }',
    ].map(
      (long) =>
        `${rates}duration: { lognormal: { median: 5s, sigma: 0.5 } }\nleaveOpen: { share: 5%, duration: ${long} }\nfitted: ${fitted}\n`,
    ),
  ),
  'visits: { perHour: { "6-18": 1 }, openings: { kind: poisson, mean: 3 }, gap: { kind: lognormal, median: 9s, sigma: 1 } }\nduration: { drawn: [1s, 2s, 5s] }\nfitted: { days: 5, openings: 9, leaveOpens: 0, resamples: [[1, 0.2, 2, 0.5, 1, 1, 1, 1, 1], [2, 3, 0.5, 2]] }\n',
];
