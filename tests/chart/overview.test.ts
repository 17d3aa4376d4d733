import { describe, expect, it } from 'vitest';
import { timelineChart } from '../../src/chart/index.js';
import { textWidth } from '../../src/chart/text.js';
import { asked, experimentOf, type WorldNumbers } from '../support/experiments.js';
import {
  chartCase,
  type DrawnElement,
  dayMs,
  draw,
  hourMs,
  marks,
  minuteMs,
  ofClass,
  printed,
  takeApart,
  titleOf,
} from './drawn.js';
import { usage } from './weeks.js';

/** 1 January 2026, 00:00 in Berlin. */
const newYearMs = 1_767_222_000_000;

/** A door left open just too briefly to be found, and two brief openings on checks in a row, once each. */
function oneMissedOneFalse(days: number): WorldNumbers {
  const period = 180_400;
  const check = Math.floor(dayMs / 2 / period) * period + 400;
  return {
    lengthMs: days * dayMs,
    openings: [
      [check + 1_000, check + 2 * period - 1_000],
      [check + 20 * period - 20_000, check + 20 * period + 20_000],
      [check + 21 * period - 20_000, check + 21 * period + 20_000],
    ],
  };
}

describe('the overview', () => {
  it.each([
    [7, 7],
    [31, 31],
    [62, 62],
    [63, 10],
    [365, 53],
  ])('shows %i days in %i rows, and in each length every missed and false alarm', (days, rows) => {
    const given = chartCase(experimentOf(oneMissedOneFalse(days)), { epochMs: newYearMs });
    expect(given.verdict.summary).toMatchObject({ missed: 1, falseAlarms: 1 });
    const all = draw(given);
    const bands = ofClass(all, 'panel').filter((element) => titleOf(element) !== undefined);
    expect(bands).toHaveLength(rows);
    const firstClose = all.findIndex(({ text }) => text === 'Missed');
    const above = all.slice(0, firstClose);
    expect(marks(above, 'm-missed')).toHaveLength(1);
    expect(marks(above, 'm-false')).toHaveLength(1);
    expect(marks(above, 'missed')).toHaveLength(1);
  });

  it('shows a day, too, with its missed and false alarms', () => {
    const all = draw(chartCase(experimentOf(oneMissedOneFalse(1)), { epochMs: newYearMs }));
    expect(printed(all)).toContain('missed 5 min 59 s');
    expect(marks(all, 'm-missed').length).toBeGreaterThan(1);
    expect(marks(all, 'm-false').length).toBeGreaterThan(1);
  });

  it('places an opening by the clock on the wall', () => {
    const experiment = experimentOf({
      lengthMs: 7 * dayMs,
      openings: [[2 * dayMs + 6 * hourMs, 2 * dayMs + 12 * hourMs]],
    });
    const [bar] = marks(draw(chartCase(experiment)), 'reported');
    const plotPx = 1_120 - 64 - 78 - 88;
    const rowPx = 44;
    const box = `M${plotPx / 4} ${2 * rowPx + 20}h${plotPx / 4}v15h${-plotPx / 4}Z`;
    expect(bar?.attributes['d']).toBe(box);
  });

  it('cuts an opening that lasts past midnight', () => {
    const experiment = experimentOf({
      lengthMs: 7 * dayMs,
      openings: [[dayMs - hourMs, dayMs + hourMs]],
    });
    const [bar] = marks(draw(chartCase(experiment)), 'reported');
    expect(bar?.attributes['d']?.match(/M/gu)).toHaveLength(2);
  });

  it('leaves out the hour that the clocks skip, and calls the day one of 23 hours', () => {
    // From Saturday 28 March 2026; the clocks of Berlin go forward on the 29th.
    const given = chartCase(experimentOf({ lengthMs: 3 * dayMs - hourMs }), {
      epochMs: 1_774_652_400_000,
    });
    const all = draw(given);
    expect(ofClass(all, 'void').map(titleOf)).toContain('no such time: the clocks go forward');
    expect(printed(all)).toContain('23 h');
    const names = printed(all).filter((words) => /^(Sat|Sun|Mon)/u.test(words));
    expect(names.slice(1, 4)).toEqual(['Sat 28 Mar', 'Sun 29', 'Mon 30']);
  });

  it('shows the hour that comes twice in two halves, one above the other', () => {
    // From Saturday 24 October 2026; at 03:00 on the 25th the clocks of Berlin go back to 02:00.
    const backMs = dayMs + 3 * hourMs;
    const given = chartCase(
      experimentOf({
        lengthMs: 3 * dayMs + hourMs,
        openings: [[backMs - 30 * minuteMs, backMs + 30 * minuteMs]],
      }),
      { epochMs: 1_792_792_800_000 },
    );
    const all = draw(given);
    expect(printed(all)).toContain('25 h');
    const d = marks(all, 'reported')[0]?.attributes['d'] ?? '';
    const plotPx = 1_120 - 64 - 78 - 88;
    const boxes = [...d.matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)/gu)].map((found) =>
      found.slice(1).map(Number),
    );
    const [first = [], second = []] = boxes;
    // 02:30 to 03:00 above, then 02:00 to 02:30 below.
    expect(first[0]).toBeCloseTo((2.5 / 24) * plotPx, 1);
    expect(second[0]).toBeCloseTo((2 / 24) * plotPx, 1);
    expect(first[1]).toBe(64);
    expect(second[1]).toBe(71.5);
    expect(first[3]).toBe(7.5);
  });

  it('tells the two passes of that hour apart in words', () => {
    const given = chartCase(
      experimentOf({ lengthMs: 3 * dayMs, openings: [[26.5 * hourMs, 27.5 * hourMs]] }),
      { epochMs: 1_792_792_800_000 },
    );
    const titles = marks(draw(given), 'reported').map(titleOf);
    expect(titles[0]).toContain(
      'Sun 25 Oct 02:30:00 (UTC+02:00) to Sun 25 Oct 02:30:00 (UTC+01:00), 1 h',
    );
  });

  it('marks what lies outside a timeline that starts at noon', () => {
    const given = chartCase(experimentOf({ lengthMs: 3 * dayMs }), {
      epochMs: 1_777_845_600_000 + dayMs / 2,
    });
    const holes = ofClass(draw(given), 'void').filter((element) => titleOf(element) !== undefined);
    expect(holes).toHaveLength(2);
  });
});

describe('close-ups', () => {
  const left = Array.from(
    { length: 9 },
    (_, day) => [day * dayMs + 9 * hourMs, day * dayMs + 9.4 * hourMs] as const,
  );

  it('are six at most, and the rest is counted in words', () => {
    const given = chartCase(experimentOf({ lengthMs: 9 * dayMs, openings: left }), {
      judge: asked({ leaveOpenAfterMs: minuteMs }),
    });
    const words = printed(draw(given));
    expect(words.filter((text) => text === 'Reported')).toHaveLength(5);
    expect(words.filter((text) => text === 'Reported, the slowest')).toHaveLength(1);
    expect(words).toContain('Not shown close up: 3 reported leave-opens.');
  });

  it('are as many as asked for', () => {
    const given = chartCase(experimentOf({ lengthMs: 9 * dayMs, openings: left }), {
      judge: asked({ leaveOpenAfterMs: minuteMs }),
    });
    expect(printed(draw(given, { closeUps: 0 }))).toContain(
      'Not shown close up: 1 slowest report, 8 reported leave-opens.',
    );
    const all = printed(draw(given, { closeUps: 20 }));
    expect(all.filter((text) => text.startsWith('Not shown'))).toEqual([]);
  });

  it('prefer what went wrong', () => {
    const wrong = oneMissedOneFalse(1).openings ?? [];
    const later = left.slice(1);
    const given = chartCase(experimentOf({ lengthMs: 9 * dayMs, openings: [...wrong, ...later] }));
    const words = printed(draw(given, { closeUps: 2 }));
    expect(given.verdict.summary).toMatchObject({ missed: 1, falseAlarms: 1 });
    expect(words).toContain('Missed');
    expect(words).toContain('False alarm');
    expect(words.filter((text) => text.startsWith('Reported'))).toEqual([]);
  });

  it('say why, and with which note', () => {
    const given = chartCase(experimentOf({ lengthMs: 7 * dayMs, openings: left.slice(0, 2) }), {
      notes: [[1, 'wedged for the trolleys']],
    });
    const words = printed(
      draw(given, {
        explanations: [
          { subject: { kind: 'opening', index: 1 }, sentence: 'the hatch was iced', checksMs: [] },
        ],
      }),
    );
    expect(words).toContain('“wedged for the trolleys” The hatch was iced.');
  });

  it('cut a long story and say how much of it is left', () => {
    const given = chartCase(experimentOf({ lengthMs: 7 * dayMs, openings: [[0, 5 * dayMs]] }));
    expect(printed(draw(given)).some((words) => /^(4 d|5 d)( \d+ h)? more ›$/u.test(words))).toBe(
      true,
    );
  });
});

interface Box {
  readonly words: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly foot: number;
}

/** About where the words of an element are printed. */
function boxOf({ attributes, originX, originY, text, classes }: DrawnElement): Box {
  const sizePx = Number(attributes['font-size'] ?? 11);
  const width = textWidth(text, { sizePx, bold: classes.includes('dw-bold') }) * 0.95;
  const anchor = attributes['text-anchor'];
  const x = originX + Number(attributes['x']);
  const y = originY + Number(attributes['y']);
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  // Digits and lower-case letters: the ascenders of neighbours may come close.
  return { words: text, left, right: left + width, top: y - sizePx * 0.7, foot: y };
}

function overlaps(all: readonly DrawnElement[]): string[] {
  const boxes = all.filter(({ name }) => name === 'text').map(boxOf);
  return boxes.flatMap((one, index) =>
    boxes
      .slice(index + 1)
      .filter(
        (other) =>
          one.left < other.right &&
          other.left < one.right &&
          one.top < other.foot &&
          other.top < one.foot,
      )
      .map((other) => `${one.words} | ${other.words}`),
  );
}

describe('words in a picture', () => {
  it.each([
    [1 / 24, 3],
    [1, 20],
    [2, 20],
    [7, 14],
    [12, 12],
    [31, 12],
    [90, 12],
    [365, 20],
  ])('never touch each other in %d days of %i openings a day', (days, perDay) => {
    const openings = usage(Math.ceil(days), {
      seed: `words ${days}`,
      perDay,
      leaveShare: 0.15,
    }).map(([from, to]) =>
      days < 1 ? ([from - 6 * hourMs, to - 6 * hourMs] as const) : ([from, to] as const),
    );
    const lengthMs = Math.round(days * dayMs);
    const given = chartCase(
      experimentOf({
        lengthMs,
        openings,
        networkDown: [
          [lengthMs * 0.3, lengthMs * 0.34],
          [lengthMs * 0.341, lengthMs * 0.35],
        ].map(([from = 0, to = 0]) => [Math.round(from), Math.round(to)] as const),
        powerLost: [[Math.round(lengthMs * 0.351), Math.round(lengthMs * 0.353)]],
        resetsMs: [Math.round(lengthMs * 0.354), Math.round(lengthMs * 0.355)],
      }),
    );
    for (const widthPx of [560, 1_120, 1_900])
      expect(overlaps(draw(given, { widthPx }))).toEqual([]);
  });
});

describe('the size of a picture', () => {
  it('is far under 300 KB for a busy week', () => {
    const openings = usage(7, { seed: 'size', perDay: 60, leaveShare: 0.1 });
    const svg = timelineChart(chartCase(experimentOf({ lengthMs: 7 * dayMs, openings })));
    expect(svg.length).toBeLessThan(250_000);
  });

  it('is under 1.5 MB for a year of 20,000 openings and more than a thousand alerts', () => {
    const openings = usage(365, { seed: 'size', perDay: 55, leaveShare: 0.06 });
    const given = chartCase(experimentOf({ lengthMs: 365 * dayMs, openings }));
    expect(given.verdict.summary.alerts).toBeGreaterThan(1_000);
    const svg = timelineChart(given);
    expect(svg.length).toBeLessThan(1_500_000);
    expect(takeApart(svg).length).toBeLessThan(20_000);
  });
});
