// JIS C 9801:2006, the energy test of household refrigerators: 35 openings a day of the refrigerator's door and 8 of
// the freezer's. That each lasts 10 s, one every 12 and one every 40 minutes, is from memory.
import { describe, expect, it } from 'vitest';
import { range } from '../support/range.js';
import { phases, sweep } from './sweep.js';

const minuteMs = 60_000;
const openForMs = 10_000;
const checkPeriodMs = 180_400;
/** A part of an opening that is small enough for every way in which checks can meet it. */
const stepMs = 20;

const doors = [
  { door: 'refrigerator', openingsADay: 35, everyMs: 12 * minuteMs },
  { door: 'freezer', openingsADay: 8, everyMs: 40 * minuteMs },
];

describe('the door schedule of an energy test', () => {
  it.each(doors)(
    'of the $door ($openingsADay a day) raises no alert with 3-minute checks and two open ones, whatever the phase',
    ({ openingsADay, everyMs }) => {
      const openings = range(0, openingsADay).map((index) => {
        const fromMs = checkPeriodMs + index * everyMs;
        return [fromMs, fromMs + openForMs] as const;
      });
      const lengthMs = 86_400_000;
      let runs = 0;
      let seen = 0;
      let alerts = 0;
      for (const trace of sweep({ openings, lengthMs, phasesMs: phases(checkPeriodMs, stepMs) })) {
        runs += 1;
        alerts += trace.alerts.length;
        if (trace.tally.openChecks > 0) seen += 1;
      }
      expect(runs).toBe(checkPeriodMs / stepMs);
      expect(alerts).toBe(0);
      // The watch was not blind: most phases do see some opening.
      expect(seen).toBeGreaterThan(runs / 4);
    },
  );
});
