// Power losses, resets, and the heartbeats that show an owner that the device is alive.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { faultsOf, simulate } from '../../src/sim/index.js';
import { experimentOf, timingWith, traceOf, worldOf } from '../support/experiments.js';

const lengthMs = 1_000_000;
const leftOpen = [[0, Number.POSITIVE_INFINITY]] as const;

describe('power and resets', () => {
  it('a device that is to power on in an outage does so when power returns', () => {
    const { wakes, tally } = traceOf({ lengthMs, powerOnAtMs: 5_000, powerLost: [[1_000, 9_000]] });
    expect(wakes[0]).toMatchObject({ cause: 'power-on', wakeMs: 9_000 });
    expect(tally.offMs).toBe(9_000);
  });

  it('an outage that is over before the first power-on does nothing', () => {
    const { wakes, tally } = traceOf({ lengthMs, powerOnAtMs: 5_000, powerLost: [[1_000, 5_000]] });
    expect(wakes[0]).toMatchObject({ cause: 'power-on', wakeMs: 5_000 });
    expect(tally.offMs).toBe(5_000);
  });

  it('a power loss in the warning phase starts the counting again', () => {
    const { alerts } = traceOf({ lengthMs, openings: leftOpen, powerLost: [[100_000, 100_001]] });
    expect(alerts[0]?.decidedMs).toBe(100_001 + 400 + 180_000 + 400);
  });

  it('a reset in the warning phase keeps the count and checks sooner', () => {
    const { alerts } = traceOf({ lengthMs, openings: leftOpen, resetsMs: [100_000] });
    expect(alerts[0]?.decidedMs).toBe(100_400);
  });

  it('a reset leaves the cooldown running on the clock', () => {
    const held = { afterAlert: 'hold-until-reset', alertCooldownMs: deviceMs(600_000) } as const;
    const resetAt = (atMs: number) =>
      traceOf({ lengthMs: 900_000, openings: leftOpen, resetsMs: [atMs] }, { watch: held }).alerts
        .length;
    expect(resetAt(184_800 + 600_000 - 401)).toBe(1);
    expect(resetAt(184_800 + 600_000 - 400)).toBe(2);
  });

  it('a reset lets the device see an opening that its timer would have slept through', () => {
    const world = { lengthMs: 2_000_000, openings: [[1_000_000, 1_010_000]] as const };
    const experiment = experimentOf({ ...world, resetsMs: [1_000_500] });
    for (const record of ['all', 'none'] as const) {
      expect(simulate(experiment, { record }).tally.openChecks).toBe(1);
    }
    expect(simulate(experimentOf(world)).tally.openChecks).toBe(0);
  });

  it('time without power, held and booting is counted to the millisecond', () => {
    const { tally } = traceOf(
      {
        lengthMs,
        openings: leftOpen,
        powerOnAtMs: 1_000,
        powerLost: [[500_000, 600_000]],
      },
      {
        watch: {
          afterAlert: 'hold-until-reset',
          escalationThreshold: { open: 1, outOf: 1 },
        },
        timing: timingWith({ bootMs: 400, connectMs: 4_000 }),
      },
    );
    expect(tally).toMatchObject({
      offMs: 101_000,
      bootMs: 800,
      alertSendMs: 8_000,
      heldMs: 500_000 - 5_400 + (lengthMs - 604_400),
    });
  });
});

describe('the list of faults', () => {
  it('has each with its instant, its end, its kind and whether memory is lost', () => {
    const world = worldOf({
      lengthMs,
      powerLost: [[100_000, 200_000]],
      resetsMs: [50_000, 150_000, 300_000, 400_000],
    });
    const resetEffects = [
      { kind: 'watchdog', clears: false },
      { kind: 'button', clears: false },
      { kind: 'software', clears: true },
      { kind: 'button', clears: false },
    ] as const;
    const { faults, firstBootMs } = faultsOf({ ...world, resetEffects });
    expect(firstBootMs).toBe(0);
    const end = Number.POSITIVE_INFINITY;
    expect([...faults.atMs]).toEqual([50_000, 100_000, 300_000, 400_000, end]);
    expect([...faults.backMs]).toEqual([50_000, 200_000, 300_000, 400_000, end]);
    expect([...faults.clears]).toEqual([0, 1, 1, 0, 0]);
    expect([...faults.kinds].slice(0, 4)).toEqual([1, 0, 2, 0]);
  });
});

describe('a faulty watch whose cooldown counts from the decision', () => {
  it('counts it from there, whatever attempts follow', () => {
    // Decided at 180 800, tried again at 245 200, delivered from 309 600 to 313 600; checks at 494 000 and 674 400.
    const world = { lengthMs: 700_000, openings: leftOpen, networkDown: [[0, 300_000]] as const };
    const secondOf = (alertCooldownMs: number) => {
      const { program, ...rest } = experimentOf(world, {
        watch: { alertCooldownMs: deviceMs(alertCooldownMs) },
      });
      return simulate({ ...rest, program: { ...program, cooldownFrom: 'decision' } }).alerts[1]
        ?.decidedMs;
    };
    expect(secondOf(494_000 - 180_800)).toBe(494_000);
    expect(secondOf(494_000 - 180_800 + 1)).toBe(674_400);
  });
});

describe('heartbeats', () => {
  const heartbeats = { heartbeats: true, heartbeatIntervalMs: deviceMs(360_800) };

  it('come at the first check at which the interval has passed since power-on or the last one', () => {
    const sends = (heartbeatIntervalMs: number) =>
      traceOf(
        { lengthMs: 1_200_000 },
        { watch: { heartbeats: true, heartbeatIntervalMs: deviceMs(heartbeatIntervalMs) } },
      ).wakes.flatMap(({ heartbeatSend }) => heartbeatSend?.startMs ?? []);
    // Checks at 400, 180 800, 361 200, and 184 400 after one with a heartbeat.
    expect(sends(361_200)).toEqual([361_200, 726_000, 1_090_800]);
    expect(sends(361_201)[0]).toBe(541_600);
    expect(sends(364_800)).toEqual([541_600, 906_400]);
  });

  it('are never due to a watch that has none', () => {
    const { wakes } = traceOf({ lengthMs: 400_000 });
    expect(new Set(wakes.map(({ check }) => check?.heartbeatDue))).toEqual(new Set([false]));
  });

  it('are tried once, delivered or not', () => {
    const { tally } = traceOf(
      { lengthMs: 1_500_000, networkDown: [[0, 500_000]] },
      { watch: heartbeats },
    );
    expect(tally.heartbeatSends.failed).toBe(1);
    expect(tally.heartbeatSends.delivered).toBeGreaterThan(0);
  });

  it('that a reset cuts off count from their start', () => {
    const { tally } = traceOf({ lengthMs: 700_000, resetsMs: [363_000] }, { watch: heartbeats });
    expect(tally.heartbeatSends).toEqual({ delivered: 0, failed: 0, cutOff: 1 });
    expect(tally.heartbeatSendMs).toBe(363_000 - 361_200);
  });
});
