// What no certificate is written of.
import { describe, expect, it } from 'vitest';
import { agree, isWhole } from '../../src/bounds/certificate/certificate.js';
import { beyondCertificates, questionOf, smallerProof } from '../../src/bounds/index.js';
import { watchFileOf } from '../support/watch-question.js';
import { drained } from '../verify/places.js';

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

describe('a proof of all bounds', () => {
  const without = Object.entries(bounds).flatMap(([key, bound]) =>
    typeof bound === 'number'
      ? [{ from: 'atRest', some: { ...bounds, [key]: null } }]
      : (['atRest', 'anyState'] as const).map((from) => ({
          from,
          some: { ...bounds, [key]: { ...bound, [from]: null } },
        })),
  );

  it('has each of them', () => {
    expect([isWhole(bounds, true), isWhole(bounds, false)]).toEqual([true, true]);
    for (const { some } of without) expect(isWhole(some, true)).toBe(false);
  });

  it('needs none from any state where nothing is proved from there', () => {
    for (const { from, some } of without) expect(isWhole(some, false)).toBe(from === 'anyState');
  });
});

describe('a smaller proof', () => {
  const changes = (threshold: string): readonly string[] | undefined => {
    const text = `watch: { escalationThreshold: ${threshold}, clearThreshold: 3 }\n`;
    return drained(smallerProof(questionOf(watchFileOf(text)), 300))?.changes;
  };

  it('asks for two open checks in place of more', () => {
    expect(changes('{ open: 3, outOf: 4 }')).toEqual(['set escalationThreshold: 2']);
  });

  it('asks for no more open checks than the watch does', () => {
    expect(changes('{ open: 1, outOf: 8 }')).toBeUndefined();
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
