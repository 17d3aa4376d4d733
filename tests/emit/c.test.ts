// Emitted C, compiled and run, against an XState actor of the same watch.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { WatchSettings } from '../../src/machine/index.js';
import { type Experiment, simulate, type Trace } from '../../src/sim/index.js';
import { idealContactEdges } from '../../src/world/index.js';
import { type ActorRun, runActor } from '../support/actor-runner.js';
import { experimentsWith, logicSettings, scales, watchSettings } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { programOf, watchWith } from '../support/experiments.js';
import { expectSame } from '../support/same.js';
import { compiledWatches, onItsOwnClock, scriptOf } from './compiled.js';

/** Every combination of what a watch file may say, each at its edge. */
function combinations(): readonly WatchSettings[] {
  const thresholds = [
    { open: 1, outOf: 1 },
    { open: 2, outOf: 2 },
    { open: 2, outOf: 3 },
  ];
  const wakings = ['timer', 'opening', 'any-change'] as const;
  const all: WatchSettings[] = [];
  for (let bits = 0; bits < 64; bits += 1) {
    const heartbeats = (bits & 1) !== 0;
    // Each threshold and each way of waking meets each pair of the others.
    const escalationThreshold = thresholds[(bits + (bits >> 3)) % 3] ?? { open: 2, outOf: 2 };
    const wakeOn = wakings[(bits + (bits >> 2)) % 3] ?? 'timer';
    all.push(
      watchWith({
        escalationThreshold,
        clearThreshold: (bits & 2) === 0 ? 1 : 2,
        cooldownEndsWhenShut: (bits & 4) !== 0,
        afterAlert: (bits & 8) === 0 ? 'keep-watching' : 'hold-until-reset',
        unsentWhenShut: (bits & 16) === 0 ? 'send' : 'drop',
        retryAttempts: (bits & 32) === 0 ? 1 : 3,
        wakeOn,
        heartbeats,
        heartbeatIntervalMs: heartbeats ? deviceMs(86_400_000) : null,
      }),
    );
  }
  return all;
}

describe('emit c', () => {
  it('compiles without a warning for every combination of settings', () => {
    const all = combinations();
    expect(all.length).toBe(64);
    const run = compiledWatches(all.map(programOf));
    // A power-on and a check that reads shut: sleep the check interval.
    const lines = ['w 0 0', 'c 0 400'];
    const ran = run(all.map((_, index) => ({ index, lines, wanted: [] })));
    expect(new Set(ran)).toEqual(new Set(['64 180000']));
    expect(ran.length).toBe(all.length);
  });

  it('decides as the statechart does in 10,000 timelines of random watches, whatever goes wrong', () => {
    const drawn = scales.flatMap((scale) =>
      fc
        .sample(
          logicSettings.chain((logic) => watchSettings(logic, scale)),
          10,
        )
        .map((watch) => ({ program: programOf(watch), scale })),
    );
    const run = compiledWatches(drawn.map(({ program }) => program));
    let timelines = 0;
    const met = new Set<string>();
    for (const [index, { program, scale }] of drawn.entries()) {
      const experiments = fc
        .sample(experimentsWith(program, { ...scale, lengthMs: scale.lengthMs / 3 }), 340)
        .map(onItsOwnClock);
      // Each run is one of the compiled table; of some the XState actor itself is asked, too.
      const scripts = experiments.map((experiment, number) => {
        for (const fault of faultsIn(experiment)) met.add(fault);
        const script = { index, ...scriptOf(experiment, runOf(simulate(experiment))) };
        if (number % 50 === 0)
          expectSame({ index, ...scriptOf(experiment, runActor(experiment)) }, script);
        return script;
      });
      expectSame(
        run(scripts),
        scripts.flatMap(({ wanted }) => wanted),
      );
      timelines += scripts.length;
    }
    expect(timelines).toBeGreaterThan(10_000);
    expect(met.size).toBe(4);
  });
});

function runOf(trace: Trace): Pick<ActorRun, 'alerts' | 'wakes'> {
  return { alerts: trace.alerts, wakes: expandWakes(trace) };
}

/** What goes wrong in an experiment. */
function faultsIn({ world }: Experiment): readonly string[] {
  const ideal = idealContactEdges(world.openings);
  return [
    ...(world.powerLost.fromMs.length > 0 ? ['power'] : []),
    ...(world.resetsMs.length > 0 ? ['reset'] : []),
    ...(world.networkDown.fromMs.length > 0 ? ['network'] : []),
    ...(world.contact.length === ideal.length ? [] : ['contact']),
  ];
}
