import { describe, expect, it } from 'vitest';
import { calendarOf, stampText, wallAt } from '../../src/chart/calendar.js';
import { partsOf, pointOf, rowsOf } from '../../src/chart/overview/rows.js';
import { cutText, printable, textWidth, wrapText } from '../../src/chart/text.js';
import { type Theme, themes } from '../../src/chart/theme.js';
import { ticksOf } from '../../src/chart/ticks.js';
import { wordRow } from '../../src/chart/word-row.js';
import { dayMs, hourMs, mondayMs } from './drawn.js';

const berlin = { epochMs: mondayMs, timeZone: 'Europe/Berlin' };

describe('local days', () => {
  it('have 24 hours, but 23 and 25 when the clocks change', () => {
    // From 1 January 2026, 00:00 in Berlin.
    const { days } = calendarOf(
      { epochMs: 1_767_222_000_000, timeZone: 'Europe/Berlin' },
      365 * dayMs,
    );
    const odd = days.filter(({ fromMs, toMs }) => toMs - fromMs !== dayMs);
    expect(days).toHaveLength(365);
    expect(
      odd.map(({ month, dayOfMonth, weekday, fromMs, toMs }) => [
        month,
        dayOfMonth,
        weekday,
        (toMs - fromMs) / hourMs,
      ]),
    ).toEqual([
      [3, 29, 6, 23],
      [10, 25, 6, 25],
    ]);
  });

  it('find the very instant of a change, also by half an hour', () => {
    // Lord Howe Island: at 02:00 on 5 April 2026 the clocks go back by 30 minutes. From 4 April, 13:00 UTC.
    const start = { epochMs: 1_775_307_600_000, timeZone: 'Australia/Lord_Howe' };
    const calendar = calendarOf(start, dayMs + hourMs / 2);
    const [day] = calendar.days;
    expect(calendar.days).toHaveLength(1);
    expect(day?.pieces.map(({ offset }) => offset)).toEqual(['+11:00', '+10:30']);
    expect(day?.pieces[1]?.fromMs).toBe(2 * hourMs);
    expect(wallAt(calendar, 2 * hourMs).wallMs).toBe(1.5 * hourMs);
    expect(calendar.zoneText).toBe('Australia/Lord_Howe, UTC+11:00 and UTC+10:30');
  });

  it('name a fixed offset once', () => {
    const { zoneText } = calendarOf({ epochMs: mondayMs, timeZone: '-03:30' }, dayMs);
    expect(zoneText).toBe('UTC−03:30');
  });

  it('read a stamp to the millisecond when asked', () => {
    const calendar = calendarOf(berlin, dayMs);
    expect(stampText(calendar, 27_045_250)).toBe('Mon 4 May 07:30:45');
    expect(stampText(calendar, 27_045_250, 'millisecond')).toBe('Mon 4 May 07:30:45.250');
  });

  it('cover every instant of a timeline once', () => {
    const calendar = calendarOf(
      { epochMs: 1_774_652_400_000, timeZone: 'Europe/Berlin' },
      40 * dayMs,
    );
    const rows = rowsOf(calendar);
    const parts = partsOf(rows, { fromMs: 0, toMs: 40 * dayMs });
    const total = parts.reduce((sum, { from, to }) => sum + (to - from) * rows.acrossMs, 0);
    expect(total).toBeCloseTo(40 * dayMs, 0);
    for (const { from, to } of parts) {
      expect(from).toBeGreaterThanOrEqual(0);
      expect(to).toBeLessThanOrEqual(1 + 1e-9);
    }
  });

  it('stand a week a row when there are many of them', () => {
    const rows = rowsOf(calendarOf(berlin, 70 * dayMs));
    expect(rows.unit).toBe('week');
    expect(rows.rows).toHaveLength(10);
    expect(pointOf(rows, 8 * dayMs + 12 * hourMs)).toMatchObject({ row: 1, from: 1.5 / 7 });
  });
});

describe('ticks', () => {
  const calendar = calendarOf(berlin, 3 * dayMs);

  it('stand at round local times', () => {
    const ticks = ticksOf(calendar, { fromMs: 3_700_000, toMs: 7_300_000, widthPx: 400 });
    expect(ticks.map(({ label }) => label)).toEqual([
      '01:10',
      '01:20',
      '01:30',
      '01:40',
      '01:50',
      '02:00',
    ]);
  });

  it('name the day at midnight', () => {
    const ticks = ticksOf(calendar, { fromMs: 0, toMs: 3 * dayMs, widthPx: 600 });
    expect(ticks.filter(({ startsDay }) => startsDay).map(({ label }) => label)).toEqual([
      'Mon 4 May',
      'Tue 5 May',
      'Wed 6 May',
    ]);
  });

  it('go down to milliseconds', () => {
    const [, tick] = ticksOf(calendar, { fromMs: 0, toMs: 5, widthPx: 900 });
    expect(tick?.label).toBe('00:00:00.001');
  });

  it('stay round after the clocks have changed', () => {
    const spring = calendarOf(
      { epochMs: 1_774_738_800_000, timeZone: 'Europe/Berlin' },
      23 * hourMs,
    );
    const ticks = ticksOf(spring, { fromMs: 0, toMs: 23 * hourMs, widthPx: 500 });
    expect(ticks.map(({ label }) => label)).toEqual([
      'Sun 29 Mar',
      '03:00',
      '06:00',
      '09:00',
      '12:00',
      '15:00',
      '18:00',
      '21:00',
    ]);
  });
});

describe('text', () => {
  it('is made printable: one line, nothing that XML forbids', () => {
    expect(printable('  a\n\tb\u0001c\ud800d\ufffee ')).toBe('a b\ufffdc\ufffdd\ufffde');
    expect(printable('Gänsehaus 🪿 北')).toBe('Gänsehaus 🪿 北');
  });

  it('is cut only where there is no room, and never inside a character', () => {
    const font = { sizePx: 11 };
    expect(cutText('short', 100, font)).toBe('short');
    const cut = cutText('🪿🪿🪿🪿🪿🪿🪿🪿', 50, font);
    expect(cut).toMatch(/^🪿+…$/u);
    expect(textWidth(cut, font)).toBeLessThanOrEqual(50);
  });

  it('is wrapped at spaces, into as many lines as there may be', () => {
    const set = { font: { sizePx: 10 }, mostLines: 2 };
    const [first, second, ...more] = wrapText(
      'one two three four five six seven eight nine',
      90,
      set,
    );
    expect(more).toEqual([]);
    expect(first).toBe('one two three four');
    expect(second?.endsWith('…')).toBe(true);
    expect(wrapText('', 90, set)).toEqual([]);
    expect(wrapText('x'.repeat(99), 90, set)).toHaveLength(1);
  });

  it('is placed where there is room, or not at all', () => {
    const row = wordRow(0, 100);
    row.block(0, 20);
    expect(row.place([10, 30], 40)).toBe(30);
    expect(row.place([35, 5], 20)).toBeNull();
    expect(row.place([90, 76], 20)).toBe(76);
  });
});

/** Relative luminance and contrast as WCAG 2.2 defines them (from memory). */
function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

// The theme of pages names these two by variables.
const drawn = Object.entries(themes).filter(([name]) => name !== 'page');

describe.each(drawn)('the %s theme', (_, theme: Theme) => {
  it('prints text at a contrast of 4.5 or more', () => {
    const { paper, panel, ink, soft, missed, falseAlarm, late, early, reported, known } = theme;
    for (const text of [
      ink,
      soft,
      missed,
      falseAlarm,
      late,
      early,
      reported,
      known,
      theme.network,
      theme.power,
    ]) {
      expect(contrast(text, paper)).toBeGreaterThanOrEqual(4.5);
    }
    expect(contrast(ink, panel)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(known, theme.knownTint)).toBeGreaterThanOrEqual(4.5);
    for (const badge of [missed, falseAlarm, ink]) {
      expect(contrast(theme.onBadge, badge)).toBeGreaterThanOrEqual(4.5);
    }
  });

  it('draws marks at a contrast of 3 or more, on paper and in a lane', () => {
    const { brief, reported, late, undecided, missed, falseAlarm, early, known, cooldown } = theme;
    for (const mark of [
      brief,
      reported,
      late,
      undecided,
      missed,
      falseAlarm,
      early,
      known,
      cooldown,
      theme.network,
      theme.power,
    ]) {
      expect(contrast(mark, theme.paper)).toBeGreaterThanOrEqual(3);
      expect(contrast(mark, theme.panel)).toBeGreaterThanOrEqual(3);
    }
    expect(contrast(known, theme.knownTint)).toBeGreaterThanOrEqual(3);
  });
});
