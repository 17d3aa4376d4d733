// The chance that heartbeats do not arrive: closed forms for one and two of them, and a plain count of simulated spells.
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import { type BeatsAsked, beatsMissed } from '../../src/silence/heartbeats.js';
import { type Priors, usualPriors } from '../../src/silence/index.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
const yearMs = 365 * dayMs;

const priors: Priors = {
  ...usualPriors,
  lostShare: 0.1,
  outagesPerYear: 20,
  spellMs: 5 * dayMs,
};
const nothingHeard = { arrivedMs: [], heardMs: 0 };

const last = (list: Float64Array): number => list.at(-1) ?? Number.NaN;

describe('heartbeats that are missing', () => {
  it('are each lost on its own where the network has no outages', () => {
    const asked = { ...nothingHeard, missingMs: [dayMs, 2 * dayMs, 3 * dayMs] };
    for (const found of [
      beatsMissed(asked, priors, 0),
      // It keeps alerts away as well: that is no device which works.
      beatsMissed(asked, priors, dayMs),
      beatsMissed(asked, { ...priors, outagesPerYear: 0 }, hourMs),
    ]) {
      expect([...found.all]).toEqual([1, 0.1, expect.closeTo(0.01, 12), expect.closeTo(0.001, 12)]);
      expect(found.unmet).toEqual(found.all);
    }
  });

  // By hand: a spell is on for the share w = 5 / (5 + 365/20) of the time, an hour is hit by 3 h of 24, and from one day to the next
  // a spell goes on with w + (1 − w) e^−d, d = 20/365 + 1/5 (a chain of two states).
  it('follow from the share of spells, the hour, and how long a spell goes on', () => {
    const w = 5 / (5 + 365 / 20);
    const hit = 3 / 24;
    const stays = w + (1 - w) * Math.exp(-(20 / 365 + 1 / 5));
    const p = 0.1;
    const missingMs = [30 * hourMs, 54 * hourMs];
    const { all, unmet } = beatsMissed({ ...nothingHeard, missingMs }, priors, 3 * hourMs);
    expect(all[1]).toBeCloseTo(p + (1 - p) * hit * w, 12);
    expect(unmet[1]).toBeCloseTo(p * (1 - hit * w), 12);
    const both = w * stays;
    const one = 2 * w * (1 - stays);
    const none = 1 - both - one;
    expect(all[2]).toBeCloseTo((1 - hit) * p * p + hit * (both + one * p + none * p * p), 12);
    expect(unmet[2]).toBeCloseTo(p * p * (1 - hit + hit * none), 12);
  });

  it('are explained by outages the more, the more of them are missing at one hour', () => {
    const missingMs = Array.from({ length: 6 }, (_, index) => (index + 1) * dayMs);
    const { all, unmet } = beatsMissed({ ...nothingHeard, missingMs }, priors, hourMs);
    const shares = [...all].map((chance, count) => 1 - (unmet[count] ?? 0) / chance);
    for (let count = 1; count < shares.length; count += 1) {
      expect(shares[count]).toBeGreaterThan(shares[count - 1] ?? 1);
    }
    expect(shares.at(-1)).toBeGreaterThan(0.99);
  });

  it('are not explained by an hour at which a message has just arrived', () => {
    const asked = (arrivedMs: readonly number[]): BeatsAsked => ({
      arrivedMs,
      missingMs: [dayMs],
      heardMs: 0,
    });
    const fresh = last(beatsMissed(asked([]), priors, hourMs).all);
    const same = last(beatsMissed(asked([0]), priors, hourMs).all);
    const other = last(beatsMissed(asked([-12 * hourMs]), priors, hourMs).all);
    expect(same).toBeLessThan(other);
    expect(other).toBeCloseTo(fresh, 3);
    // Those missing before the last message, at the hour of the next, speak for a spell.
    const before = { arrivedMs: [0], heardMs: 0, missingMs: [-12 * hourMs, 12 * hourMs] };
    expect(last(beatsMissed(before, priors, hourMs).all)).toBeGreaterThan(1.2 * fresh);
  });

  it('before the last message that nothing explains change nothing', () => {
    const none = { ...priors, lostShare: 0 };
    const missingMs = [-20 * hourMs, -12 * hourMs, -4 * hourMs, 4 * hourMs];
    const asked = { arrivedMs: [0], heardMs: 0, missingMs };
    expect(beatsMissed(asked, none, hourMs)).toEqual(
      beatsMissed({ ...asked, missingMs: [4 * hourMs] }, none, hourMs),
    );
  });

  // Nothing of the code above is used: spells, hours and losses are drawn, and histories that fit what was heard are counted.
  it.each<[string, BeatsAsked, number]>([
    [
      'once a day, at an hour that moves by 20 min',
      {
        arrivedMs: [0],
        heardMs: 0,
        missingMs: [1, 2, 3].map((day) => day * (dayMs + 20 * 60_000)),
      },
      4 * hourMs,
    ],
    [
      'every 8 hours, with an alert between',
      {
        arrivedMs: [0, 12 * hourMs],
        heardMs: 12 * hourMs,
        missingMs: [8 * hourMs, 16 * hourMs, 24 * hourMs, 32 * hourMs],
      },
      6 * hourMs,
    ],
    [
      'once a day since new cells',
      { arrivedMs: [], heardMs: 0, missingMs: [dayMs, 2 * dayMs] },
      3 * hourMs,
    ],
  ])('are as frequent as among drawn spells: %s', (_, asked, outageMs) => {
    const drawn = countDrawn(asked, outageMs);
    const exact = beatsMissed(asked, priors, outageMs);
    for (const name of ['all', 'unmet'] as const) {
      const chance = last(exact[name]);
      const spread = Math.sqrt((chance * (1 - chance)) / drawn.fitting);
      expect(Math.abs(drawn[name] / drawn.fitting - chance) / spread).toBeLessThan(3.5);
    }
    expect(drawn.all).toBeGreaterThan(30);
  });
});

const draws = 120_000;

function countDrawn({ arrivedMs, missingMs, heardMs }: BeatsAsked, outageMs: number) {
  const stream = randomStream('spells', 'draws');
  const wait = (meanMs: number): number => -Math.log(1 - stream.unit()) * meanMs;
  const offMs = yearMs / priors.outagesPerYear;
  const isOnFirst = priors.spellMs / (priors.spellMs + offMs);
  const fromMs = Math.min(...arrivedMs, ...missingMs);
  const toMs = Math.max(...missingMs);
  const counts = { fitting: 0, all: 0, unmet: 0 };
  for (let draw = 0; draw < draws; draw += 1) {
    const beginsMs = stream.unit() * dayMs;
    const spells: [number, number][] = [];
    let isOn = stream.unit() < isOnFirst;
    for (let atMs = fromMs; atMs <= toMs; isOn = !isOn) {
      const until = atMs + wait(isOn ? priors.spellMs : offMs);
      if (isOn) spells.push([atMs, until]);
      atMs = until;
    }
    const isDown = (atMs: number): boolean => {
      const sinceMs = (((atMs - beginsMs) % dayMs) + dayMs) % dayMs;
      return sinceMs < outageMs && spells.some(([from, to]) => from <= atMs && atMs < to);
    };
    const isMissed = (atMs: number): boolean => stream.unit() < priors.lostShare || isDown(atMs);
    const before = missingMs.filter((atMs) => atMs <= heardMs);
    const after = missingMs.filter((atMs) => atMs > heardMs);
    if (arrivedMs.some(isDown) || !before.every(isMissed)) continue;
    counts.fitting += 1;
    if (!after.every(isMissed)) continue;
    counts.all += 1;
    if (!after.some(isDown)) counts.unmet += 1;
  }
  return counts;
}
