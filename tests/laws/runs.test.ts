// Laws of whole runs: what must not matter does not, and what is cut short is the beginning of what is not.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { type Experiment, simulate, type Trace } from '../../src/sim/index.js';
import type { DeviceTiming, Spans, World } from '../../src/world/index.js';
import { experiments, type Scale, scales, someLogics } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import type { OracleWake } from '../support/oracle.js';
import { expectSame } from '../support/same.js';

function forEachExperiment(scale: Scale, check: (experiment: Experiment) => void): void {
  fc.assert(
    fc.property(experiments(scale, 20, someLogics), (drawn) => {
      for (const experiment of drawn) check(experiment);
    }),
    { numRuns: 25 },
  );
}

/** A wake up to an instant, as a run that ends there tells it. */
function cutAt(wake: OracleWake, endMs: number): OracleWake {
  const cutOff = (send: OracleWake['alertSend']) => {
    if (send === null || send.endMs < endMs) return send;
    const { startMs, waitedMs: waitedLongerMs = 0 } = send;
    const waitedMs = endMs - (send.endMs - waitedLongerMs);
    const fails = send.outcome === 'failed' || send.wouldFail === true;
    const cut = {
      ...{ startMs, endMs, outcome: 'cutOff' as const },
      ...(fails ? { wouldFail: true as const } : {}),
    };
    return waitedMs > 0 ? { ...cut, waitedMs } : cut;
  };
  if (wake.checkMs === null || wake.checkMs >= endMs) {
    const nothing = { checkMs: null, contact: null, escalated: false, decision: null };
    return {
      ...wake,
      ...nothing,
      alertSend: null,
      heartbeatSend: null,
      lowBatterySend: null,
      lowBatteryWithAlert: false,
      sleep: null,
      holds: false,
    };
  }
  const cut = {
    ...wake,
    alertSend: cutOff(wake.alertSend),
    heartbeatSend: cutOff(wake.heartbeatSend),
    lowBatterySend: cutOff(wake.lowBatterySend),
  };
  const send = cut.alertSend ?? cut.heartbeatSend ?? cut.lowBatterySend;
  return send?.outcome === 'cutOff' ? { ...cut, sleep: null, holds: false } : cut;
}

function shifted(spans: Spans, byMs: number): Spans {
  return {
    fromMs: spans.fromMs.map((atMs) => atMs + byMs),
    toMs: spans.toMs.map((atMs) => atMs + byMs),
  };
}

function shiftedWorld(world: World, byMs: number): World {
  return {
    lengthMs: trueMs(world.lengthMs + byMs),
    openings: shifted(world.openings, byMs),
    contact: world.contact.map((atMs) => atMs + byMs),
    networkDown: shifted(world.networkDown, byMs),
    powerLost: shifted(world.powerLost, byMs),
    resetsMs: world.resetsMs.map((atMs) => atMs + byMs),
    ...(world.resetEffects === undefined ? {} : { resetEffects: world.resetEffects }),
    ...(world.batteryLow === undefined ? {} : { batteryLow: shifted(world.batteryLow, byMs) }),
    powerOnAtMs: trueMs(world.powerOnAtMs + byMs),
  };
}

function shiftedTiming({ clockError, ...timing }: DeviceTiming, byMs: number): DeviceTiming {
  if (clockError.kind !== 'curve') return { ...timing, clockError };
  const steps = clockError.steps.map((step) => ({ ...step, fromMs: trueMs(step.fromMs + byMs) }));
  return { ...timing, clockError: { kind: 'curve', steps } };
}

/** Everything in a trace that is an instant, less the shift. */
function shiftedBack(trace: Trace, byMs: number): unknown {
  return JSON.parse(
    JSON.stringify([trace.alerts, expandWakes(trace)], (key, value: unknown) =>
      typeof value === 'number' && key.endsWith('Ms') && key !== 'lengthMs' && key !== 'waitedMs'
        ? value - byMs
        : value,
    ),
  );
}

describe.each(scales)('a run with sleeps from $leastMs ms', (scale) => {
  it('has the same alerts and totals whatever is recorded', () => {
    forEachExperiment(scale, (experiment) => {
      const all = simulate(experiment, { record: 'all' });
      const none = simulate(experiment, { record: 'none' });
      const middleMs = Math.floor(experiment.world.lengthMs / 2);
      const half = simulate(experiment, { record: [[0, middleMs]] });
      expectSame(none, { ...all, wakes: [] });
      expectSame({ ...half, wakes: [] }, none);
      expectSame(half.wakes, all.wakes.slice(0, half.wakes.length));
      const left = all.wakes.slice(half.wakes.length);
      expect(left.every(({ wakeMs }) => wakeMs >= middleMs)).toBe(true);
    });
  });

  it('is recorded whole when it is recorded in two pieces', () => {
    forEachExperiment(scale, (experiment) => {
      const { lengthMs } = experiment.world;
      const middleMs = Math.floor(lengthMs / 3);
      const pieces = simulate(experiment, {
        record: [
          [0, middleMs],
          [middleMs, lengthMs],
        ],
      });
      expectSame(pieces, simulate(experiment));
    });
  });

  it('is the same each time', () => {
    forEachExperiment(scale, (experiment) => {
      expectSame(simulate(experiment), simulate(experiment));
    });
  });

  it('that ends sooner is the beginning of the one that ends later', () => {
    forEachExperiment(scale, (experiment) => {
      const endMs = Math.ceil(experiment.world.lengthMs / 2);
      const world = { ...experiment.world, lengthMs: trueMs(endMs) };
      const whole = expandWakes(simulate(experiment)).filter(({ wakeMs }) => wakeMs < endMs);
      const cut = whole.map((wake) => cutAt(wake, endMs));
      expectSame(expandWakes(simulate({ ...experiment, world })), cut);
    });
  });

  it('later is the same run, so much later', () => {
    forEachExperiment(scale, (experiment) => {
      const byMs = 12_345;
      const late = simulate({
        ...experiment,
        timing: shiftedTiming(experiment.timing, byMs),
        world: shiftedWorld(experiment.world, byMs),
      });
      expectSame(shiftedBack(late, byMs), shiftedBack(simulate(experiment), 0));
    });
  });

  it('draws the same boot and connect times when an opening is taken away', () => {
    forEachExperiment(scale, (experiment) => {
      const { contact } = experiment.world;
      const world = {
        ...experiment.world,
        contact: contact.slice(0, contact.length & ~1).slice(2),
      };
      const boots = (trace: Trace) =>
        expandWakes(trace).map(({ wakeMs, checkMs }) =>
          checkMs === null ? null : checkMs - wakeMs,
        );
      const connects = (trace: Trace) =>
        expandWakes(trace)
          .flatMap(
            ({ alertSend, heartbeatSend, lowBatterySend }) =>
              alertSend ?? heartbeatSend ?? lowBatterySend ?? [],
          )
          .map(({ startMs, endMs, outcome, waitedMs = 0 }) =>
            outcome === 'cutOff' ? null : endMs - startMs - waitedMs,
          );
      const one = simulate(experiment);
      const other = simulate({ ...experiment, world });
      for (const drawsOf of [boots, connects]) {
        const [first, second] = [drawsOf(one), drawsOf(other)];
        const common = first.map((ms, index) => {
          const also = second[index];
          return also === undefined || also === null || ms === null || also === ms;
        });
        expect(common.every(Boolean)).toBe(true);
      }
    });
  });

  it('does not hear of an opening that no check falls into, when no edge wakes it', () => {
    forEachExperiment(scale, (experiment) => {
      if (experiment.program.watch.wakeOn !== 'timer') return;
      const trace = simulate(experiment);
      const checks = expandWakes(trace).flatMap(({ checkMs }) => checkMs ?? []);
      const { contact } = experiment.world;
      const seenEdges: number[] = [];
      for (let index = 0; index < contact.length; index += 2) {
        const from = contact[index] ?? 0;
        const to = contact[index + 1] ?? Number.POSITIVE_INFINITY;
        if (checks.some((atMs) => from <= atMs && atMs < to)) seenEdges.push(from, to);
      }
      const seen = Float64Array.from(seenEdges.filter(Number.isFinite));
      const world = { ...experiment.world, contact: seen };
      expectSame(simulate({ ...experiment, world }).alerts, trace.alerts);
    });
  });

  it('does not look at its seed where nothing is drawn', () => {
    forEachExperiment(scale, (experiment) => {
      const { bootTime, connectTime, clockError } = experiment.timing;
      const kinds = [bootTime.kind, connectTime.kind, clockError.kind];
      if (kinds.includes('range') || kinds.includes('drawn')) return;
      expectSame(simulate({ ...experiment, seed: 'another' }), simulate(experiment));
    });
  });
});
