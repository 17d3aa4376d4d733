// Pictures as narrow as they come: nothing that tells two things apart is cut.
import { describe, expect, it } from 'vitest';
import { stateDiagram } from '../../src/chart/index.js';
import { type Figure, FigureRow } from '../../src/chart/page/figures.js';
import { markupOf } from '../../src/chart/page/in-page.js';
import { outlineOf } from '../../src/emit/index.js';
import { experimentOf } from '../support/experiments.js';
import { printed, takeApart } from './drawn.js';

describe('a state diagram', () => {
  it.each([560, 1_120])('of %i pixels says in full what each step does', (widthPx) => {
    const outline = outlineOf(experimentOf({ lengthMs: 1 }).program);
    const words = printed(takeApart(stateDiagram({ outline, file: 'hatch.yaml', widthPx })));
    const steps = outline.states.flatMap((state) => state.steps);
    expect(steps.length).toBeGreaterThan(8);
    for (const { then } of steps) expect(words).toContain(then);
  });
});

describe('a row of figures', () => {
  const figure = (name: string, value: string, alarm: Figure['alarm'] = null): Figure => ({
    name,
    value,
    alarm,
    late: false,
    share: 1,
  });
  const drawn = (widthPx: number) =>
    takeApart(
      markupOf(
        FigureRow({
          figures: [
            figure('reported, at 5 min open', '0 %', 'missed'),
            figure('sure from', '6 min 2 s'),
            figure('quiet up to', '6 min'),
            figure('best latency', '6 min 4 s'),
            figure('worst latency', '6 min 6 s'),
          ],
          widthPx,
        }),
      ),
    );

  it.each([496, 1_056])('%i pixels wide cuts no name, and has one size for all values', (width) => {
    const all = drawn(width);
    expect(printed(all)).toContain('reported, at 5 min open');
    const sizes = all.flatMap(({ attributes }) => attributes['font-size'] ?? []);
    expect(new Set(sizes).size).toBe(1);
  });
});
