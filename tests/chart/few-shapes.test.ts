// A live strip of few elements against the strip that a picture shows.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { stripFacts } from '../../src/chart/facts/strip-facts.js';
import { markupOf, sceneOf } from '../../src/chart/index.js';
import { withFewShapes } from '../../src/chart/live/few-shapes.js';
import { lanesFor } from '../../src/chart/strip/lanes.js';
import { Strip } from '../../src/chart/strip/strip.js';
import { experimentOf } from '../support/experiments.js';
import { chartCase, type DrawnElement, dayMs, hourMs, printed, takeApart } from './drawn.js';
import { usage } from './weeks.js';

const week = sceneOf(
  chartCase(
    experimentOf(
      {
        lengthMs: 7 * dayMs,
        openings: usage(7, { seed: 'few', perDay: 20, leaveShare: 0.3 }),
        networkDown: [[20 * hourMs, 30 * hourMs]],
        powerLost: [[60 * hourMs, 61 * hourMs]],
        resetsMs: [100 * hourMs],
      },
      { watch: { checkIntervalMs: deviceMs(15_000), recheckIntervalMs: deviceMs(15_000) } },
    ),
  ),
  [],
);

function stripOf(few: boolean): readonly DrawnElement[] {
  const window = { fromMs: 0, toMs: week.lengthMs };
  const facts = stripFacts(week, window, week.lengthMs / 1_800);
  const common = { facts, lanes: lanesFor([facts]), widthPx: 962, closeUp: null, numbered: [] };
  const strip = Strip({ scene: week, ...common });
  return takeApart(markupOf(few ? withFewShapes(strip) : strip));
}

/** How many separate figures there are of each kind: paths begin with a move, and a bar is one. */
function figures(all: readonly DrawnElement[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const { name, attributes } of all) {
    const count = name === 'rect' ? 1 : (attributes['d']?.split('M').length ?? 1) - 1;
    const kind = attributes['class'] ?? '';
    if (count > 0) counts[kind] = (counts[kind] ?? 0) + count;
  }
  return counts;
}

describe('a live strip', () => {
  it('shows every mark and every word of a picture, with a fraction of its elements', () => {
    const whole = stripOf(false);
    const few = stripOf(true);
    expect(figures(few)).toEqual(figures(whole));
    expect(printed(few).toSorted()).toEqual(printed(whole).toSorted());
    expect(whole.length).toBeGreaterThan(1_000);
    expect(few.length).toBeLessThan(100);
  });
});
