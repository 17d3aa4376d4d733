// The log itself over every phase of the checks, and the interval that follows from how its days differ.
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import { overPhases, weightedRate } from '../../src/estimate/index.js';
import { parseWatchFile } from '../../src/scenarios/index.js';
import { compileWatch } from '../../src/sim/index.js';
import { deviceTiming, spansOf } from '../../src/world/index.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

describe('the interval of a log over every phase', () => {
  it('is that of independent openings, also where the log ends in the middle of a day', () => {
    const file = parseWatchFile(
      'watch: { checkInterval: 1m }\njudge: { leaveOpenAfter: 5m }\n',
      'w',
    );
    if (!file.ok) throw new Error('the watch can be read');
    // 28 days from opening hour to closing hour: 27 d 11 h, with 28 days of shop hours. Every opening is a false alarm.
    const random = randomStream('shop');
    const pairs: [number, number][] = [];
    for (let day = 0; day < 28; day += 1) {
      for (let half = 0; half < 22; half += 1) {
        if (random.unit() < 0.5) continue;
        const atMs = day * dayMs + half * 0.5 * hourMs + Math.floor(random.unit() * 1_000_000);
        pairs.push([atMs, atMs + 130_000]);
      }
    }
    const { falseAlarms } = overPhases({
      program: compileWatch(file.value.watch),
      timing: deviceTiming({}, file.value.timing),
      judge: file.value.judge,
      openings: spansOf(pairs),
      lengthMs: 27 * dayMs + 11 * hourMs,
      phases: 8,
      periodMs: 60_400,
    });
    expect(falseAlarms.sum).toBeCloseTo(pairs.length, 6);
    // Binomial counts of 22 halves a day: their variance is 22 / 4 a day, 154 over 28 days; so few days show it to a half.
    expect(falseAlarms.variance).toBeGreaterThan(154 / 2);
    expect(falseAlarms.variance).toBeLessThan(154 * 2);
    const { low, high } = weightedRate(falseAlarms, 1, 0.95);
    expect(high - low).toBeGreaterThan(30);
  });
});
