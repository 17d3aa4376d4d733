// Profiles of logs that did not see everything, each small enough to be counted by hand.
import { describe, expect, it } from 'vitest';
import {
  builtInProfile,
  fitProfile,
  generateDoor,
  openingsAYear,
} from '../../src/scenarios/index.js';
import { busyTimes } from '../../src/scenarios/profile/busy.js';
import { likelyLengths, withoutCuts } from '../../src/scenarios/profile/cut-lengths.js';
import { loggedDays } from '../../src/scenarios/profile/logged-days.js';
import { knownOpenings } from '../../src/verdict/index.js';
import { spansOf } from '../../src/world/index.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const start = { epochMs: Date.UTC(2026, 4, 4), timeZone: 'UTC' };
const leaveOpenAfterMs = 10 * minuteMs;

/** Spans from their minutes. */
const spans = (...minutes: readonly (readonly [number, number])[]) =>
  spansOf(minutes.map(([from, to]) => [from * minuteMs, to * minuteMs] as const));

const whole = (...list: readonly number[]) => list.map((seenMs) => ({ seenMs, isWhole: true }));
const cut = (...list: readonly number[]) => list.map((seenMs) => ({ seenMs, isWhole: false }));

describe('lengths of which some are cut', () => {
  it('are themselves where none is', () => {
    expect(withoutCuts(whole(5, 3, 9))).toEqual([3, 5, 9]);
    expect(withoutCuts([])).toEqual([]);
  });

  it.each([
    // 3 is worth 1, and the cut one is as likely to be 6 as 9: 1.5 each.
    ['one in the middle', [...whole(3, 6, 9), ...cut(4)], [3, 6, 6, 9]],
    // The longest of all: there is nothing longer to stand in.
    ['the longest', [...whole(3, 6), ...cut(8)], [3, 6, 8]],
    ['one as long as a whole one', [...whole(3, 6), ...cut(3)], [3, 6, 6]],
    ['all', cut(2, 5), [5, 5]],
    // 2 is cut: each of the three others is worth 4/3; 5 is cut: 7 is worth 8/3.
    ['two', [...whole(4, 7), ...cut(2, 5)], [4, 7, 7, 7]],
  ])('have whole ones in place of %s', (_, lengths, expected) => {
    expect(withoutCuts(lengths)).toEqual(expected);
  });

  it('count as the middle one of those at least as long, or as what was seen', () => {
    const known = [...whole(3, 6, 9, 12), ...cut(5, 13)];
    const at = likelyLengths(known);
    expect(known.map((_, index) => at(index))).toEqual([3, 6, 9, 12, 9, 13]);
  });
});

describe('times in which no opening could be seen to begin', () => {
  it('are openings, each with what hides its beginning or its end, and spans alone', () => {
    const openings = spans([10, 12], [20, 40], [60, 65], [80, 81]);
    // One is within an opening and beyond its end, one before its beginning, one apart, one after all.
    const unseen = spans([21, 40], [50, 60], [70, 75], [90, 95]);
    const door = { openings, unseen, lengthMs: 100 * minuteMs };
    const busy = busyTimes(door, knownOpenings(door, 0));
    expect(busy.spans).toEqual(spans([10, 12], [20, 40], [50, 65], [70, 75], [80, 81], [90, 95]));
    expect([...busy.isBegun]).toEqual([1, 1, 0, 0, 1, 0]);
    expect([...busy.isWhole]).toEqual([1, 0, 0, 0, 1, 0]);
  });
});

describe('the days of a log of which some hours were not seen', () => {
  const at = (day: number, hour: number) => day * 1_440 + hour * 60;
  const opened = (day: number, hour: number) => [at(day, hour), at(day, hour) + 1] as const;
  const openings = spans(opened(0, 8), opened(0, 14), opened(1, 9), opened(2, 8), opened(2, 20));
  const hours = (unseen: ReturnType<typeof spans>) =>
    loggedDays(start, 3 * dayMs, openings, { unseen }).map((day) =>
      day.openings.map(({ atMs }) => atMs / hourMs),
    );

  it('have the openings of these hours from the next day like it', () => {
    expect(hours(spans())).toEqual([[8, 14], [9], [8, 20]]);
    expect(hours(spans([at(1, 12), at(1, 22)]))).toEqual([
      [8, 14],
      [9, 20],
      [8, 20],
    ]);
  });

  it('are left out where most hours were not seen', () => {
    expect(hours(spans([at(1, 10), at(2, 0)]))).toEqual([
      [8, 14],
      [8, 20],
    ]);
    expect(hours(spans([0, at(3, 0)]))).toHaveLength(3);
  });
});

describe('a profile of a log that did not see everything', () => {
  /** Two openings in a week, of which 50 h have no state. */
  const twice = spans([1_810, 1_811], [7_260, 7_280]);
  const unseen = spans([3_480, 6_480]);

  it('has rates per time in which the door was watched', () => {
    const door = { start, lengthMs: 7 * dayMs, openings: twice };
    const [all, some] = [
      fitProfile(door, leaveOpenAfterMs),
      fitProfile({ ...door, unseen }, leaveOpenAfterMs),
    ];
    expect(all?.seenMs).toBe(7 * dayMs);
    expect(some?.seenMs).toBe(7 * dayMs - 50 * hourMs);
    // 118 of 168 hours.
    expect(some?.profile.fitted?.days).toBe(4.92);
    const perHour = (fit: typeof all) => fit?.profile.openingsPerHour[0];
    expect(perHour(all)).toBeCloseTo(2 / 168, 5);
    expect(perHour(some)).toBeCloseTo(2 / 118, 5);
  });

  it('counts an opening of which too little was seen as neither brief nor a leave-open', () => {
    const openings = spans([60, 74], [500, 501], [900, 970], [1_300, 1_331]);
    const door = { start, lengthMs: dayMs, openings, unseen: spans([901, 970]) };
    const fit = fitProfile(door, leaveOpenAfterMs);
    expect(fit).toMatchObject({ openings: 4, unended: 1, unbegun: 0, unknown: 1 });
    expect(fit?.leaveOpen?.distribution).toEqual({
      kind: 'drawn',
      ms: [14 * minuteMs, 31 * minuteMs],
    });
    expect(fit?.profile.leaveOpen?.share).toBeCloseTo(2 / 3, 5);
    expect(fit?.profile.fitted).toMatchObject({ leaveOpens: 2, leaveOpensApart: 1 });
  });

  it('knows a leave-open by what it saw of it', () => {
    // The first began before the log, the last goes on beyond it.
    const openings = spansOf([
      [0, 12 * minuteMs],
      [100 * minuteMs, 101 * minuteMs],
      [500 * minuteMs, 530 * minuteMs],
      [dayMs - 15 * minuteMs, Number.POSITIVE_INFINITY],
    ]);
    const before = spans([-11, 0]);
    const fit = fitProfile({ start, lengthMs: dayMs, openings, unseen: before }, leaveOpenAfterMs);
    expect(fit).toMatchObject({ unbegun: 1, unended: 1, unknown: 0, seenMs: dayMs });
    expect(fit?.profile.leaveOpen).toEqual({
      share: 0.75,
      duration: { kind: 'drawn', ms: [30, 30, 30].map((minutes) => minutes * minuteMs) },
    });
    expect(fit?.profile.fitted?.leaveOpens).toBe(3);
  });

  it('is near to that of all of it, whatever hides every second day', () => {
    const store = builtInProfile('flower-store');
    if (store === null) throw new Error('there is a flower store');
    const lengthMs = 168 * dayMs;
    const all = generateDoor(store, { start, lengthMs }, '1');
    const pairs = all.map(({ fromMs, toMs }) => [fromMs, toMs] as const);
    // A day that is hidden begins at noon, within the hours of use.
    const isHidden = (ms: number): boolean => Math.floor((ms + dayMs / 2) / dayMs) % 2 === 1;
    const seen = pairs.filter(([fromMs, toMs]) => !isHidden(fromMs) && !isHidden(toMs));
    const unseen = Array.from({ length: 84 }, (_, index) => (4 * index + 1) * (dayMs / 2));
    const hidden = spansOf(unseen.map((fromMs) => [fromMs, fromMs + dayMs] as const));
    const of = (openings: typeof pairs, more = {}) => {
      const fit = fitProfile(
        { start, lengthMs, openings: spansOf(openings), ...more },
        leaveOpenAfterMs,
      );
      if (fit === null) throw new Error('a drawn door has openings');
      return openingsAYear(fit.profile);
    };
    const whole = of(pairs);
    expect(of(seen, { unseen: hidden }) / whole).toBeGreaterThan(0.9);
    expect(of(seen, { unseen: hidden }) / whole).toBeLessThan(1.1);
    expect(of(seen) / whole).toBeLessThan(0.7);
  });
});
