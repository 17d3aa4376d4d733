// A firmware written by hand decides what the machine decides, on whatever befalls it.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceMs, trueMs } from '../../src/base/index.js';
import { conformance } from '../../src/rig/index.js';
import { defaultWatchFile } from '../../src/scenarios/index.js';
import { compileWatch, type Experiment, simulate } from '../../src/sim/index.js';
import { idealContactEdges, type Spans, spansOf, type World } from '../../src/world/index.js';
import { experiments, scales } from '../support/arbitraries.js';
import { dayOfADoor, onTheRig } from './on-the-rig.js';

const usual = defaultWatchFile().watch;
const { table } = compileWatch(usual);
const ask = { wakes: true, limitSeconds: 20 };

describe('the default watch by hand', () => {
  it('decides like the machine over random timelines, clocks and faults', async () => {
    const rig = await onTheRig('default-watch.c');
    const [, , minutes] = scales;
    fc.assert(
      fc.property(experiments(minutes ?? fail(), 4, fc.constant(usual)), (drawn) => {
        for (const one of drawn) {
          const experiment: Experiment = { ...one, program: { watch: usual, table } };
          const run = rig.run(experiment, ask);
          expect(conformance(run, simulate(experiment), usual)).toBeNull();
        }
      }),
      { numRuns: 60 },
    );
  });

  it('does so where every boundary is hit all the time', async () => {
    const watch = {
      ...usual,
      checkIntervalMs: deviceMs(7),
      recheckIntervalMs: deviceMs(7),
      retryIntervalMs: deviceMs(3),
      alertCooldownMs: deviceMs(29),
    };
    const rig = await onTheRig('default-watch.c', 'cc -DCHECK_MS=7 -DRETRY_MS=3 -DCOOLDOWN_MS=29');
    const [instants] = scales;
    fc.assert(
      fc.property(experiments(instants ?? fail(), 4, fc.constant(usual)), (drawn) => {
        for (const one of drawn) {
          const experiment: Experiment = { ...one, program: { watch, table } };
          const run = rig.run(experiment, ask);
          expect(conformance(run, simulate(experiment), watch)).toBeNull();
        }
      }),
      { numRuns: 200 },
    );
  });

  it('gets the same answer where wakes and runs that are alike are passed over, and where each is run', async () => {
    const rigs = [
      await onTheRig('default-watch.c', 'cc -DFIRST_SPACING=2'),
      await onTheRig('default-watch.c', 'cc -DDOZEWATCH_EVERY_WAKE'),
    ];
    const [, , minutes] = scales;
    fc.assert(
      fc.property(
        experiments(minutes ?? fail(), 4, fc.constant(usual)),
        fc.nat(40),
        (drawn, memoryOf) => {
          for (const one of drawn) {
            const experiment: Experiment = { ...one, program: { watch: usual, table } };
            for (const world of [one.world, ...changed(one.world)]) {
              const [skipped, each] = rigs.map((rig) =>
                rig.run({ ...experiment, world }, { ...ask, memoryOf }),
              );
              expect(skipped?.reply).toEqual(each?.reply);
            }
          }
        },
      ),
      { numRuns: 15 },
    );
  });

  it('is told apart from another watch, with the instant and the memory of both', async () => {
    const rig = await onTheRig('default-watch.c');
    const watch = { ...usual, checkIntervalMs: deviceMs(180_000) };
    const experiment = { ...dayOfADoor(), program: { watch, table } };
    const found = conformance(rig.run(experiment, ask), simulate(experiment), watch);
    expect(found).toMatchObject({
      atMs: 400,
      wake: 0,
      what: 'the firmware sleeps 2 min, the machine sleeps 3 min',
      machine: { before: { recentChecks: 0 } },
    });
    const { memory } = rig.run(experiment, { ...ask, memoryOf: 0 }).reply;
    expect(memory.before?.length).toBeGreaterThan(0);
    expect(memory.after).toEqual(memory.before);
  });

  it('answers the same bytes for the same experiment', async () => {
    const rig = await onTheRig('default-watch.c');
    const experiment = dayOfADoor();
    expect(rig.run(experiment, ask).reply).toEqual(rig.run(experiment, ask).reply);
  });
});

/** Worlds that are the same up to some instant. */
function changed(world: World): readonly World[] {
  const { openings, networkDown, resetsMs, powerLost, lengthMs } = world;
  const fewer = spansOf(pairsOf(openings).slice(0, -1));
  return [
    { ...world, openings: fewer, contact: idealContactEdges(fewer) },
    { ...world, networkDown: spansOf(pairsOf(networkDown).slice(1)) },
    { ...world, resetsMs: resetsMs.subarray(1) },
    { ...world, powerLost: spansOf(pairsOf(powerLost).map(([from, to]) => [from, to + 7])) },
    { ...world, lengthMs: trueMs(Math.ceil(lengthMs / 2)) },
  ];
}

function pairsOf({ fromMs, toMs }: Spans): [number, number][] {
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? from]);
}

function fail(): never {
  throw new Error('there is such a scale');
}
