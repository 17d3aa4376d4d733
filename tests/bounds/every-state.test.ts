// Several outages, and watches of every kind: the bounds are those that trying every state, reading and outage comes to.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { detectionBounds, modelOf, search, searchesFor } from '../../src/bounds/index.js';
import { logicSettings, type Scale, watchSettings } from '../support/arbitraries.js';
import { plainWatch, rangesWith } from '../support/experiments.js';
import { assertUntil } from '../support/until-seen.js';
import { boundsByTrying, type Tried } from './every-state.js';
import { questionOf } from './question.js';

const scale: Scale = {
  leastMs: 2,
  mostMs: 9,
  mostBootMs: 2,
  mostConnectMs: 4,
  lengthMs: 100,
  errorPpm: 0,
};

const tried: fc.Arbitrary<Tried> = logicSettings.chain((logic) =>
  fc.record({
    watch: watchSettings({ ...logic, heartbeats: false }, scale).map((watch) => ({
      ...watch,
      wakeOn: 'timer' as const,
    })),
    bootMs: fc.nat(scale.mostBootMs),
    connectMs: fc.nat(scale.mostConnectMs),
    outages: fc.record({
      outages: fc.integer({ min: 0, max: 3 }),
      outagesApartMs: fc.constantFrom(0, 0, 5, 17),
      longestOutageMs: fc.constantFrom(0, 1, 9, 20),
    }),
  }),
);

function boundsBySearch({ watch, bootMs, connectMs, outages }: Tried) {
  const timing = rangesWith({ bootMs, connectMs });
  return detectionBounds(questionOf(watch, { timing, environment: outages }));
}

/** To the millisecond. @returns how many states were tried. */
function compare(one: Tried): number {
  const { states, ...bounds } = boundsByTrying(one);
  expect(boundsBySearch(one), JSON.stringify(one)).toMatchObject(bounds);
  return states;
}

describe('bounds under several outages', () => {
  it('are what comes of trying every state, every reading and every outage', () => {
    let most = 0;
    let several = 0;
    const property = fc.property(tried, (one) => {
      most = Math.max(most, compare(one));
      const { outages, longestOutageMs } = one.outages;
      if (outages > 1 && longestOutageMs > 1) several += 1;
    });
    assertUntil(property, { numRuns: 80 }, () => most > 100 && several > 10);
  });

  it('are so for checks every three seconds, with two outages that keep apart', () => {
    const watch = {
      checkIntervalMs: deviceMs(3_000),
      recheckIntervalMs: deviceMs(700),
      retryIntervalMs: deviceMs(1_100),
      escalationThreshold: { open: 2, outOf: 3 },
      clearThreshold: 2,
      alertCooldownMs: deviceMs(9_000),
      cooldownEndsWhenShut: true,
      afterAlert: 'keep-watching',
      retryAttempts: 2,
      unsentWhenShut: 'drop',
      wakeOn: 'timer',
      heartbeats: false,
      heartbeatIntervalMs: null,
    } as const;
    for (const outagesApartMs of [0, 6_000]) {
      const outages = { outages: 2, outagesApartMs, longestOutageMs: 2_500 };
      expect(compare({ watch, bootMs: 2, connectMs: 5, outages })).toBeGreaterThan(50);
    }
  });

  it('are so where outages keep apart for longer than many checks, and a cooldown is longer still', () => {
    const watch = {
      ...plainWatch,
      checkIntervalMs: deviceMs(3_000),
      recheckIntervalMs: deviceMs(3_000),
      retryIntervalMs: deviceMs(1_100),
      alertCooldownMs: deviceMs(60_000),
    };
    for (const longestOutageMs of [2_500, 10_000]) {
      const outages = { outages: 2, outagesApartMs: 31_000, longestOutageMs };
      expect(compare({ watch, bootMs: 2, connectMs: 5, outages })).toBeGreaterThan(100);
    }
  });

  it('take few states to find: a wait for the next outage is left to those who need not wait', () => {
    const minuteMs = 60_000;
    const watch = {
      checkIntervalMs: deviceMs(minuteMs),
      recheckIntervalMs: deviceMs(minuteMs),
      alertCooldownMs: deviceMs(720 * minuteMs),
    };
    const environment = {
      outages: 2,
      outagesApartMs: 360 * minuteMs,
      longestOutageMs: 60 * minuteMs,
    };
    const { nodes } = search(modelOf(questionOf(watch, { environment })), searchesFor.anyState);
    // One for each check in a cooldown of twelve hours, and each place of the opening and the outages in it.
    expect(nodes).toBeLessThan(720 * 10);
  });
});
