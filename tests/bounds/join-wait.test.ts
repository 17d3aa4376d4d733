// A device that waits awake for the network: an attempt is delivered at the first instant of the wait at which the network is
// up, else it fails at the wait's end. Closed forms, and every place of an outage for a device of a few milliseconds.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { boundsOf, detectionBounds } from '../../src/bounds/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { experimentOf, rangesWith, timingWith, traceOf } from '../support/experiments.js';
import { interpret } from '../support/oracle.js';
import { questionOf } from './question.js';

const twoMinutes = deviceMs(120_000);
const usual = { checkIntervalMs: twoMinutes, recheckIntervalMs: twoMinutes };

describe('an attempt that waits for the network', () => {
  it('is delivered as the network comes up: connect 4 s, wait 1 min, up from 30 s on', () => {
    const once = { escalationThreshold: { open: 1, outOf: 1 } } as const;
    const timing = timingWith({ bootMs: 0, connectMs: 4_000, joinWaitMs: 60_000 });
    const world = {
      lengthMs: 300_000,
      openings: [[0, 300_000]],
      networkDown: [[0, 30_000]],
    } as const;
    const { alerts, tally } = traceOf(world, { watch: once, timing });
    expect(alerts[0]?.attempts).toEqual([
      { startMs: 0, endMs: 30_000, outcome: 'delivered', waitedMs: 26_000 },
    ]);
    expect(tally).toMatchObject({ alertSendMs: 4_000, joinWaitMs: 26_000 });
  });
});

describe('bounds of a device that waits for the network', () => {
  const within = (joinWaitMs: number, outages = 1) =>
    questionOf(usual, {
      timing: rangesWith({ joinWaitMs }),
      environment: { longestOutageMs: 600_000, outages },
    });

  it('deliver as the outage ends, where the wait is no shorter', () => {
    // The last check of a door that just missed one, the connect time, and the outage: 240.799 s + 4 s + 10 min.
    expect(detectionBounds(within(600_000)).worstDelayMs.atRest).toBe(844_799);
    expect(detectionBounds(within(3_600_000)).worstDelayMs.atRest).toBe(844_799);
    // A second outage meets no alert: none is left.
    expect(detectionBounds(within(600_000, 2)).worstDelayMs.atRest).toBe(844_799);
  });

  it('deliver later without a wait', () => {
    const none = boundsOf(within(0));
    expect(none.worstDelayMs.atRest).toBeGreaterThan(844_799);
    expect(none.alwaysDecidedFromMs.atRest).toBe(240_800);
  });

  it.each([3, 9, 20, 21, 40])(
    'with a wait of %i ms are what the worst outage makes',
    (joinWaitMs) => {
      const watch: Partial<WatchSettings> = {
        ...{ checkIntervalMs: deviceMs(11), recheckIntervalMs: deviceMs(7) },
        ...{ retryIntervalMs: deviceMs(5), retryAttempts: 2, alertCooldownMs: deviceMs(0) },
      };
      const times = { bootMs: 1, connectMs: 2, joinWaitMs };
      const environment = { longestOutageMs: 21 };
      const bounds = detectionBounds(questionOf(watch, { timing: rangesWith(times), environment }));
      let worstMs = 0;
      for (let fromMs = 120; fromMs < 132; fromMs += 1) {
        for (let downMs = fromMs; downMs < fromMs + 60; downMs += 1) {
          const run = interpret(
            experimentOf(
              {
                lengthMs: fromMs + 300,
                openings: [[fromMs, fromMs + 300]],
                networkDown: [[downMs, downMs + 21]],
              },
              { watch, timing: timingWith(times) },
            ),
          );
          worstMs = Math.max(worstMs, (run.alerts[0]?.deliveredMs ?? 0) - fromMs);
        }
      }
      expect(bounds.worstDelayMs.atRest).toBe(worstMs);
    },
  );
});
