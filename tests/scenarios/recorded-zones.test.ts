// Zones: what clocks show, when days begin, which names are known; compared with the date library, and kept.
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { localMidnights, localTime } from '../../src/scenarios/index.js';
import { likelyPattern } from '../../src/scenarios/time/likely-pattern.js';
import { localDays, writeLocal } from '../../src/scenarios/time/local-time.js';
import { offsetText, readZone } from '../../src/scenarios/time/zone.js';
import { expectRecorded } from './recording.js';
import { linesOf } from './texts.js';

/** Zones with an instant near which something odd happens: clocks that change at midnight, a day that is skipped, half hours. */
const oddities: readonly (readonly [zone: string, at: string])[] = [
  ['Europe/Oslo', '2026-03-29T01:00Z'],
  ['Europe/Oslo', '2026-10-25T01:00Z'],
  ['America/Sao_Paulo', '2018-11-04T03:00Z'],
  ['America/Sao_Paulo', '2018-02-18T02:00Z'],
  ['Asia/Beirut', '2022-03-26T22:00Z'],
  ['Pacific/Apia', '2011-12-30T10:00Z'],
  ['Australia/Lord_Howe', '2026-04-04T15:00Z'],
  ['America/St_Johns', '2006-10-29T02:31Z'],
  ['Asia/Kathmandu', '1986-01-01T00:00Z'],
  ['UTC', '2026-01-01T00:00Z'],
  ['-03:30', '2026-01-01T00:00Z'],
];

const minuteMs = 60_000;

describe('near an odd instant of a zone', () => {
  it('a clock shows what the date library says', () => {
    for (const [timeZone, at] of oddities) {
      const epochMs = Temporal.Instant.from(at).epochMilliseconds;
      for (let step = -60; step <= 60; step += 1) {
        const atMs = step * 11 * minuteMs + (step % 7) * 1_234;
        const shown = localTime({ epochMs, timeZone }, atMs);
        const wanted = Temporal.Instant.fromEpochMilliseconds(epochMs + atMs).toZonedDateTimeISO(
          timeZone,
        );
        const plain = wanted.toPlainDateTime();
        expect(`${shown.date}T${shown.time}`, `${timeZone} ${at} ${String(atMs)}`).toBe(
          plain.toString({ smallestUnit: 'second' }),
        );
        expect(shown.millisecond).toBe(plain.millisecond);
        expect(shown.offset).toBe(wanted.offset);
        expect(shown.weekday).toBe(
          ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'][plain.dayOfWeek - 1],
        );
        const [earlier, later] = (['earlier', 'later'] as const).map(
          (disambiguation) => plain.toZonedDateTime(timeZone, { disambiguation }).epochMilliseconds,
        );
        expect(shown.isRepeated, `${timeZone} ${plain.toString()}`).toBe(earlier !== later);
        expect(writeLocal(Date.parse(`${plain.toString({ smallestUnit: 'second' })}Z`))).toBe(
          `${shown.date} ${shown.time}`,
        );
      }
    }
  });

  it('days begin where the date library says', () => {
    for (const [timeZone, at] of oddities) {
      const epochMs = Temporal.Instant.from(at).epochMilliseconds - 30 * 60 * minuteMs;
      const lengthMs = 75 * 60 * minuteMs;
      const start = { epochMs, timeZone };
      const wanted: number[] = [];
      let day = Temporal.Instant.fromEpochMilliseconds(epochMs)
        .toZonedDateTimeISO(timeZone)
        .toPlainDate();
      for (let count = 0; count < 6; count += 1, day = day.add({ days: 1 })) {
        const fromMs = day.toZonedDateTime(timeZone).epochMilliseconds - epochMs;
        if (fromMs >= 0 && fromMs < lengthMs && !wanted.includes(fromMs)) wanted.push(fromMs);
      }
      expect(localMidnights(start, lengthMs), `${timeZone} ${at}`).toEqual(wanted);
      const days = localDays(start, lengthMs);
      expect(days[0]?.fromMs).toBeLessThanOrEqual(0);
      expect(days.at(-1)?.toMs).toBeGreaterThanOrEqual(lengthMs);
      for (const [index, { toMs }] of days.slice(0, -1).entries())
        expect(days[index + 1]?.fromMs).toBe(toMs);
    }
  });
});

describe('a name', () => {
  it('of a zone is known, or another is meant, as before', () => {
    const lines = linesOf('zones').map((text) => {
      const zone = readZone(text);
      if (!zone.ok) return `${text} → ${zone.problem.code} ${zone.problem.hint ?? ''}`;
      return `${text} → ${zone.value.name} ${[0, 1_778_220_000_000, 1_794_117_600_000].map((ms) => offsetText(zone.value.offsetMs(ms))).join(' ')}`;
    });
    const offsets = [
      0, 1_000, -1_000, 90_000, 3_600_000, -12_600_000, 50_400_000, 86_399_000, -86_399_000,
      1_234_567,
    ].map((ms) => offsetText(ms));
    expectRecorded('zones', [...lines, offsets.join(' ')]);
  });
});

describe('a pattern for a time that is not recognised', () => {
  const two = (value: number): string => String(value).padStart(2, '0');
  const date = (form: string): string =>
    form.replaceAll(
      /%[a-zA-Z]/gu,
      (directive) =>
        ({
          '%d': '08',
          '%b': 'May',
          '%y': '26',
          '%Y': '2026',
          '%m': '05',
          '%a': 'Fri',
          '%j': '128',
          '%H': '16',
          '%I': '04',
          '%M': two(5),
          '%S': two(9),
          '%p': 'PM',
          '%f': '250',
        })[directive] ?? directive,
    );
  const dates = [
    '%d-%b-%y',
    '%d-%b-%Y',
    '%d %b %y',
    '%d %b %Y',
    '%d.%b.%Y',
    '%d/%b/%Y',
    '%d%b%Y',
    '%b %d %Y',
    '%b %d, %Y',
    '%b-%d-%Y',
    '%a %d %b %Y',
    '%a, %d %b %Y',
    '%a %b %d %Y',
    '%Y-%m-%d',
    '%Y %b %d',
    '%Y-%b-%d',
    '%Y-%j',
    '%Y%j',
    '%Y.%m.%d',
    '%Y_%m_%d',
    '%Y%m%d',
    '%d|%m|%Y',
    '%Y',
  ];
  const gaps = [' ', ', ', '_', '-', 'T', '/', ':', ' at ', ' - ', '', ' on ', '#'];
  const clocks = [
    '%H:%M:%S',
    '%H:%M',
    '%I:%M:%S %p',
    '%I:%M %p',
    '%H.%M.%S',
    '%H.%M',
    '%H-%M-%S',
    '%H-%M',
    '%H:%M:%S.%f',
    '%H%M%S',
    '%H%M',
    '%Hh%M',
    '%H|%M',
  ];

  it('is the same as before: some of every date, gap and clock', () => {
    const forms = [
      ...dates.flatMap((one) =>
        gaps.flatMap((gap) => clocks.map((clock) => `${one}${gap}${clock}`)),
      ),
      ...clocks.flatMap((clock) =>
        gaps.flatMap((gap) => dates.map((one) => `${clock}${gap}${one}`)),
      ),
    ].filter((_, index) => index % 29 === 0);
    const lines = forms.map((form) => `${date(form)} → ${likelyPattern(date(form)) ?? '-'}`);
    const odd = [
      '',
      'x',
      '2026',
      '2026-05',
      '12345678',
      'May 2026',
      '08-May-26',
      '08-May-26 06:15'.padEnd(40),
      '08-May-26 06:15'.padEnd(41),
    ];
    expectRecorded('likely-patterns', [
      ...lines,
      ...odd.map((text) => `${text} → ${likelyPattern(text) ?? '-'}`),
    ]);
  });
});
