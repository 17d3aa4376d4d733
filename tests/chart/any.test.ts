import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { timelineChart } from '../../src/chart/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { asked } from '../support/experiments.js';
import { chartCase, takeApart } from './drawn.js';

/** Numbers that are none, and values that are missing. */
const nonsense = /NaN|Infinity|undefined|null|\[object/u;

describe('any experiment', () => {
  it.each(scales.map((scale) => [scale.lengthMs, scale] as const))(
    'of up to %i ms draws a well-formed picture without nonsense in it',
    (_, scale) => {
      const within = fc.integer({ min: 1, max: scale.lengthMs });
      const drawn = fc.record({
        some: experiments(scale, 3),
        leaveOpenAfterMs: within,
        reportWithinMs: fc.option(within),
        epochMs: fc.integer({ min: 0, max: 4_000_000_000_000 }),
        timeZone: fc.constantFrom(
          'UTC',
          '-03:30',
          'Europe/Berlin',
          'America/Sao_Paulo',
          'Pacific/Apia',
        ),
        name: fc.string({ unit: 'binary' }),
        widthPx: fc.integer({ min: 300, max: 2_000 }),
        closeUps: fc.nat(8),
      });
      fc.assert(
        fc.property(drawn, ({ some, widthPx, closeUps, ...settings }) => {
          for (const experiment of some) {
            const given = chartCase(experiment, { ...settings, judge: asked(settings) });
            const plain = { ...given, timeline: { ...given.timeline, name: 'A door' } };
            const svg = timelineChart({ ...plain, options: { widthPx, closeUps } });
            expect(nonsense.exec(svg)).toBeNull();
            takeApart(svg);
          }
          const [first] = some;
          if (first !== undefined) takeApart(timelineChart(chartCase(first, settings)));
        }),
        { numRuns: 15 },
      );
    },
    120_000,
  );
});
