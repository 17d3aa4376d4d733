// People: who resets a device that holds, when, and who comes when it is silent.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { answerAfterMs } from '../../src/model/index.js';
import { type Answers, simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import { supplyWith } from '../battery/supplies.js';
import { asked, experimentOf, type WorldNumbers } from '../support/experiments.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const nobody: Answers = { alertAfterMs: null, silence: null, clears: false };
const held = { afterAlert: 'hold-until-reset' } as const;

function runOf(world: WorldNumbers, answers: Answers | null, watch = {}, more = {}) {
  const experiment = { ...experimentOf(world, { watch }), answers, ...more };
  const trace = simulate(experiment);
  return { trace, verdict: judge(experiment.world.openings, trace, asked({})) };
}

describe('a device that holds after its alert', () => {
  // Two leave-opens, an hour apart.
  const world = {
    lengthMs: dayMs,
    openings: [
      [hourMs, hourMs + 20 * minuteMs],
      [3 * hourMs, 3 * hourMs + 20 * minuteMs],
    ] as const,
  };

  it('misses all that follows where nobody comes', () => {
    for (const answers of [null, nobody]) {
      const { trace, verdict } = runOf(world, answers, held);
      expect(verdict.summary).toMatchObject({ reported: 1, missed: 1 });
      expect(trace.answers).toEqual([]);
    }
  });

  it('is reset as long after the delivery as the answer takes, and reports again', () => {
    const answers = { ...nobody, alertAfterMs: () => 15 * minuteMs };
    const { trace, verdict } = runOf(world, answers, held);
    expect(verdict.summary).toMatchObject({ reported: 2, missed: 0 });
    const deliveries = trace.alerts.map(({ deliveredMs }) => (deliveredMs ?? 0) + 15 * minuteMs);
    expect(trace.answers).toEqual(deliveries.map((atMs) => ({ atMs, to: 'alert' })));
    expect(trace.tally.wakes.reset).toBe(2);
    expect(trace.tally.heldMs).toBe(2 * 15 * minuteMs);
  });

  it('is reset after the time that each alert takes, by its number', () => {
    const answers = {
      ...nobody,
      alertAfterMs: (_: number, index: number) => (index + 1) * minuteMs,
    };
    const { trace } = runOf(world, answers, held);
    const [first, second] = trace.alerts.map(({ deliveredMs }) => deliveredMs ?? 0);
    expect(trace.answers.map(({ atMs }) => atMs)).toEqual([
      (first ?? 0) + minuteMs,
      (second ?? 0) + 2 * minuteMs,
    ]);
  });
});

it('nobody comes for the alerts of a device that keeps watching', () => {
  const world = { lengthMs: dayMs, openings: [[hourMs, 2 * hourMs]] as const };
  const { trace } = runOf(world, { ...nobody, alertAfterMs: () => minuteMs });
  expect(trace.alerts.length).toBeGreaterThan(1);
  expect(trace.answers).toEqual([]);
});

describe('silence', () => {
  const beats = { heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) };
  const answers = {
    ...nobody,
    silence: { noticedAfterMs: 1.5 * dayMs, comesAfterMs: dayMs },
  };
  const supply = supplyWith(
    '{ capacity: 480mAh, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 1mA } }',
  );
  const charge = { supply, charging: { everyMs: null } };

  it('of a device that sends nothing brings somebody again and again', () => {
    const { trace } = runOf({ lengthMs: 6 * dayMs }, answers);
    expect(trace.answers.map(({ atMs }) => atMs)).toEqual([2.5 * dayMs, 5 * dayMs]);
  });

  it('brings nobody while heartbeats come', () => {
    expect(runOf({ lengthMs: 19 * dayMs }, answers, beats, { charge }).trace.answers).toEqual([]);
  });

  it('brings somebody who charges an empty device, 1.5 intervals after its last heartbeat and the time to come', () => {
    const { trace } = runOf({ lengthMs: 30 * dayMs }, answers, beats, { charge });
    const [flat] = trace.flat;
    const last = trace.wakes
      .map(({ heartbeatSend }) => heartbeatSend?.endMs ?? 0)
      .filter((endMs) => endMs > 0 && endMs < 20 * dayMs)
      .at(-1);
    const comesMs = (last ?? 0) + 2.5 * dayMs;
    expect(flat).toEqual({ fromMs: 20 * dayMs, toMs: comesMs });
    expect(trace.answers).toEqual([{ atMs: comesMs, to: 'silence' }]);
    expect(trace.charges).toEqual([{ atMs: comesMs, leftPpm: 0 }]);
    expect(runOf({ lengthMs: comesMs }, answers, beats, { charge }).trace).toMatchObject({
      ...{ answers: [], charges: [], flat: [{ fromMs: 20 * dayMs, toMs: comesMs }] },
    });
  });

  it('brings somebody who charges a device without power, but not beyond the end', () => {
    const dark = { powerLost: [[dayMs, 9 * dayMs]] as const };
    const chargedMs = (lengthMs: number) =>
      runOf({ ...dark, lengthMs }, answers, beats, { charge }).trace.charges.map(
        ({ atMs }) => atMs,
      );
    expect(chargedMs(2.5 * dayMs)).toEqual([]);
    expect(chargedMs(2.5 * dayMs + 1)).toEqual([2.5 * dayMs]);
  });

  it('brings somebody who charges it, though somebody else has just done so', () => {
    const lengthMs = 3 * dayMs;
    const plain = experimentOf({ lengthMs, networkDown: [[0, lengthMs]] }, { watch: beats });
    const world = { ...plain.world, chargedMs: Float64Array.of(2 * dayMs) };
    const { charges } = simulate({ ...plain, world, answers, charge });
    expect(charges.map(({ atMs }) => atMs)).toEqual([2 * dayMs, 2.5 * dayMs]);
  });

  it('that was noticed brings somebody, though a heartbeat comes before they do', () => {
    // The heartbeat of the first day fails, that of the second is delivered.
    const world = { lengthMs: 3 * dayMs, networkDown: [[hourMs, 1.9 * dayMs]] as const };
    const { trace } = runOf(world, answers, beats);
    expect(trace.tally.heartbeatSends).toMatchObject({ failed: 1, delivered: 1 });
    expect(trace.answers).toEqual([{ atMs: 2.5 * dayMs, to: 'silence' }]);
  });

  it('is broken by a heartbeat up to the millisecond before it is noticed', () => {
    const world = { lengthMs: 3 * dayMs };
    const [beatMs = 0] = runOf(world, null, beats).trace.wakes.flatMap(
      ({ heartbeatSend }) => heartbeatSend?.endMs ?? [],
    );
    const comesFor = (noticedAfterMs: number) =>
      runOf(world, { ...nobody, silence: { noticedAfterMs, comesAfterMs: hourMs } }, beats).trace
        .answers[0]?.atMs;
    expect(comesFor(beatMs)).toBe(beatMs + hourMs);
    // So is the silence after it, by the next one.
    expect(comesFor(beatMs + 1)).toBeUndefined();
  });

  it('of a device without power counts again from when power returns', () => {
    const world = {
      lengthMs: 13 * dayMs,
      powerLost: [[dayMs, 10 * dayMs]] as const,
      networkDown: [[0, 13 * dayMs]] as const,
    };
    const { trace } = runOf(world, answers, beats);
    expect(trace.answers.map(({ atMs }) => atMs)).toEqual([2.5 * dayMs, 12.5 * dayMs]);
  });

  it('is also that of heartbeats that were delivered and then lost', () => {
    const isHeartbeatSeen = (ms: number): boolean => ms < 4.5 * dayMs || ms > 9 * dayMs;
    const silence = { noticedAfterMs: 1.5 * dayMs, comesAfterMs: dayMs };
    const all = runOf({ lengthMs: 12 * dayMs }, { ...nobody, silence }, beats).trace;
    expect(all.answers).toEqual([]);
    const { trace } = runOf(
      { lengthMs: 12 * dayMs },
      { ...nobody, silence: { ...silence, isHeartbeatSeen } },
      beats,
    );
    expect(trace.tally.heartbeatSends).toEqual(all.tally.heartbeatSends);
    // The last that was seen came on day 4; from the first visit on silence counts again.
    const [first, second] = trace.answers;
    expect(trace.answers).toHaveLength(2);
    expect(Math.floor((first?.atMs ?? 0) / hourMs)).toBe(6.5 * 24);
    expect((second?.atMs ?? 0) - (first?.atMs ?? 0)).toBe(2.5 * dayMs);
  });

  it('of a device that holds ends with a reset', () => {
    const world = { lengthMs: 10 * dayMs, openings: [[hourMs, 2 * hourMs]] as const };
    const { trace } = runOf(world, answers, { ...beats, ...held });
    expect(trace.answers[0]).toEqual({ atMs: 2.5 * dayMs, to: 'silence' });
    expect(trace.tally.heartbeatSends.delivered).toBeGreaterThan(5);
  });
});

describe('heartbeats of a device that somebody resets after each alert', () => {
  const beats = { heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) };
  const silence = { noticedAfterMs: 1.5 * dayMs, comesAfterMs: hourMs };
  const openedAt = (fromMs: number) => [fromMs, fromMs + 20 * minuteMs] as const;
  // Each alert comes before the heartbeat that would be due.
  const daily = {
    lengthMs: 10 * dayMs,
    openings: [0, 1, 2, 3, 4, 5, 6, 7, 8].map((day) => openedAt((day + 0.6) * dayMs)),
  };

  it('are not overdue where the reset starts their interval again', () => {
    const answers = { alertAfterMs: () => hourMs, silence, clears: true };
    const { trace } = runOf(daily, answers, { ...beats, ...held });
    expect(trace.alerts).toHaveLength(9);
    expect(trace.answers.map(({ to }) => to)).toEqual(Array.from({ length: 9 }, () => 'alert'));
  });

  it('are not expected while somebody is on the way to reset it', () => {
    const answers = { alertAfterMs: () => 3 * dayMs, silence, clears: false };
    const world = { lengthMs: 9 * dayMs, openings: [openedAt(hourMs)] };
    expect(runOf(world, answers, { ...beats, ...held }).trace.answers).toMatchObject([
      { to: 'alert' },
    ]);
  });

  it('are overdue 1.5 intervals after that reset, if none comes then', () => {
    const answers = { alertAfterMs: () => hourMs, silence, clears: true };
    const world = {
      lengthMs: 3 * dayMs,
      openings: [openedAt(0.9 * dayMs)],
      networkDown: [[1.5 * dayMs, 3 * dayMs]] as const,
    };
    const { trace } = runOf(world, answers, { ...beats, ...held });
    const [reset, visit] = trace.answers;
    expect(reset?.to).toBe('alert');
    expect(visit).toEqual({ atMs: (reset?.atMs ?? 0) + 1.5 * dayMs + hourMs, to: 'silence' });
  });

  it('are overdue as if no alert had come where nobody sees that alert', () => {
    const answers = { alertAfterMs: () => Number.POSITIVE_INFINITY, silence, clears: true };
    const world = { lengthMs: 2 * dayMs, openings: [openedAt(0.9 * dayMs)] };
    const { trace } = runOf(world, answers, { ...beats, ...held });
    expect(trace.answers).toEqual([{ atMs: 1.5 * dayMs + hourMs, to: 'silence' }]);
  });

  it('still bring somebody who had noticed before the alert', () => {
    const answers = {
      alertAfterMs: () => 30 * minuteMs,
      silence: { ...silence, comesAfterMs: dayMs },
      clears: true,
    };
    const world = {
      lengthMs: 3 * dayMs,
      openings: [openedAt(1.8 * dayMs)],
      networkDown: [[0, 1.7 * dayMs]] as const,
    };
    const { trace } = runOf(world, answers, { ...beats, ...held });
    expect(trace.answers.map(({ to }) => to)).toEqual(['alert', 'silence']);
    expect(trace.answers[1]?.atMs).toBe(2.5 * dayMs);
  });
});

it('heartbeats of a device that was charged when it was empty count from that charge', () => {
  const supply = supplyWith(
    '{ capacity: 480mAh, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 1mA } }',
  );
  const beats = { heartbeats: true, heartbeatIntervalMs: deviceMs(dayMs) };
  const silence = { noticedAfterMs: 1.5 * dayMs, comesAfterMs: hourMs };
  const plain = experimentOf({ lengthMs: 25 * dayMs }, { watch: beats });
  // Empty on day 20 and charged before somebody would notice; the heartbeat after that comes later than they would.
  const world = { ...plain.world, chargedMs: Float64Array.of(20 * dayMs + 10 * hourMs) };
  const charge = { supply, charging: { everyMs: null } };
  const trace = simulate({ ...plain, world, answers: { ...nobody, silence }, charge });
  expect(trace.flat).toEqual([{ fromMs: 20 * dayMs, toMs: 20 * dayMs + 10 * hourMs }]);
  expect(trace.answers).toEqual([]);
});

describe('an answer by day and by night', () => {
  const delay = {
    kind: 'byNight',
    dayMs: 15 * minuteMs,
    nightMs: 8 * hourMs,
    nightFromMs: 22 * hourMs,
    nightUntilMs: 6.5 * hourMs,
  } as const;

  it.each([
    ['by day', 12, 0.25],
    ['as the night begins', 22, 8],
    ['at 2 in the morning no later than 06:45', 2, 4.75],
    ['a day later', 26, 4.75],
    ['as the night ends', 6.5, 0.25],
  ])('%s', (_, hour, takes) => {
    expect(answerAfterMs(delay, hour * hourMs)).toBe(takes * hourMs);
  });
});
