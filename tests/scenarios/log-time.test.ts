// The quick reading of times is compared with the date library.
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { epochNumber, logTimes } from '../../src/scenarios/log/log-time.js';
import { readZone, type Zone } from '../../src/scenarios/time/zone.js';
import { anyText } from './reading.js';

const zoneNamed = (name: string): Zone => {
  const zone = readZone(name);
  if (!zone.ok) throw new Error(name);
  return zone.value;
};

const epochs = fc.integer({ min: Date.UTC(1972, 0, 1), max: Date.UTC(2040, 0, 1) });
const zones = fc.constantFrom(
  'UTC',
  'Europe/Lisbon',
  'America/St_Johns',
  'Australia/Lord_Howe',
  'Asia/Kathmandu',
  'Africa/Casablanca',
  '+02:00',
  '-03:30',
);

describe('a time with an offset', () => {
  it('is the instant that the date library reads', () => {
    const forms = fc.record({
      separator: fc.constantFrom('T', ' '),
      offset: fc.constantFrom('Z', '+00:00', '+05:30', '-03:30', '+0200', '-08', ' +01:00'),
      digits: fc.constantFrom<0 | 3 | 6 | 9>(0, 3, 6, 9),
      mark: fc.constantFrom('.', ','),
    });
    fc.assert(
      fc.property(epochs, forms, (epochMs, { separator, offset, digits, mark }) => {
        const date = Temporal.Instant.fromEpochMilliseconds(epochMs).toZonedDateTimeISO('UTC');
        const written = date
          .toPlainDateTime()
          .toString({ fractionalSecondDigits: digits })
          .replace('T', separator);
        const expected = Temporal.Instant.from(`${written}${offset.trim()}`).epochMilliseconds;
        const text = `${written.replace('.', mark)}${offset}`;
        expect(logTimes(null).read(text), text).toBe(expected);
      }),
      { numRuns: 1_000 },
    );
  });
});

describe('a local time', () => {
  it('in a zone is the instant that the date library reads, or none where that refuses', () => {
    fc.assert(
      fc.property(epochs, zones, (epochMs, name) => {
        const local = Temporal.Instant.fromEpochMilliseconds(epochMs)
          .toZonedDateTimeISO('UTC')
          .toPlainDateTime();
        const read = logTimes(zoneNamed(name)).read(local.toString().replace('T', ' '));
        let expected = Number.NaN;
        try {
          const zoned = local.toZonedDateTime(name, { disambiguation: 'reject' });
          expected = zoned.epochMilliseconds;
        } catch {
          // Skipped or doubled.
        }
        expect(read).toBe(expected);
      }),
      { numRuns: 1_000 },
    );
  });

  it.each([
    ['Europe/Lisbon', 2026, 3, 29],
    ['Europe/Lisbon', 2026, 10, 25],
    ['Australia/Lord_Howe', 2026, 4, 5],
    ['Australia/Lord_Howe', 2026, 10, 4],
    ['America/St_Johns', 2026, 11, 1],
    ['Africa/Casablanca', 2026, 3, 22],
  ])(
    'in %s on %i-%i-%i is refused in just the minutes that are skipped or doubled',
    (name, ...date) => {
      const [year, month, day] = date;
      const times = logTimes(zoneNamed(name));
      const midnight = new Temporal.PlainDateTime(year, month, day);
      for (let minute = 0; minute < 1_440; minute += 5) {
        const local = midnight.add({ minutes: minute });
        const earlier = local.toZonedDateTime(name, { disambiguation: 'earlier' });
        const later = local.toZonedDateTime(name, { disambiguation: 'later' });
        const text = local.toString();
        const once = earlier.equals(later);
        expect(times.read(text), text).toBe(once ? earlier.epochMilliseconds : Number.NaN);
        const decoded = times.explain(text);
        expect(decoded.ok).toBe(once);
        if (once) continue;
        const doubled = earlier.toPlainDateTime().equals(local);
        expect(times.readings(text)).toEqual(
          doubled
            ? [earlier.epochMilliseconds, later.epochMilliseconds]
            : [Math.max(earlier.epochMilliseconds, later.epochMilliseconds)],
        );
      }
    },
  );

  it('without a zone is UTC, and that is noted', () => {
    const times = logTimes(null);
    expect(times.read('2008-02-25 09:49:39')).toBe(Date.UTC(2008, 1, 25, 9, 49, 39));
    expect(times.tookUtc).toBe(true);
    expect(times.firstOffset).toBeNull();
  });
});

describe('a date', () => {
  it('is refused unless the calendar has it', () => {
    const parts = fc.tuple(
      fc.integer({ min: 0, max: 2100 }),
      fc.integer({ min: 0, max: 13 }),
      fc.integer({ min: 0, max: 32 }),
    );
    const two = (value: number): string => String(value).padStart(2, '0');
    fc.assert(
      fc.property(parts, ([year, month, day]) => {
        const text = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}T00:00Z`;
        let expected = Number.NaN;
        try {
          expected = Temporal.Instant.from(text).epochMilliseconds;
        } catch {
          // No such day.
        }
        expect(logTimes(null).read(text), text).toBe(expected);
      }),
      { numRuns: 1_000 },
    );
  });
});

describe('a number since 1970', () => {
  it.each([
    ['0', 0],
    ['100', 100_000],
    ['1203934768', 1_203_934_768_000],
    ['1203934768.5', 1_203_934_768_500],
    ['1203934768.123999', 1_203_934_768_123],
    ['1203934768123', 1_203_934_768_123],
    ['1203934768123.9', 1_203_934_768_123],
    ['-5', -5_000],
    [' 100 ', 100_000],
    ['1203934768123999', 1_203_934_768_123],
    ['1203934768123000000', 1_203_934_768_123],
  ])('is seconds, milliseconds, microseconds or nanoseconds by its size: %s', (text, expected) => {
    expect(logTimes(null).read(text)).toBe(expected);
    expect(epochNumber(Number(text))).toBe(expected);
  });

  it.each(['120393476812300', '1e9', '0x10', '1.2.3', '.', '-', '', '12a', '٣', 'NaN'])(
    'is refused: %s',
    (text) => {
      const times = logTimes(null);
      expect(times.read(text)).toBeNaN();
      expect(times.explain(text)).toMatchObject({
        ok: false,
        problem: { code: 'log-time-unreadable' },
      });
    },
  );

  it('that is no number, or too large, is refused', () => {
    expect([epochNumber(Number.NaN), epochNumber(1e14), epochNumber(Infinity)]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});

describe('any text', () => {
  it('is a whole number of milliseconds or refused, with the same answer the long way', () => {
    const pieces = fc.constantFrom(
      '2026-05-08',
      'T',
      ' ',
      '07:30',
      ':15',
      '.5',
      'Z',
      '+02:00',
      '-',
      '12',
    );
    const text = fc.oneof(
      fc.array(pieces, { maxLength: 6 }).map((parts) => parts.join('')),
      anyText(30),
    );
    fc.assert(
      fc.property(text, (given) => {
        const read = logTimes(null).read(given);
        const explained = logTimes(null).explain(given);
        if (!Number.isNaN(read)) {
          expect(Number.isSafeInteger(read)).toBe(true);
          expect(explained).toEqual({ ok: true, value: read });
        }
      }),
      { numRuns: 1_000 },
    );
  });
});
