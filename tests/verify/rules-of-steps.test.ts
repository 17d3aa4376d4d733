// What the checker lets happen next, where no bound of a recorded proof shows it: each rule by the device and the world alone.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { calmEnvironment, type Environment } from '../../src/model/index.js';
import {
  after,
  firstOf,
  type Outcome,
  type Rules,
  rulesOf,
  type Spot,
  spanOf,
  timesOf,
} from '../../src/verify/index.js';
import { allZero, clocks, passed } from '../../src/verify/zone.js';
import { rangesWith, watchWith } from '../support/experiments.js';

const keeps = { button: 'keeps', watchdog: 'keeps', software: 'keeps' } as const;

function rulesWith(
  watch: Partial<WatchSettings>,
  environment: Partial<Environment>,
  joinWaitMs = 0,
): Rules {
  const quick = {
    ...{ checkIntervalMs: deviceMs(7), recheckIntervalMs: deviceMs(5) },
    ...{ retryIntervalMs: deviceMs(4), alertCooldownMs: deviceMs(0), retryAttempts: 2 },
  };
  const timing = rangesWith({ bootMs: 1, connectMs: 2, joinWaitMs });
  return rulesOf(watchWith({ ...quick, ...watch }), timesOf(timing, keeps), {
    ...calmEnvironment,
    ...environment,
  });
}

/** Where the device stands, and what can come next, for the first hundred states or so of each of some turns. */
function turnsOf(rules: Rules): { readonly from: Spot; readonly outcome: Outcome }[] {
  const turns: { readonly from: Spot; readonly outcome: Outcome }[] = [];
  let now: readonly Outcome[] = firstOf(rules, 'any state');
  for (let turn = 0; turn < 12; turn += 1) {
    const next = now.flatMap(({ spot: from }) =>
      [...after(rules, from)].map((outcome) => ({ from, outcome })),
    );
    turns.push(...next);
    now = next.map(({ outcome }) => outcome).slice(0, 120);
  }
  return turns;
}

describe('a device that waits for the network', () => {
  const endsOf = (joinWaitMs: number) =>
    turnsOf(rulesWith({}, { longestOutageMs: 4, outagesApartMs: 9 }, joinWaitMs))
      .filter(({ from }) => from.device.activity === 'alert waits')
      .map(({ outcome: { input, spot } }) => ({
        input,
        sinceDown: spanOf(spot.zone, 'failed'),
      }));

  it('gives up only before the longest outage is over', () => {
    const gaveUp = (joinWaitMs: number) =>
      endsOf(joinWaitMs).some(
        ({ input }) => input !== 'waits' && 'delivered' in input && !input.delivered,
      );
    expect(gaveUp(3)).toBe(true);
    expect(gaveUp(4)).toBe(false);
  });

  it('has met the network down as it gives up, and a millisecond before it delivers', () => {
    const ends = endsOf(3);
    expect(ends.length).toBeGreaterThan(1);
    for (const { input, sinceDown } of ends) {
      const ms = input !== 'waits' && 'delivered' in input && input.delivered ? 1 : 0;
      expect(sinceDown).toEqual({ least: ms, most: ms });
    }
  });
});

describe('a pending alert that a shut check would drop', () => {
  it('is in doubt at a check, and not where a reset comes before it', () => {
    const boots = turnsOf(
      rulesWith({ unsentWhenShut: 'drop' }, { longestOutageMs: 6, resets: 1 }),
    ).filter(({ from }) => from.phase === 'decided' && from.device.activity === 'boot');
    const doubtsAt = (type: string) =>
      new Set(
        boots.flatMap(({ outcome: { input, unsure } }) =>
          input !== 'waits' && input.type === type ? [unsure] : [],
        ),
      );
    expect(doubtsAt('check')).toEqual(new Set([true]));
    expect(doubtsAt('wake')).toEqual(new Set([false]));
  });
});

describe('a heartbeat that is delivered', () => {
  it('is no message about the battery: the time since the last one goes on', () => {
    const lowBattery = {
      level: { kind: 'share', sharePpm: 200_000 },
      repeatMs: deviceMs(10_000),
    } as const;
    const watch = { lowBattery, heartbeats: true, heartbeatIntervalMs: deviceMs(7) };
    const beats = turnsOf(rulesWith(watch, {}, 3)).filter(
      ({ outcome: { input } }) =>
        input !== 'waits' && input.type === 'heartbeatAttempted' && input.delivered,
    );
    expect(beats.length).toBeGreaterThan(0);
    for (const { from, outcome } of beats) {
      const before = spanOf(from.zone, 'warning');
      expect(spanOf(outcome.spot.zone, 'warning').least).toBeGreaterThanOrEqual(before.least);
    }
  });
});

describe('a sleep that the clock of the device counts otherwise', () => {
  it('passes as it is for the world, and as it counts for the device', () => {
    const zone = passed(allZero, { least: 90, most: 110, counted: 100 });
    const [, ...running] = clocks;
    const world = ['opening', 'outage', 'failed', 'chatter'];
    for (const clock of running) {
      const wanted = world.includes(clock) ? { least: 90, most: 110 } : { least: 100, most: 100 };
      expect([clock, spanOf(zone, clock)]).toEqual([clock, wanted]);
    }
  });
});
