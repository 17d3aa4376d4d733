// Trials at the door: the intervals hold the gaps of simulated contacts 95 times in 100, and rows that cannot be are shown.

import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { randomStream } from '../../src/base/index.js';
import { parseTrials, placementOf, stickOf, type Trial } from '../../src/place/index.js';

const sheetGaps = [2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 30];

/** Trials of a contact with these gaps, by somebody whose ruler and hand err by a normal error. */
function trialsOf(
  contact: { readonly operateMm: number; readonly releaseMm: number; readonly errorMm: number },
  seed: string,
): Trial[] {
  const stream = randomStream(seed, 'hand');
  const gauss = (): number => {
    const radius = Math.sqrt(-2 * Math.log(1 - stream.unit()));
    return radius * Math.cos(2 * Math.PI * stream.unit());
  };
  let line = 0;
  return (['closing', 'opening'] as const).flatMap((direction) => {
    const gapOfContact = direction === 'closing' ? contact.operateMm : contact.releaseMm;
    return [1, 2, 3].flatMap(() =>
      sheetGaps.map((gapMm): Trial => {
        const reads = gapMm + contact.errorMm * gauss() <= gapOfContact ? 'shut' : 'open';
        return { line: (line += 1), direction, gapMm, reads };
      }),
    );
  });
}

const row = (
  direction: Trial['direction'],
  gapMm: number,
  reads: Trial['reads'],
  line = 1,
): Trial => ({
  line,
  direction,
  gapMm,
  reads,
});

describe('the gaps of a contact', () => {
  it('lie within their intervals 95 times in 100, for simulated contacts', () => {
    const stream = randomStream('contacts', 'drawn');
    let held = 0;
    let wide = 0;
    const contacts = 100;
    for (let index = 0; index < contacts; index += 1) {
      const operateMm = 4 + 10 * stream.unit();
      const releaseMm = operateMm + 1 + 6 * stream.unit();
      const errorMm = 0.25 + 1.25 * stream.unit();
      const { operate, release } = placementOf(
        trialsOf({ operateMm, releaseMm, errorMm }, `contact ${String(index)}`),
      );
      if (operate !== null && operate.lowMm <= operateMm && operateMm <= operate.highMm) held += 1;
      if (release !== null && release.lowMm <= releaseMm && releaseMm <= release.highMm) held += 1;
      wide = Math.max(wide, (operate?.highMm ?? 99) - (operate?.lowMm ?? 0));
    }
    // Of 200 intervals 190 are expected; fewer than 182 come about once in 100 such tests (binomial).
    expect(held).toBeGreaterThanOrEqual(182);
    expect(wide).toBeLessThan(8);
  });

  it('are unknown without both readings', () => {
    expect(placementOf([row('closing', 4, 'shut'), row('closing', 6, 'shut')]).operate).toBeNull();
  });

  it('use a normal distribution with the values of the tables', () => {
    // Φ(1) and Φ(1.96), from the tables of Abramowitz and Stegun (26.1), recalled.
    expect(jStat.normal.cdf(1, 0, 1)).toBeCloseTo(0.841345, 6);
    expect(jStat.normal.cdf(1.96, 0, 1)).toBeCloseTo(0.975002, 6);
    expect(jStat.normal.cdf(-1, 0, 1) + jStat.normal.cdf(1, 0, 1)).toBeCloseTo(1, 12);
  });
});

const sound = trialsOf({ operateMm: 9, releaseMm: 13, errorMm: 0.3 }, 'sound');

describe('rows that contradict the others', () => {
  it('are none where ruler and hand err as they do', () => {
    expect(placementOf(sound).odd).toEqual([]);
  });

  it('are shown with their line', () => {
    const wrong = row('closing', 24, 'shut', 99);
    expect(placementOf([...sound, wrong]).odd).toEqual([wrong]);
  });

  it.each([3, 4])(
    'are shown where, with them, the others would seem scattered (%s mm)',
    (gapMm) => {
      const few = [5, 7, 5, 7]
        .map((at) => row('closing', at, 'shut'))
        .concat([9, 11, 9].map((at) => row('closing', at, 'open')));
      const wrong = row('closing', gapMm, 'open', 99);
      const { odd, operate } = placementOf([...few, wrong]);
      expect(odd).toEqual([wrong]);
      // The gaps are those of the other rows, to the tenth of a millimetre: no noise of binary fractions.
      expect(operate).toEqual(placementOf(few).operate);
      expect(operate).toMatchObject({ mm: 8, lowMm: 6.6, highMm: 9.6 });
    },
  );

  it('are none where a trial is off by less than the gaps of the others are known', () => {
    const few = [5, 7, 5, 7]
      .map((at) => row('closing', at, 'shut'))
      .concat([9, 11, 9].map((at) => row('closing', at, 'open')));
    expect(placementOf([...few, row('closing', 6, 'open', 99)]).odd).toEqual([]);
  });

  it('show where closing and opening were changed over', () => {
    const swapped = sound.map(
      (one): Trial => ({
        ...one,
        direction: one.direction === 'closing' ? 'opening' : 'closing',
      }),
    );
    expect(placementOf(swapped).isReversed).toBe(true);
  });
});

describe('a contact that reads the wrong way round', () => {
  const turned = (ways: readonly Trial['direction'][]): readonly Trial[] =>
    sound.map((one): Trial => {
      const reads = one.reads === 'shut' ? 'open' : 'shut';
      return ways.includes(one.direction) ? { ...one, reads } : one;
    });

  it.each([[['closing']], [['opening']], [['closing', 'opening']]] as const)(
    'is found while %s, and has no gap there',
    (ways) => {
      const { wrongWay, isReversed, operate, release, odd } = placementOf(turned(ways));
      expect({ wrongWay, isReversed, odd }).toEqual({ wrongWay: ways, isReversed: true, odd: [] });
      expect(operate === null).toBe(ways.some((way) => way === 'closing'));
      expect(release === null).toBe(ways.some((way) => way === 'opening'));
    },
  );

  it('is found in two trials far from each other', () => {
    const two = [row('closing', 4, 'open', 2), row('closing', 14, 'shut', 3)];
    expect(placementOf(two).wrongWay).toEqual(['closing']);
  });

  it('is not seen where one trial is wrong, or two at almost one gap disagree', () => {
    expect(placementOf([...sound, row('closing', 24, 'shut', 99)]).wrongWay).toEqual([]);
    // However far off the one is, and however few the others are.
    const few = [5, 6, 7, 8].map((mm, index) => row('closing', mm, 'shut', index + 2));
    const far = [9, 10, 11].map((mm, index) => row('closing', mm, 'open', index + 6));
    const odd = row('closing', 30, 'shut', 9);
    expect(placementOf([...few, ...far, odd])).toMatchObject({ wrongWay: [], odd: [odd] });
    const near = [row('closing', 8, 'open', 2), row('closing', 8.2, 'shut', 3)];
    expect(placementOf(near).wrongWay).toEqual([]);
    expect(placementOf(sound)).toMatchObject({ wrongWay: [], isReversed: false });
  });
});

describe('a door that sticks', () => {
  const placement = placementOf(trialsOf({ operateMm: 9, releaseMm: 13, errorMm: 0.3 }, 'stuck'));

  it('is seen beyond the release gap, and not below the operate gap', () => {
    expect(stickOf(placement, 20, 2)).toMatchObject({ reads: 'open', moveAwayMm: null });
    expect(stickOf(placement, 5, 2)).toMatchObject({ reads: 'shut', staysShut: false });
    expect(stickOf(placement, 11, 2)).toMatchObject({ reads: 'creeping', staysShut: true });
  });

  it('needs more trials where only the width of the intervals is in the way', () => {
    const few = [
      ...([20, 14] as const).map((gap, at) => row('closing', gap, 'open', at)),
      ...([10, 6] as const).map((gap, at) => row('closing', gap, 'shut', 2 + at)),
      ...([8, 12] as const).map((gap, at) => row('opening', gap, 'shut', 4 + at)),
      ...([16, 22] as const).map((gap, at) => row('opening', gap, 'open', 6 + at)),
    ];
    expect(stickOf(placementOf(few), 12, 2)).toMatchObject({ staysShut: false, needsTrials: true });
    // By the middles of the intervals the switch would no longer shut either.
    expect(stickOf(placement, 5, 2)).toMatchObject({ staysShut: false, needsTrials: false });
    // One millimetre is kept clear of the gap at which the door seals.
    expect(stickOf(placement, 5, 2)?.gapsApartMm).toBe(2);
    expect(stickOf(placement, 3, 2)?.gapsApartMm).toBe(0);
  });

  it('is seen after the move that is advised, by a contact with both gaps smaller by as much', () => {
    const move = stickOf(placement, 11, 2)?.moveAwayMm ?? 0;
    const moved = placementOf(
      trialsOf({ operateMm: 9 - move, releaseMm: 13 - move, errorMm: 0.3 }, 'moved'),
    );
    expect(stickOf(moved, 11, 2)?.reads).toBe('open');
  });
});

describe('a file of trials', () => {
  it('is read with comments, units and other separators', () => {
    const read = parseTrials(
      'direction,gap,reads\n# shims\nclosing; 12 mm; open\r\nopening\t3\tshut\n',
      't.csv',
    );
    expect(read.ok && read.value.trials).toMatchObject([
      { line: 3, direction: 'closing', gapMm: 12, reads: 'open' },
      { line: 4, direction: 'opening', gapMm: 3, reads: 'shut' },
    ]);
  });

  it.each([
    ['', 'no-trials'],
    ['closing,12', 'trial-cells'],
    ['sideways,12,open', 'trial-direction'],
    ['closing,-1,open', 'trial-gap'],
    ['closing,1e9,open', 'trial-gap'],
    ['closing,12,ajar', 'trial-reading'],
  ])('is refused with its line: %j', (text, code) => {
    const read = parseTrials(text, 't.csv');
    expect(read.ok ? null : read.errors[0]).toMatchObject({ code });
  });
});
