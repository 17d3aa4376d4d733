import { describe, expect, it } from 'vitest';
import { asked, experimentOf, type WorldNumbers } from '../support/experiments.js';
import {
  chartCase,
  dayMs,
  draw,
  hourMs,
  marks,
  minuteMs,
  ofClass,
  printed,
  titleOf,
} from './drawn.js';

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
    expect(printed(all)).toContain('missed 5 min 58 s');
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

  it('knows days that begin at 01:00, where clocks are changed at midnight', () => {
    // From Saturday 3 November 2018 in São Paulo; the next day has no midnight.
    const given = chartCase(experimentOf({ lengthMs: 3 * dayMs - hourMs }), {
      epochMs: 1_541_214_000_000,
      timeZone: 'America/Sao_Paulo',
    });
    const all = draw(given);
    expect(printed(all)).toContain('23 h');
    const holes = ofClass(all, 'void').filter((element) => titleOf(element) !== undefined);
    expect(holes.map(titleOf)).toEqual(['no such time: the clocks go forward']);
    expect(holes[0]?.attributes['x']).toBe('0');
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
      'Not shown close up: the slowest report, 8 reported leave-opens.',
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

  it('call the slowest one late when it was', () => {
    const given = chartCase(
      experimentOf({
        lengthMs: 3 * dayMs,
        openings: left.slice(0, 1),
        networkDown: [[9 * hourMs, 9.2 * hourMs]],
      }),
      { judge: asked({ leaveOpenAfterMs: minuteMs, reportWithinMs: 10 * minuteMs }) },
    );
    expect(printed(draw(given))).toContain('Reported late, the slowest');
  });

  it('say why, and with which note', () => {
    const given = chartCase(experimentOf({ lengthMs: 7 * dayMs, openings: left.slice(0, 2) }), {
      notes: [[1, 'wedged for the trolleys']],
    });
    const words = printed(
      draw(given, {
        explanations: [
          {
            subject: { kind: 'opening', index: 1 },
            sentence: 'the hatch was iced',
            cause: 'ice',
            checksMs: [],
          },
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
