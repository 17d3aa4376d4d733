// Instants, local times and their zones, compared with the date library.
import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { localMidnights, localTime, parseInstant } from '../../src/scenarios/index.js';
import { codesOf, valueOf } from './reading.js';

const at = { file: '--from' };
const zones = [
  'UTC',
  'Europe/Lisbon',
  'Europe/Berlin',
  'America/St_Johns',
  'America/Sao_Paulo',
  'Australia/Lord_Howe',
  'Asia/Kathmandu',
  'Africa/Casablanca',
  'Pacific/Apia',
  '+02:00',
  '-03:30',
];
const epochs = fc.integer({ min: Date.UTC(1972, 0, 1), max: Date.UTC(2040, 0, 1) });

/** Whether the local time of an instant has two instants. */
function isTwice(zoned: Temporal.ZonedDateTime): boolean {
  const local = zoned.toPlainDateTime();
  const [earlier, later] = (['earlier', 'later'] as const).map((disambiguation) =>
    local.toZonedDateTime(zoned.timeZoneId, { disambiguation }),
  );
  return earlier?.epochMilliseconds !== later?.epochMilliseconds;
}

describe('a time that the clock shows twice', () => {
  const start = { epochMs: Date.UTC(2026, 9, 25), timeZone: 'Europe/Oslo' };
  const hours = (count: number): number => count * 3_600_000;

  it.each([
    [-1, false, '01:00:00'],
    [0, true, '02:00:00'],
    [0.5, true, '02:30:00'],
    [1, true, '02:00:00'],
    [1.5, true, '02:30:00'],
    [2, false, '03:00:00'],
  ])('is marked: %s h from the first 02:00', (at, isRepeated, time) => {
    expect(localTime(start, hours(at))).toMatchObject({ isRepeated, time });
  });

  it('is not found where the clocks go forward, or never change', () => {
    const spring = { epochMs: Date.UTC(2026, 2, 29, 1), timeZone: 'Europe/Oslo' };
    for (const at of [-1, -0.5, 0, 0.5, 1]) {
      expect(localTime(spring, hours(at)).isRepeated).toBe(false);
      expect(localTime({ ...start, timeZone: '+02:00' }, hours(at)).isRepeated).toBe(false);
    }
  });
});

describe('an instant', () => {
  it.each([
    ['2026-05-08T06:00:00+02:00', null, '2026-05-08T04:00:00.000Z'],
    ['2026-05-08T06:00:00.250Z', null, '2026-05-08T06:00:00.250Z'],
    ['2026-05-08 06:00 +0200', null, '2026-05-08T04:00:00.000Z'],
    ['2026-05-08T06:00[Europe/Lisbon]', null, '2026-05-08T05:00:00.000Z'],
    ['2026-05-08T06:00+01:00[Europe/Lisbon]', null, '2026-05-08T05:00:00.000Z'],
    ['2026-05-08T05:00Z[Europe/Lisbon]', null, '2026-05-08T05:00:00.000Z'],
    ['2026-05-08 06:00', 'Europe/Lisbon', '2026-05-08T05:00:00.000Z'],
    ['2026-05-08', 'Europe/Lisbon', '2026-05-07T23:00:00.000Z'],
    ['2026-10-25T01:30+00:00', 'Europe/Lisbon', '2026-10-25T01:30:00.000Z'],
    ['1203934768', null, '2008-02-25T10:19:28.000Z'],
    ['1203934768123', null, '2008-02-25T10:19:28.123Z'],
  ])('reads %s in %s', (text, zone, expected) => {
    expect(new Date(valueOf(parseInstant(text, zone, at))).toISOString()).toBe(expected);
  });

  it.each([
    ['2026-05-08 06:00', null, 'instant-without-zone'],
    ['2026-05-08 06:00', 'Mars/Base', 'unknown-zone'],
    ['2026-05-08T06:00[Mars/Base]', null, 'unknown-zone'],
    ['2026-05-08T06:00+03:00[Europe/Lisbon]', null, 'instant-offset-mismatch'],
    ['2026-02-30 06:00', 'UTC', 'instant-unreadable'],
    ['2026-05-08 24:00', 'UTC', 'instant-unreadable'],
    ['2026-05-08T06:00:60Z', null, 'instant-unreadable'],
    ['2026-05-08T06:00:00.1234Z', null, 'instant-not-whole-ms'],
    ['yesterday', 'UTC', 'instant-unreadable'],
    ['08.05.2026 06:00', 'UTC', 'instant-unreadable'],
    ['', 'UTC', 'instant-unreadable'],
    ['2026-03-29 01:30', 'Europe/Lisbon', 'local-time-skipped'],
    ['2026-10-25 01:30', 'Europe/Lisbon', 'local-time-twice'],
    ['2026-10-25T01:30[Europe/Lisbon]', null, 'local-time-twice'],
  ])('refuses %s in %s as %s', (text, zone, code) => {
    expect(codesOf(parseInstant(text, zone, at))).toEqual([code]);
  });

  it('says of a doubled hour which two offsets it could mean', () => {
    expect(parseInstant('2026-10-25 01:30', 'Europe/Lisbon', at)).toMatchObject({
      errors: [
        {
          message: 'this is a time that exists twice in Europe/Lisbon',
          hint: 'the clocks go back then: add +01:00 for the first time or +00:00 for the second',
        },
      ],
    });
  });

  it.each([
    ['20260508', '2026-05-08'],
    ['202605081230', '"2026-05-08 12:30"'],
    ['20260508T123005', '"2026-05-08 12:30:05"'],
  ])('of a date in digits alone how to write it: %s', (text, written) => {
    expect(parseInstant(text, 'UTC', at)).toMatchObject({
      errors: [{ code: 'instant-unreadable', hint: `write it as ${written}` }],
    });
    expect(parseInstant(written.replaceAll('"', ''), 'UTC', at).ok).toBe(true);
    // Digits that are no date are seconds or milliseconds since 1970.
    expect(parseInstant('202613081230', 'UTC', at).ok).toBe(true);
  });

  it('of a skipped hour how the clocks went', () => {
    expect(parseInstant('2026-03-29 01:30', 'Europe/Lisbon', at)).toMatchObject({
      errors: [
        {
          hint: 'the clocks go forward from +00:00 to +01:00 and skip it; if the times are in UTC, say so (zone: UTC in a scenario, --zone UTC for a log)',
        },
      ],
    });
  });
});

describe('local time', () => {
  it('is what the date library says', () => {
    fc.assert(
      fc.property(epochs, fc.constantFrom(...zones), (epochMs, timeZone) => {
        const zoned = Temporal.Instant.fromEpochMilliseconds(epochMs).toZonedDateTimeISO(timeZone);
        expect(localTime({ epochMs: 0, timeZone }, epochMs)).toEqual({
          date: zoned.toPlainDate().toString(),
          time: zoned.toPlainTime().toString({ smallestUnit: 'second' }),
          millisecond: zoned.millisecond,
          weekday: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'][zoned.dayOfWeek - 1],
          offset: zoned.offset,
          isRepeated: isTwice(zoned),
        });
      }),
    );
  });

  it('counts from the start of the timeline', () => {
    const start = { epochMs: Date.UTC(2026, 4, 8, 4), timeZone: '+02:00' };
    expect(localTime(start, 4_200_250)).toEqual({
      date: '2026-05-08',
      time: '07:10:00',
      millisecond: 250,
      weekday: 'Fri',
      offset: '+02:00',
      isRepeated: false,
    });
  });
});

describe('local midnights', () => {
  it('are the starts of days that the date library gives', () => {
    fc.assert(
      fc.property(
        epochs,
        fc.constantFrom(...zones),
        fc.integer({ min: 1, max: 14 * 86_400_000 }),
        (epochMs, timeZone, lengthMs) => {
          const expected: number[] = [];
          let date = Temporal.Instant.fromEpochMilliseconds(epochMs)
            .toZonedDateTimeISO(timeZone)
            .toPlainDate();
          for (let day = 0; day < 17; day += 1) {
            const midnight = date.toZonedDateTime(timeZone).epochMilliseconds - epochMs;
            if (midnight >= 0 && midnight < lengthMs) expected.push(midnight);
            date = date.add({ days: 1 });
          }
          expect(localMidnights({ epochMs, timeZone }, lengthMs)).toEqual([...new Set(expected)]);
        },
      ),
    );
  });

  it('are 23 or 25 hours apart where the clocks change', () => {
    const spring = { epochMs: Date.UTC(2026, 2, 28), timeZone: 'Europe/Lisbon' };
    const autumn = { epochMs: Date.UTC(2026, 9, 23, 23), timeZone: 'Europe/Lisbon' };
    const hours = (starts: readonly number[]): number[] => starts.map((ms) => ms / 3_600_000);
    expect(hours(localMidnights(spring, 3 * 86_400_000))).toEqual([0, 24, 47, 71].slice(0, 4));
    expect(hours(localMidnights(autumn, 3 * 86_400_000))).toEqual([0, 24, 49]);
  });

  it('begin with the first instant of a day whose midnight is skipped', () => {
    const start = { epochMs: Date.UTC(2018, 10, 3, 12), timeZone: 'America/Sao_Paulo' };
    const [first = 0] = localMidnights(start, 86_400_000);
    expect(localTime(start, first)).toMatchObject({ date: '2018-11-04', time: '01:00:00' });
  });
});
