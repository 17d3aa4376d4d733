// Published figures of warming spaces and of air through open doors.
import { describe, expect, it } from 'vitest';
import { airExchange, toLimitMs } from '../../src/margin/index.js';

describe('Incropera, Fundamentals of Heat and Mass Transfer, example 5.1', () => {
  it('a junction of τ = 1 s goes from 25 to 199 °C in gas at 200 °C in 5.16 s', () => {
    // τ = ρ V c / (h A) with V / A = D / 6.
    const [h, c, density, diameter] = [400, 400, 8_500, 7.06e-4];
    const tauMs = ((density * c * diameter) / (6 * h)) * 1_000;
    expect(tauMs).toBeCloseTo(1_000, -1);
    const space = { startCelsius: 25, outsideCelsius: 200 };
    const ms = toLimitMs(space, { celsius: 199, passed: 'rising' }, 1_000);
    expect((ms ?? 0) / 1_000).toBeCloseTo(5.16, 2);
  });
});

describe('Gosney and Olama (1975), as in the ASHRAE Refrigeration Handbook', () => {
  it('through 2 m² of doorway, 2 m high, between 4 and 25 °C: worked from the formula', () => {
    const { flow, densityFactor } = airExchange({ widthMm: 1_000, heightMm: 2_000 }, 4, 25);
    expect(densityFactor).toBeCloseTo(0.9818, 4);
    expect(flow).toBeCloseTo(0.5101, 4);
  });

  it('flows as much when the warm side is inside', () => {
    const doorway = { widthMm: 900, heightMm: 2_100 };
    expect(airExchange(doorway, 25, 4)).toEqual(airExchange(doorway, 4, 25));
  });
});

describe('USDA FSIS: with the door shut and no power a full freezer holds about 48 h, a half full one 24 h', () => {
  // Only the ratio can be checked: food that melts keeps a freezer cold for longer than one time constant says.
  it('half the goods have half the time constant, and so half the time', () => {
    const space = { startCelsius: -18, outsideCelsius: 21 };
    const limit = { celsius: 40 / 9, passed: 'rising' } as const;
    const hourMs = 3_600_000;
    const fullTauMs = (48 * hourMs) / Math.log((space.startCelsius - 21) / (limit.celsius - 21));
    expect((toLimitMs(space, limit, fullTauMs) ?? 0) / hourMs).toBeCloseTo(48, 4);
    expect((toLimitMs(space, limit, fullTauMs / 2) ?? 0) / hourMs).toBeCloseTo(24, 4);
  });
});
