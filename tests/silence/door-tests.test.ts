// The tests at the door: their order, and what each outcome leaves.
import { describe, expect, it } from 'vitest';
import { doorTests, type Explanation, emptyShare } from '../../src/silence/index.js';

describe('tests at the door', () => {
  const names = [
    'quiet',
    'lost',
    'flat',
    'holding',
    'holding-lost',
    'network',
    'contact',
    'firmware',
  ] as const;
  const explained = (chances: Partial<Record<Explanation, number>>) =>
    names.map((explanation) => ({
      explanation,
      probability: chances[explanation] ?? 0,
      sinceMs: null,
      emptyByNow: explanation === 'flat' ? 1 : 0,
    }));
  const times = { lookMs: 120_000, openMs: 300_000 };

  it('take the least time in the mean, of all orders', () => {
    // Every order by hand: minutes 2, 5 and 10. A reset finds a firmware that hangs, and so does another battery.
    const acts = {
      reset: [2, ['firmware']],
      contact: [5, ['contact']],
      charge: [10, ['flat', 'firmware']],
    } as const;
    const orders = [
      ['reset', 'contact', 'charge'],
      ['reset', 'charge', 'contact'],
      ['contact', 'reset', 'charge'],
      ['contact', 'charge', 'reset'],
      ['charge', 'reset', 'contact'],
      ['charge', 'contact', 'reset'],
    ] as const;
    const leastFor = (chances: Readonly<Record<'flat' | 'firmware' | 'contact', number>>): number =>
      Math.min(
        ...orders.map((order) => {
          let spent = 0;
          const left = new Set(['flat', 'firmware', 'contact'] as const);
          return order.reduce((sum, act) => {
            const [minutes, causes] = acts[act];
            const found = causes.filter((cause) => left.delete(cause));
            if (found.length > 0) spent += minutes;
            return sum + spent * found.reduce((share, cause) => share + chances[cause], 0);
          }, 0);
        }),
      );
    const looks = 2 + 0.4 * 3;
    for (const [chances, kinds] of [
      [{ flat: 0.4, firmware: 0.1, contact: 0.1 }, ['charge', 'contact']],
      [{ flat: 0.2, firmware: 0.3, contact: 0.1 }, ['reset', 'contact', 'charge']],
      [{ flat: 0.3, firmware: 0.2, contact: 0.1 }, ['reset', 'charge', 'contact']],
      [{ flat: 0.1, firmware: 0.1, contact: 0.4 }, ['contact', 'reset', 'charge']],
    ] as const) {
      const all = { quiet: 0.3, network: 0.1, ...chances };
      const { steps, expectedMs } = doorTests(explained(all), times);
      expect(steps.map(({ kind }) => kind)).toEqual(['look', 'open', ...kinds]);
      expect(expectedMs / 60_000).toBeCloseTo(looks + leastFor(chances), 6);
    }
  });

  it('with another battery start a device again: what a reset would show may have been the cause', () => {
    const { steps } = doorTests(explained({ flat: 0.9, firmware: 0.05, contact: 0.05 }), times);
    expect(steps.map(({ kind }) => kind)).toEqual(['look', 'open', 'charge', 'contact']);
    expect(steps[2]?.outcomes).toMatchObject([
      { outcome: 'blink', leaves: ['flat', 'firmware'] },
      { outcome: 'dark', leaves: ['contact'] },
    ]);
  });

  it('leave each explanation in exactly one place', () => {
    const all = { quiet: 0.2, lost: 0.1, network: 0.1, flat: 0.2, holding: 0.1, contact: 0.1 };
    const held = { 'holding-lost': 0.1, firmware: 0.1 };
    const { steps } = doorTests(explained({ ...all, ...held }), times);
    expect(steps.find(({ kind }) => kind === 'reset')?.outcomes[0]?.leaves).toEqual([
      'holding',
      'holding-lost',
      'firmware',
    ]);
    for (const { outcomes } of steps) {
      const total = outcomes.reduce((sum, { probability }) => sum + probability, 0);
      expect(total).toBeCloseTo(1, 9);
      const left = outcomes.flatMap(({ leaves }) => leaves);
      expect(new Set(left).size).toBe(left.length);
    }
  });

  it('meet an empty battery also behind another fault', () => {
    const half = explained({ network: 0.5, quiet: 0.5 }).map((one) =>
      one.explanation === 'network' ? { ...one, emptyByNow: 0.8 } : one,
    );
    expect(emptyShare(half)).toBeCloseTo(0.4, 9);
    const { steps, chargedFirst } = doorTests(half, times);
    expect(chargedFirst).toBe(false);
    expect(steps[0]?.outcomes.map(({ probability }) => probability)).toEqual([
      expect.closeTo(0.6, 9),
      expect.closeTo(0.4, 9),
    ]);
    expect(steps.map(({ kind }) => kind)).toEqual(['look', 'open', 'charge']);
  });

  // A device that ran empty starts again with its charge, whatever it did before: only contact and network are left to find.
  it('begin with a charge where the battery is empty by now', () => {
    const all = explained({
      network: 0.5,
      firmware: 0.1,
      'holding-lost': 0.2,
      flat: 0.1,
      contact: 0.1,
    });
    const empty = all.map((one) => ({ ...one, emptyByNow: 1 }));
    const { steps, chargedFirst, expectedMs } = doorTests(empty, times);
    expect(chargedFirst).toBe(true);
    expect(steps.map(({ kind }) => kind)).toEqual(['look', 'open', 'contact']);
    expect(steps[1]?.outcomes).toMatchObject([
      {
        outcome: 'alert',
        probability: expect.closeTo(4 / 9, 9),
        leaves: ['flat', 'holding-lost', 'firmware'],
      },
      { outcome: 'blink', leaves: ['network'] },
    ]);
    // 10 min for the charge, a look of 2, a wait of 3 more for 9 in 10, the contact with 5 for the others.
    expect(expectedMs / 60_000).toBeCloseTo(10 + 2 + 0.9 * 3 + 0.1 * 5, 9);
  });

  it('do not wait for an alert that is not sure to come', () => {
    const { steps } = doorTests(explained({ quiet: 0.9, network: 0.1 }), {
      ...times,
      openMs: null,
    });
    expect(steps.map(({ kind }) => kind)).toEqual(['look']);
  });
});
