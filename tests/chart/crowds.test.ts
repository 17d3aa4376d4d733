// Pictures of very much: their words keep apart, and they stay small.
import { describe, expect, it } from 'vitest';
import { sceneOf, timelineChart } from '../../src/chart/index.js';
import { geometryOf } from '../../src/chart/overview/geometry.js';
import { marksOf } from '../../src/chart/overview/mark-list.js';
import { rowsOf } from '../../src/chart/overview/rows.js';
import { textWidth } from '../../src/chart/text.js';
import { experimentOf } from '../support/experiments.js';
import { chartCase, type DrawnElement, dayMs, draw, hourMs, takeApart } from './drawn.js';
import { usage } from './weeks.js';

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

describe('a row with very many alarms', () => {
  it('does not become a solid block: marks of one kind cover less than half of any row', () => {
    // Brief openings, each long enough for an alert, every 15 minutes over 60 days: rows are weeks.
    const openings = Array.from({ length: 60 * 96 }, (_, index) => {
      const fromMs = index * 900_000 + 60_000;
      return [fromMs, fromMs + 280_000] as const;
    });
    const given = chartCase(experimentOf({ lengthMs: 60 * dayMs, openings }));
    expect(given.verdict.summary.falseAlarms).toBeGreaterThan(1_000);
    const widthPx = 1_120;
    const scene = sceneOf(given, []);
    const geometry = geometryOf(rowsOf(scene.calendar), widthPx);
    const covered = rowsOf(scene.calendar).rows.map(() => ({ marks: 0, px: 0 }));
    for (const { row, r } of marksOf(scene, geometry, [])) {
      const one = covered[row];
      if (one !== undefined) covered[row] = { marks: one.marks + 1, px: one.px + 2 * r };
    }
    for (const { marks, px } of covered) {
      expect(px).toBeLessThan(Math.max(geometry.plotPx / 2, marks * 3));
    }
  });
});
