// Several outages, and watches of every kind: the bounds are those that trying every state, reading and outage comes to.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { detectionBounds, modelOf, search, searchesFor } from '../../src/bounds/index.js';
import { calmEnvironment, type Environment, type ResetMemory } from '../../src/model/index.js';
import {
  logicSettings,
  type Scale,
  watchSettings,
  withoutLowBattery,
} from '../support/arbitraries.js';
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

const calmWorld = {
  powerLosses: fc.constant(0),
  longestPowerLossMs: fc.constant(1),
  resets: fc.constant(0),
  longestChatterMs: fc.constant(0),
};

const manyOutages: fc.Arbitrary<Environment> = fc.record({
  ...calmWorld,
  outages: fc.integer({ min: 0, max: 3 }),
  outagesApartMs: fc.constantFrom(0, 0, 5, 17),
  longestOutageMs: fc.constantFrom(0, 1, 9, 20),
});

const everyFault: fc.Arbitrary<Environment> = fc.record({
  outages: fc.integer({ min: 1, max: 2 }),
  outagesApartMs: fc.constantFrom(0, 5),
  longestOutageMs: fc.constantFrom(0, 6, 12),
  powerLosses: fc.constantFrom(0, 0, 1),
  longestPowerLossMs: fc.constantFrom(1, 2),
  resets: fc.constantFrom(0, 0, 1),
  longestChatterMs: fc.constantFrom(0, 0, 5),
});

const tried: fc.Arbitrary<Tried> = logicSettings.chain((logic) =>
  fc.record({
    watch: watchSettings({ ...withoutLowBattery(logic), heartbeats: false }, scale).map(
      (watch) => ({
        ...watch,
        wakeOn: 'timer' as const,
      }),
    ),
    bootMs: fc.nat(scale.mostBootMs),
    connectMs: fc.nat(scale.mostConnectMs),
    environment: fc.oneof(
      { weight: 3, arbitrary: manyOutages },
      { weight: 2, arbitrary: everyFault },
    ),
    resets: fc.constantFrom<Tried['resets'][]>(['keep'], ['clear'], ['keep', 'clear']),
  }),
);

const resetsOf = (resets: Tried['resets']): ResetMemory => {
  if (resets.length > 1) return { button: 'clears', watchdog: 'keeps', software: null };
  const does = resets[0] === 'clear' ? 'clears' : 'keeps';
  return { button: does, watchdog: does, software: does };
};

function boundsBySearch({ watch, bootMs, connectMs, environment, resets }: Tried) {
  const timing = rangesWith({ bootMs, connectMs });
  const reset = resetsOf(resets);
  return detectionBounds(questionOf(watch, { timing, environment, reset }));
}

/** To the millisecond. @returns how many states were tried. */
function compare(one: Tried): number {
  const { states, ...bounds } = boundsByTrying(one);
  expect(boundsBySearch(one), JSON.stringify(one)).toMatchObject(bounds);
  return states;
}

describe('bounds under several outages', () => {
  it('are the result of trying every state, every reading and every outage', () => {
    let most = 0;
    let several = 0;
    const property = fc.property(tried, (one) => {
      most = Math.max(most, compare(one));
      const { outages, longestOutageMs } = one.environment;
      if (outages > 1 && longestOutageMs > 1) several += 1;
    });
    assertUntil(property, { numRuns: 80 }, () => most > 100 && several > 10);
  });

  it('are so for checks every three seconds, with two outages that keep apart', () => {
    const watch = {
      ...plainWatch,
      checkIntervalMs: deviceMs(3_000),
      recheckIntervalMs: deviceMs(700),
      retryIntervalMs: deviceMs(1_100),
      escalationThreshold: { open: 2, outOf: 3 },
      clearThreshold: 2,
      alertCooldownMs: deviceMs(9_000),
      retryAttempts: 2,
      unsentWhenShut: 'drop' as const,
    };
    for (const outagesApartMs of [0, 6_000]) {
      const environment = {
        ...calmEnvironment,
        outages: 2,
        outagesApartMs,
        longestOutageMs: 2_500,
      };
      expect(
        compare({ watch, bootMs: 2, connectMs: 5, environment, resets: ['keep'] }),
      ).toBeGreaterThan(50);
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
      const environment = {
        ...calmEnvironment,
        outages: 2,
        outagesApartMs: 31_000,
        longestOutageMs,
      };
      expect(
        compare({ watch, bootMs: 2, connectMs: 5, environment, resets: ['keep'] }),
      ).toBeGreaterThan(100);
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
