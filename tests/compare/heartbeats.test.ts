// Heartbeats of a device whose clock runs otherwise than the watch file has it: late ones are not missing ones.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import { compareDevice } from '../../src/compare/index.js';
import type { DeviceLogRow } from '../../src/scenarios/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, timingWith } from '../support/experiments.js';

const hourMs = 3_600_000;
const world = { lengthMs: 10 * 24 * hourMs, openings: [[30 * hourMs, 31 * hourMs]] as const };
const beating = (heartbeatMs: number) => ({
  heartbeats: true,
  heartbeatIntervalMs: deviceMs(heartbeatMs),
});

/** The rows of a device, with its checks or without. */
function rowsOf(experiment: Experiment, withChecks: boolean): DeviceLogRow[] {
  const source = { file: 'device.csv' };
  return expandWakes(simulate(experiment)).flatMap(
    ({ checkMs, contact, alertSend, heartbeatSend }): DeviceLogRow[] => {
      const send = alertSend ?? heartbeatSend;
      const event = alertSend === null ? 'heartbeat' : 'alert';
      const isSeen = withChecks && checkMs !== null && contact !== null;
      return [
        ...(isSeen ? [{ event: 'check', atMs: checkMs, contact, source } as const] : []),
        ...(send?.outcome === 'delivered'
          ? [{ event, atMs: send.endMs, delivered: true, source } as const]
          : []),
      ];
    },
  );
}

/** The same watch with the clock of the watch file, which is right. */
function comparedWith(heartbeatMs: number, rows: readonly DeviceLogRow[]) {
  const watch = beating(heartbeatMs);
  const judge = { leaveOpenAfterMs: trueMs(600_000), reportWithinMs: null, quietUpToMs: null };
  return compareDevice({ ...experimentOf(world, { watch }), rows, judge });
}

const clocks = fc.integer({ min: -50_000, max: 50_000 });
const intervals = fc.constantFrom(1, 6, 24).map((hours) => hours * hourMs);

describe('heartbeats of a device with another clock than its watch file', () => {
  it('are not missing where all came', () => {
    fc.assert(
      fc.property(clocks, intervals, fc.boolean(), (errorPpm, heartbeatMs, withChecks) => {
        const watch = beating(heartbeatMs);
        const device = experimentOf(world, { watch, timing: timingWith({ errorPpm }) });
        const found = comparedWith(heartbeatMs, rowsOf(device, withChecks));
        expect(found.missingHeartbeats).toEqual([]);
        if (withChecks) expect(found.lateHeartbeats?.isExplained ?? true).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('are missing where some in a row did not come', () => {
    fc.assert(
      fc.property(clocks, intervals, fc.nat(), (errorPpm, heartbeatMs, at) => {
        const watch = beating(heartbeatMs);
        const device = experimentOf(world, { watch, timing: timingWith({ errorPpm }) });
        const rows = rowsOf(device, true);
        const beats = rows.flatMap(({ event }, index) => (event === 'heartbeat' ? [index] : []));
        // Not the last: a log may end before the next one is due.
        const first = at % (beats.length - 2);
        const gone = beats.slice(first, first + 2);
        const { missingHeartbeats } = comparedWith(
          heartbeatMs,
          rows.filter((_, index) => !gone.includes(index)),
        );
        expect(missingHeartbeats.map(({ count }) => count)).toEqual([2]);
      }),
      { numRuns: 60 },
    );
  });

  it('are late without an explanation where they come at another interval and the checks do not', () => {
    const device = experimentOf(world, { watch: beating(24 * hourMs) });
    const { missingHeartbeats, lateHeartbeats } = comparedWith(18 * hourMs, rowsOf(device, true));
    expect(missingHeartbeats).toEqual([]);
    expect(lateHeartbeats?.isExplained).toBe(false);
    expect(lateHeartbeats?.latestByMs).toBeGreaterThan(5 * hourMs);
  });
});
