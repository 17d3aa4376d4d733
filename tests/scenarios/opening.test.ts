import { describe, expect, it } from 'vitest';
import { parseScenario } from '../../src/scenarios/index.js';
import { doorOf, hour, minute, pairs, refused, timeline } from './days.js';
import { errorsOf } from './reading.js';

describe('an opening', () => {
  it.each([
    ['at 08:15 for 40s', 135 * minute, 135 * minute + 40_000],
    ['from 08:15 until 08:40', 135 * minute, 160 * minute],
    ['8:15 to 8:40', 135 * minute, 160 * minute],
    ['at +11h for 25m', 11 * hour, 11 * hour + 25 * minute],
    ['at 05:00 for 40s', 23 * hour, 23 * hour + 40_000],
    ['at day 2 05:00 for 40s', 23 * hour, 23 * hour + 40_000],
    ['at day 2, 05:00 until day 2 05:30', 23 * hour, 23.5 * hour],
    ['at 2026-05-08 07:00 for 1m', hour, hour + minute],
    ['at 2026-05-08T07:00:00.250+02:00 for 1m', hour + 250, hour + 250 + minute],
    ['at 2026-05-08T05:00Z for 1m', hour, hour + minute],
    ['at 05:00Z for 1m', hour, hour + minute],
    ['at start for 1m', 0, minute],
    ['at 23:50 until 00:10', 17 * hour + 50 * minute, 18 * hour + 10 * minute],
    ['at 23:00 until end', 17 * hour, Number.POSITIVE_INFINITY],
    ['at 05:59 for 1m', 24 * hour - minute, 24 * hour],
    ['at 05:59 for 61s', 24 * hour - minute, Number.POSITIVE_INFINITY],
  ])('as a person writes it: %s', (sentence, from, to) => {
    expect(pairs(timeline(doorOf(sentence)))).toEqual([[from, to]]);
  });

  it('says in one sentence what it says in parts', () => {
    const door = (text: string): unknown =>
      timeline(doorOf(text), 'contact: { operateGap: 8, releaseGap: 12 }');
    expect(door('at 07:00 for 40s ajar 6mm (the wind)')).toEqual(
      door('{ at: "07:00", for: 40s, gap: 6mm, note: the wind }'),
    );
    expect(door('at 07:00 until 08:00 creeping to 10.5mm')).toEqual(
      door('{ at: "07:00", until: "08:00", gap: 10.5, approach: creeping }'),
    );
  });

  it.each([
    ['at 07:00', '4:5 opening-unreadable'],
    ['when the wind blows', '4:5 opening-unreadable'],
    ['at 07:00 for', '4:5 opening-unreadable'],
    ['at 25:00 for 40s', '4:5 instant-unreadable'],
    ['at day 0 07:00 for 40s', '4:5 instant-unreadable'],
    ['at noon for 40s', '4:5 instant-unreadable'],
    ['at 7 for 40s', '4:5 instant-unreadable'],
    ['at 07:00 for 40', '4:5 duration-without-unit'],
    ['at 07:00 for 0s', '4:5 out-of-range'],
    ['at 07:00 for 40s ajar 6m', '4:5 gap-unknown-unit'],
    ['at +1d for 40s', '4:5 outside-timeline'],
    ['at day 3 07:00 for 40s', '4:5 outside-timeline'],
    ['at day 1 05:00 for 40s', '4:5 outside-timeline'],
    ['at 2026-05-07 07:00 for 40s', '4:5 outside-timeline'],
    ['at 14:30 until 14:00', '4:5 ends-before-start'],
    ['at 14:30 until 14:30', '4:5 ends-before-start'],
    ['at 14:30 until day 1 14:00', '4:5 ends-before-start'],
    ['{ at: "07:00" }', '4:5 missing-key'],
    ['{ for: 40s }', '4:5 missing-key'],
    ['{ at: "07:00", for: 40s, until: "08:00" }', '4:37 for-and-until'],
    ['{ at: 700, for: 40s }', '4:11 wrong-type'],
    ['{ at: 1h, for: 40s }', '4:11 instant-unreadable'],
    ['{ at: "07:00", for: 40s, gap: 2m }', '4:35 gap-unknown-unit'],
    ['{ at: "07:00", for: 40s, gap: 1001mm }', '4:35 out-of-range'],
    ['{ at: "07:00", for: 40s, approach: slow }', '4:40 unknown-word'],
    ['{ at: "07:00", for: 40s, approach: creeping }', '4:5 missing-key'],
    ['{ at: "07:00", for: 40s, gapp: 3 }', '4:30 unknown-key'],
    ['{ at: "07:00", for: 40s, note: "a\\u0000b" }', '4:36 text-unprintable'],
    ['42', '4:5 wrong-type'],
    ['', '4:5 empty-value'],
  ])('is refused: %s', (entry, expected) => {
    expect(refused(doorOf(entry))).toEqual([expected]);
  });

  it('may be given in any order, and merges with one that it touches', () => {
    const day = timeline(
      doorOf('at 09:00 for 1m (second)', 'at 08:00 for 1h (first)', 'at 07:00 for 1m'),
    );
    expect(pairs(day)).toEqual([
      [hour, hour + minute],
      [2 * hour, 3 * hour + minute],
    ]);
    expect(day.notes).toEqual(new Map([[1, 'first; second']]));
  });

  it('must not overlap another: the later line is named, and the line it overlaps', () => {
    const text = doorOf('at 08:30 for 1m', 'at 08:00 for 1h', 'at 08:45 for 1m');
    const result = parseScenario(text, 'day.yaml');
    expect(errorsOf(result)).toEqual(['4:5 overlap', '6:5 overlap']);
    expect(result).toMatchObject({
      errors: [{ message: 'door entry 1 begins before the opening on line 5 ends' }, {}],
    });
  });
});

describe('where the clocks change', () => {
  const night = (start: string, ...door: string[]): string =>
    [
      `name: x`,
      `start: ${start}`,
      'zone: Europe/Berlin',
      'length: 2d',
      `door: ${JSON.stringify(door)}`,
    ].join('\n');

  it('refuses a time of day that is skipped or doubled, on the day that it would fall on', () => {
    expect(refused(night('2026-03-28 12:00', 'at 02:30 for 1m'))).toEqual([
      '5:8 local-time-skipped',
    ]);
    expect(refused(night('2026-10-24 12:00', 'at 02:30 for 1m'))).toEqual(['5:8 local-time-twice']);
    expect(refused(night('2026-10-24 12:00', 'at day 2 02:30 for 1m'))).toEqual([
      '5:8 local-time-twice',
    ]);
    expect(refused(night('2026-10-24 12:00', 'at 2026-10-25 02:30 for 1m'))).toEqual([
      '5:8 local-time-twice',
    ]);
  });

  it('refuses an offset that no place has', () => {
    const text = 'door: ["at 07:30+25:00 for 5m"]';
    expect(errorsOf(parseScenario(text, 'x.yaml'))).toEqual(['1:8 instant-unreadable']);
  });

  it('takes it with an offset, as either of the two', () => {
    const first = pairs(timeline(night('2026-10-24 12:00', 'at day 2 02:30+02:00 for 1m')));
    const second = pairs(timeline(night('2026-10-24 12:00', 'at 02:30+01:00 for 1m')));
    expect(first).toEqual([[14.5 * hour, 14.5 * hour + minute]]);
    expect(second).toEqual([[15.5 * hour, 15.5 * hour + minute]]);
  });

  it('takes other times of day as the clock on the wall shows them', () => {
    const spring = pairs(timeline(night('2026-03-28 12:00', 'at 08:00 for 1m')));
    const autumn = pairs(timeline(night('2026-10-24 12:00', 'at 08:00 for 1m')));
    expect(spring).toEqual([[19 * hour, 19 * hour + minute]]);
    expect(autumn).toEqual([[21 * hour, 21 * hour + minute]]);
  });
});
