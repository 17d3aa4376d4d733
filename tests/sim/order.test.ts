// What happens first of two things at one instant. The plain watch here checks at 400, 180 800, 361 200 … and an
// alert decided at 180 800 is sent until 184 800.
import { describe, expect, it } from 'vitest';
import { simulate, type Trace } from '../../src/sim/index.js';
import { expandWakes } from '../support/expand.js';
import { experimentOf, type WorldNumbers } from '../support/experiments.js';

/** The run with every wake, which is the same where none is recorded. */
function traceOf(...given: Parameters<typeof experimentOf>): Trace {
  const experiment = experimentOf(...given);
  const trace = simulate(experiment);
  expect(simulate(experiment, { record: 'none' })).toEqual({ ...trace, wakes: [] });
  return trace;
}

const lengthMs = 1_000_000;
const leftOpen = [[0, Number.POSITIVE_INFINITY]] as const;

function checksOf(world: Partial<WorldNumbers>): (readonly [string, number | null])[] {
  return expandWakes(traceOf({ lengthMs, ...world })).map(({ cause, checkMs }) => [cause, checkMs]);
}

describe('at one instant', () => {
  it('the door has opened before the check that reads it', () => {
    const [wake] = traceOf({ lengthMs, openings: [[400, 500]] }).wakes;
    expect(wake?.check?.contact).toBe('open');
  });

  it('the door has shut before the check that reads it', () => {
    const [wake] = traceOf({ lengthMs, openings: [[0, 400]] }).wakes;
    expect(wake?.check?.contact).toBe('shut');
  });

  it('the network has come up before the send that ends', () => {
    const network = { openings: leftOpen, lengthMs, networkDown: [[0, 184_800]] as const };
    expect(traceOf(network).alerts[0]?.deliveredMs).toBe(184_800);
  });

  it('the network has gone down before the send that ends', () => {
    const network = { openings: leftOpen, lengthMs, networkDown: [[184_800, 184_801]] as const };
    expect(traceOf(network).alerts[0]?.attempts[0]?.outcome).toBe('failed');
  });

  it('a power loss comes before the check', () => {
    expect(checksOf({ powerLost: [[180_800, 300_000]] }).slice(0, 3)).toEqual([
      ['power-on', 400],
      ['timer', null],
      ['power-on', 300_400],
    ]);
  });

  it('a reset comes before the check, which then waits for another boot', () => {
    expect(checksOf({ resetsMs: [180_800] }).slice(0, 3)).toEqual([
      ['power-on', 400],
      ['timer', null],
      ['reset', 181_200],
    ]);
  });

  it('a reset comes before the timer: the wake is its own', () => {
    expect(checksOf({ resetsMs: [180_400] }).slice(0, 2)).toEqual([
      ['power-on', 400],
      ['reset', 180_800],
    ]);
  });

  it('a reset comes before the timer of a device that has slept before', () => {
    expect(checksOf({ resetsMs: [360_800] }).slice(0, 3)).toEqual([
      ['power-on', 400],
      ['timer', 180_800],
      ['reset', 361_200],
    ]);
  });

  it('a power loss comes before the timer', () => {
    expect(checksOf({ powerLost: [[180_400, 180_401]] }).slice(0, 2)).toEqual([
      ['power-on', 400],
      ['power-on', 180_801],
    ]);
  });

  it('a power loss comes before a reset', () => {
    const world = { powerLost: [[100_000, 200_000]] as const, resetsMs: [100_000] };
    expect(checksOf(world).slice(0, 2)).toEqual([
      ['power-on', 400],
      ['power-on', 200_400],
    ]);
  });

  it('a reset adds nothing to a boot', () => {
    const world = { powerLost: [[100_000, 200_000]] as const, resetsMs: [0, 200_000] };
    expect(checksOf(world).slice(0, 2)).toEqual([
      ['power-on', 400],
      ['power-on', 200_400],
    ]);
  });

  it('a reset comes before the end of a send: the alert stays pending', () => {
    const { alerts } = traceOf({ lengthMs, openings: leftOpen, resetsMs: [184_800] });
    expect(alerts).toHaveLength(1);
    expect(alerts[0]?.attempts).toEqual([
      { startMs: 180_800, endMs: 184_800, outcome: 'cutOff' },
      { startMs: 185_200, endMs: 189_200, outcome: 'delivered' },
    ]);
  });

  it('a power loss comes before the end of a send: the alert is forgotten', () => {
    const { alerts } = traceOf({ lengthMs, openings: leftOpen, powerLost: [[184_800, 185_000]] });
    expect(alerts[0]?.forgottenMs).toBe(184_800);
    expect(alerts[0]?.deliveredMs).toBeNull();
    expect(alerts[1]?.decidedMs).toBe(365_800);
  });

  it('the timer comes before the contact edge', () => {
    const edge = { lengthMs, openings: [[180_400, 200_000]] as const };
    const causes = traceOf(edge, { watch: { wakeOn: 'opening' } }).wakes.map(({ cause }) => cause);
    expect(causes.slice(0, 2)).toEqual(['power-on', 'timer']);
  });

  it('an edge at the instant of falling asleep does not wake', () => {
    const edge = { lengthMs, openings: [[400, 200_000]] as const };
    const causes = traceOf(edge, { watch: { wakeOn: 'any-change' } }).wakes.map(
      (wake) => wake.cause,
    );
    expect(causes.slice(0, 2)).toEqual(['power-on', 'timer']);
  });

  it('an edge a millisecond after falling asleep does wake, and so does one just before the timer', () => {
    for (const openMs of [401, 180_399]) {
      const edge = { lengthMs, openings: [[openMs, 300_000]] as const };
      const [, wake] = traceOf(edge, { watch: { wakeOn: 'opening' } }).wakes;
      expect(wake).toMatchObject({ cause: 'contact', wakeMs: openMs });
      expect(wake?.check?.atMs).toBe(openMs + 400);
    }
  });

  it('a fault comes before the contact edge', () => {
    const edge = { lengthMs, openings: [[50_000, 60_000]] as const, resetsMs: [50_000] };
    const { wakes } = traceOf(edge, { watch: { wakeOn: 'opening' } });
    expect(wakes.slice(0, 2).map(({ cause }) => cause)).toEqual(['power-on', 'reset']);
  });
});

describe('armed contact edges', () => {
  const openings = [[50_000, 120_000]] as const;

  it('to open wake a device that watches for openings', () => {
    const { wakes } = traceOf({ lengthMs: 170_000, openings }, { watch: { wakeOn: 'opening' } });
    expect(wakes.map(({ cause, wakeMs }) => [cause, wakeMs])).toEqual([
      ['power-on', 0],
      ['contact', 50_000],
    ]);
  });

  it('of both kinds wake a device that watches for any change', () => {
    const { wakes } = traceOf({ lengthMs: 170_000, openings }, { watch: { wakeOn: 'any-change' } });
    expect(wakes.map(({ cause, wakeMs }) => [cause, wakeMs])).toEqual([
      ['power-on', 0],
      ['contact', 50_000],
      ['contact', 120_000],
    ]);
  });

  it('do nothing to a device that boots, sends or holds', () => {
    const { wakes } = traceOf(
      {
        lengthMs: 170_000,
        openings: [
          [0, 200],
          [300, 2_000],
          [3_000, 50_000],
          [60_000, 70_000],
        ],
      },
      {
        watch: {
          wakeOn: 'any-change',
          afterAlert: 'hold-until-reset',
          escalationThreshold: { open: 1, outOf: 1 },
        },
      },
    );
    expect(wakes.map(({ cause, holds }) => [cause, holds])).toEqual([['power-on', true]]);
  });

  it('that come in a boot are read by its check', () => {
    const { wakes } = traceOf(
      {
        lengthMs: 170_000,
        openings: [
          [50_000, 50_100],
          [50_200, 90_000],
        ],
      },
      { watch: { wakeOn: 'opening' } },
    );
    expect(wakes.map(({ cause, check }) => [cause, check?.contact])).toEqual([
      ['power-on', 'shut'],
      ['contact', 'open'],
    ]);
  });
});

describe('the end of the timeline', () => {
  it('has no check at or after it', () => {
    expect(traceOf({ lengthMs: 400 }).tally.checks).toBe(0);
    expect(traceOf({ lengthMs: 401 }).tally.checks).toBe(1);
    expect(traceOf({ lengthMs: 180_800 }).tally.checks).toBe(1);
    expect(traceOf({ lengthMs: 180_801 }).tally.checks).toBe(2);
  });

  it('has no delivery at or after it: the send is cut off', () => {
    const sendUntil = (endMs: number) => traceOf({ lengthMs: endMs, openings: leftOpen }).alerts[0];
    expect(sendUntil(184_800)).toMatchObject({ deliveredMs: null });
    expect(sendUntil(184_800)?.attempts).toEqual([
      { startMs: 180_800, endMs: 184_800, outcome: 'cutOff' },
    ]);
    expect(sendUntil(184_801)).toMatchObject({ deliveredMs: 184_800 });
  });

  it('comes before a device that powers on at it', () => {
    const trace = traceOf({ lengthMs: 500, powerOnAtMs: 500 });
    expect(trace.wakes).toEqual([]);
    expect(trace.tally.offMs).toBe(500);
  });

  it('cuts a boot short, and the wake is told', () => {
    const trace = traceOf({ lengthMs: 180_500 });
    expect(trace.wakes.at(-1)).toMatchObject({ wakeMs: 180_400, check: null, sleep: null });
    expect(trace.tally.bootMs).toBe(500);
  });

  it('ignores faults at or after it', () => {
    const plain = traceOf({ lengthMs });
    const faults = { powerLost: [[lengthMs, lengthMs + 5]] as const, resetsMs: [lengthMs + 9] };
    expect(traceOf({ lengthMs, ...faults })).toEqual(plain);
  });
});
