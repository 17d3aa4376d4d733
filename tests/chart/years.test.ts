// Pictures of years: where their axes begin, and what a crowd of messages looks like.
import { describe, expect, it } from 'vitest';
import { binsOf } from '../../src/chart/estimate-chart.js';
import { type YearInput, yearChart } from '../../src/chart/index.js';
import { spansOf } from '../../src/world/index.js';
import { dayMs, ofClass, printed, takeApart } from './drawn.js';

describe('the bins of an estimate', () => {
  it('begin at 0 where some years had few, and beside the years where all had many', () => {
    expect(
      binsOf(
        new Map([
          [0, 3],
          [7, 1],
        ]),
      )[0]?.from,
    ).toBe(0);
    const far = binsOf(
      new Map([
        [640, 1],
        [724, 8],
        [800, 1],
      ]),
    );
    expect(far[0]?.from).toBeGreaterThan(600);
    expect(far[0]?.from).toBeLessThanOrEqual(640);
    expect(far.length).toBeLessThanOrEqual(48);
  });

  it('lose no year, wherever they begin', () => {
    for (const least of [0, 1, 5, 40, 399, 640, 99_999]) {
      for (const spread of [0, 1, 17, 300]) {
        const years = new Map([
          [least, 2],
          [least + spread, 3],
        ]);
        const bins = binsOf(years);
        const held = bins.reduce((sum, bin) => sum + bin.years, 0);
        expect(held).toBe([...years.values()].reduce((sum, many) => sum + many, 0));
        expect(bins[0]?.from ?? -1).toBeGreaterThanOrEqual(0);
        expect(bins.length).toBeLessThanOrEqual(48);
      }
    }
  });
});

const year: YearInput = {
  name: 'hatch.yaml',
  subtitle: 'goose-house',
  note: { words: 'A year.', standing: 'good' },
  figures: [],
  strip: 'Day by day',
  months: [{ atMs: 0, label: 'May' }],
  lengthMs: 365 * dayMs,
  charge: null,
  openings: spansOf([]),
  leaveOpens: [],
  alerts: [],
  lowBatteryMs: [],
  charges: [],
  charged: 'charged',
  networkDown: spansOf([]),
  flat: [],
};

/** On each of the first days `perDay` false alarms. */
function falseAlarms(days: number, perDay: number): YearInput['alerts'] {
  return Array.from({ length: days * perDay }, (_, index) => ({
    atMs: Math.floor(index / perDay) * dayMs + index,
    kind: 'false' as const,
  }));
}

describe('the picture of a year', () => {
  it('marks each message where they are few', () => {
    const all = takeApart(yearChart({ ...year, alerts: falseAlarms(9, 1) }));
    expect(ofClass(all, 'm-false')).toHaveLength(9 + 1);
    expect(printed(all)).toContain('messages');
  });

  it('counts false alarms by day where their marks would hide each other', () => {
    const all = takeApart(yearChart({ ...year, alerts: falseAlarms(300, 5) }));
    expect(ofClass(all, 'm-false')).toHaveLength(0);
    expect(printed(all)).toContain('false alarms');
    expect(printed(all)).toContain('up to 5 a day');
  });
});
