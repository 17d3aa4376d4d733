// What no certificate is written of.
import { describe, expect, it } from 'vitest';
import { agree } from '../../src/bounds/certificate/certificate.js';
import { beyondCertificates, questionOf } from '../../src/bounds/index.js';
import { watchFileOf } from '../support/watch-question.js';

const bounds = {
  alwaysReportedFromMs: { atRest: 11, anyState: 12 },
  alwaysDecidedFromMs: { atRest: 13, anyState: 14 },
  worstDelayMs: { atRest: 15, anyState: 16 },
  neverAlarmedUpToMs: 17,
  bestDelayMs: 18,
};

describe('a proof and a search', () => {
  it('agree where every bound is the same', () => {
    expect(agree(structuredClone(bounds), bounds)).toBe(true);
    const atRestOnly = { ...bounds, worstDelayMs: { atRest: 15, anyState: null } };
    expect(agree(structuredClone(atRestOnly), atRestOnly)).toBe(true);
  });

  it('do not where one is another, or none', () => {
    for (const [key, bound] of Object.entries(bounds)) {
      const others =
        typeof bound === 'number'
          ? [bound + 1]
          : [
              { ...bound, atRest: bound.atRest + 1 },
              { ...bound, anyState: bound.anyState + 1 },
              { ...bound, anyState: null },
            ];
      for (const other of others) expect(agree({ ...bounds, [key]: other }, bounds)).toBe(false);
    }
  });
});

describe('low-battery messages that are too close together', () => {
  const why = (outage: string): string | null =>
    beyondCertificates(
      questionOf(
        watchFileOf(
          `watch: { lowBattery: { at: 20%, repeat: 1h } }\nsupply: { capacity: 500mAh, sleepCurrent: 10uA }\nenvironment: { longestOutage: ${outage} }\n`,
        ),
      ),
    );

  it('come with an interval that is long enough', () => {
    expect(why('0s')).toMatch(/to one opening: it can with a longer .*, such as \d+h$/u);
  });

  it('come without where none is', () => {
    expect(why('30d')).toMatch(/to one opening$/u);
  });
});
