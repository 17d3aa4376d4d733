// Named random streams: one number at a time, in blocks, and beside each other.
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { randomBlock, randomStream, streamState } from '../../src/base/index.js';
import { kolmogorovP, pairsP, plausible, serialP, stepsP, uniform } from '../support/goodness.js';

type Stream = ReturnType<typeof randomStream>;

describe('a block of random numbers', () => {
  it('holds the numbers that the stream of its name gives one by one', () => {
    const block = randomBlock();
    for (const seed of ['1', '2', 'another']) {
      const stream = randomStream(seed, 'door of a year', 7);
      block.open(seed, 'door of a year', 7);
      const ofBlock = Array.from({ length: 5_000 }, () => block.unit());
      expect(ofBlock).toEqual(ofBlock.map(() => stream.unit()));
    }
  });
});

describe('a stream', () => {
  it.each([
    ['1', ['boot']],
    ['', []],
    ['a seed with ü and 🪿', ['opening', 3, 'x', -0.5]],
    ['\ud800', ['\u001f', '"', 2 ** 53]],
  ] as const)(
    'of the seed %j and the name %j starts from SHA-256 as Node computes it',
    (seed, name) => {
      const hash = createHash('sha256')
        .update(JSON.stringify([seed, ...name]))
        .digest();
      const words = [0, 4, 8].map((at) => hash.readUInt32BE(at) / 2 ** 32);
      expect(streamState(seed, ...name)).toEqual([...words, 1]);
      // Alea: 2,091,639 times the oldest number, plus the carry.
      expect(randomStream(seed, ...name).unit()).toBe((2_091_639 * (words[0] ?? 0) + 2 ** -32) % 1);
    },
  );

  it('has another name wherever seed, purpose or identity differ, however they are joined', () => {
    const names: readonly (readonly [string, ...(string | number)[]])[] = [
      ['1', 'a', 'b'],
      ['1', 'ab'],
      ['1a', 'b'],
      ['1', 'a,b'],
      ['1', 'a","b'],
      ['1', 'a\u001fb'],
      ['1\u001fa', 'b'],
      ['1', 'a', 1, 1],
      ['1', 'a', 11],
      ['1', 'a', '1', '1'],
    ];
    const first = names.map(([seed, ...name]) => randomStream(seed, ...name).unit());
    expect(new Set(first).size).toBe(names.length);
  });

  it('draws whole numbers of any range evenly, also of more values than 32 bits have', () => {
    for (const [least, greatest] of [
      [0, 1],
      [-20_000, 20_000],
      [0, 2 ** 24],
      [0, 31_536_000_000 - 1],
      [5, 2 ** 45],
    ] as const) {
      const stream = randomStream('whole', least, greatest);
      const drawn = Array.from({ length: 20_000 }, () => stream.whole(least, greatest));
      expect(drawn.every((n) => Number.isSafeInteger(n) && n >= least && n <= greatest)).toBe(true);
      const odd = drawn.filter((n) => Math.abs(n) % 2 === 1).length;
      expect(Math.abs(odd - 10_000)).toBeLessThan(300);
      const width = greatest - least + 1;
      // Spread within each whole number, so that few values are no steps.
      const spread = drawn.map((n) => (n - least + stream.unit()) / width);
      expect(plausible(kolmogorovP(spread, uniform))).toBe(true);
    }
  });
});

const count = 6_000;
const lags = [
  1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 24, 32, 60, 64, 100, 168, 256, 365, 1_000, 1_024,
];

/** Names as they are given in this program, with a number that goes up. */
const families: readonly (readonly [string, (index: number) => Stream])[] = [
  ['a bare number', (n) => randomStream('1', n)],
  ['numbered seeds', (n) => randomStream(String(n), 'boot')],
  ['openings of an hour', (n) => randomStream('1', 'opening', 0, 8, n)],
  ['hours of days', (n) => randomStream('1', 'openings', Math.floor(n / 24), n % 24)],
  ['the same hour of days', (n) => randomStream('1', 'openings', n, 7)],
  ['first openings of hours', (n) => randomStream('1', 'opening', Math.floor(n / 24), n % 24, 0)],
  ['doors of years', (n) => randomStream('1', 'door of a year', n)],
  ['outages of years', (n) => randomStream('a seed', 'outages of a year', n)],
  ['power losses of years', (n) => randomStream('1', 'power losses of a year', n)],
  ['boots of years', (n) => randomStream(`1 year ${String(n)}`, 'boot')],
  ['clocks of years', (n) => randomStream(`1 year ${String(n)}`, 'clock error')],
  ['chatter at each second', (n) => randomStream('1', 'chatter', n * 1_000)],
  ['chatter at each day', (n) => randomStream('1', 'chatter', n * 86_400_000)],
  ['parts of a hunt', (n) => randomStream('1', 'part of a hunt', n)],
  ['parts of hunts', (n) => randomStream(String(n), 'part of a hunt', 1)],
  ['cases of a drill', (n) => randomStream('drill', `case ${String(n)}`)],
  ['numbers far out', (n) => randomStream('1', 'opening', 2 ** 40 + n)],
  ['numbers with a fraction', (n) => randomStream('1', 'opening', n / 8)],
];

describe.each(families)('streams named by %s', (_, open) => {
  const streams = Array.from({ length: count }, (__, index) => open(index));
  const draws = [0, 1, 2, 3].map(() => streams.map((stream) => stream.unit()));

  it('have first, second, third and fourth draws that are uniform', () => {
    for (const numbers of draws) {
      expect(plausible(kolmogorovP(numbers, uniform))).toBe(true);
      expect(plausible(pairsP(numbers))).toBe(true);
    }
  });

  it('have draws that do not follow from those of the names before', () => {
    const p = draws.flatMap((numbers) => lags.map((lag) => serialP(numbers, lag)));
    const steps = draws.flatMap((numbers) =>
      [1, 2, 3, 7, 24, 60, 168].map((lag) => stepsP(numbers, lag)),
    );
    // One of them may look odd: the least of 88 p-values is under 1e-5 once in a thousand times.
    expect(Math.min(...p, ...steps)).toBeGreaterThan(1e-6);
    expect(plausible(kolmogorovP(p, uniform))).toBe(true);
  });

  it('have steps from name to name whose own steps are uniform, as those of a progression are not', () => {
    for (const numbers of draws) {
      const steps = numbers.slice(1).map((x, index) => (x - (numbers[index] ?? 0) + 1) % 1);
      expect(
        plausible(
          stepsP(
            steps.filter((__, index) => index % 2 === 0),
            1,
          ),
        ),
      ).toBe(true);
    }
  });
});

describe('streams of different purposes', () => {
  it('do not go together under the same numbers', () => {
    const purposes = ['boot', 'connect', 'clock error', 'door of a year', 'outages of a year'];
    const drawn = purposes.map((purpose) =>
      Array.from({ length: count }, (_, n) => randomStream(`1 year ${String(n)}`, purpose).unit()),
    );
    drawn.forEach((one, index) => {
      for (const other of drawn.slice(0, index)) {
        const both = one.flatMap((x, n) => [x, other[n] ?? 0]);
        expect(plausible(pairsP(both))).toBe(true);
        const products = one.map((x, n) => (x - 0.5) * ((other[n] ?? 0) - 0.5));
        const z = (products.reduce((sum, x) => sum + x, 0) * 12) / Math.sqrt(count);
        expect(Math.abs(z)).toBeLessThan(4);
      }
    });
  });
});
