// No opening of at least D goes unreported, whatever faults the environment may bring, and wherever they come.
import { describe, expect, it } from 'vitest';
import { deliveryAttack } from './delivery-attack.js';

interface Sum {
  tried: number;
  hurt: number;
  missed: number;
}

function attacked(watches: number, shorterByMs: number): Sum {
  const sum: Sum = { tried: 0, hurt: 0, missed: 0 };
  for (let index = 0; index < watches; index += 1) {
    const { tried, hurt, missed, question } = deliveryAttack('seed bank', index, shorterByMs);
    const { timing, environment, program } = question;
    if (shorterByMs === 0) {
      const facts = { index, watch: program.watch, timing, environment };
      expect(missed, JSON.stringify(facts)).toEqual([]);
    }
    sum.tried += tried;
    sum.hurt += hurt;
    sum.missed += missed.length;
  }
  return sum;
}

describe('every opening of at least D', () => {
  it('is reported, in many timelines whose faults are aimed at its alert', () => {
    const { tried, hurt } = attacked(20, 0);
    expect(tried).toBeGreaterThan(400);
    expect(hurt).toBeGreaterThan(200);
  });

  it('is a claim that such timelines would refute: of openings 1 ms shorter they miss some', () => {
    expect(attacked(15, 1).missed).toBeGreaterThan(3);
  });
});
