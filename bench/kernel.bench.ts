// Device-years a second: the kernel with full judging against an XState actor stepped on XState's simulated clock,
// the same year, the same verdict. Aimed at: 10,000 device-years a second, and 5,000 times the actor.
import { isDeepStrictEqual } from 'node:util';
import { compileWatch, type Experiment, simulate } from '../src/sim/index.js';
import { judge, type Verdict } from '../src/verdict/index.js';
import { runActor } from '../tests/support/actor-runner.js';
import type { BenchReport } from './contract.js';
import { yearAsked, yearCharge, yearOfDoor, yearTiming, yearWatch } from './year.js';

const measureMs = 2_000;
const runsABatch = 20;

function experimentOf(seed: string): Experiment {
  const program = compileWatch(yearWatch);
  return { program, timing: yearTiming, world: yearOfDoor(seed), seed };
}

/** Every outcome written out, so that two verdicts can be compared. */
function written({ openings, ...verdict }: Verdict): unknown {
  const outcomes = Array.from({ length: openings.count }, (_, index) => openings.at(index));
  return { ...verdict, outcomes };
}

/** How often a second `work` is done: in the fastest of many batches, since other programs only make it slower. */
function perSecond(work: (turn: number) => void): number {
  const started = performance.now();
  let fastestMs = Number.POSITIVE_INFINITY;
  while (performance.now() - started < measureMs) {
    const batch = performance.now();
    for (let turn = 0; turn < runsABatch; turn += 1) work(turn);
    fastestMs = Math.min(fastestMs, performance.now() - batch);
  }
  return (runsABatch * 1_000) / fastestMs;
}

export function run(): Promise<BenchReport> {
  const years = ['a', 'b', 'c', 'd'].map(experimentOf);
  const yearOf = (turn: number): Experiment => years[turn % years.length] ?? experimentOf('a');
  const judgedKernel = (experiment: Experiment): Verdict =>
    judge(experiment.world.openings, simulate(experiment, { record: 'none' }), yearAsked);

  const bare = perSecond((turn) => simulate(yearOf(turn), { record: 'none' }));
  const kernel = perSecond((turn) => judgedKernel(yearOf(turn)));
  const drained = perSecond((turn) =>
    simulate({ ...yearOf(turn), charge: yearCharge }, { record: 'none' }),
  );
  const traced = perSecond((turn) => simulate(yearOf(turn), { record: 'all' }));

  const year = yearOf(0);
  const started = performance.now();
  const { alerts, checks } = runActor(year);
  const actorTrace = { alerts, lengthMs: year.world.lengthMs, tally: { checks } };
  const actorVerdict = judge(year.world.openings, actorTrace, yearAsked);
  const actor = 1_000 / (performance.now() - started);

  const kernelVerdict = judgedKernel(year);
  if (!isDeepStrictEqual(written(kernelVerdict), written(actorVerdict))) {
    throw new Error('the kernel and the actor came to different verdicts');
  }
  const { leaveOpens, reported, missed } = kernelVerdict.summary;
  const unit = 'device-years/s';
  return Promise.resolve({
    title: `A year of a door, the same verdict from both: ${leaveOpens} leave-opens, ${reported} reported, ${missed} missed`,
    baseline: 'XState actor on SimulatedClock, judged',
    rows: [
      { name: 'XState actor on SimulatedClock, judged', value: actor, unit },
      { name: 'kernel, judged', value: kernel, unit },
      { name: 'kernel, not judged', value: bare, unit },
      { name: 'kernel, not judged, on a charge of three weeks', value: drained, unit },
      { name: 'kernel, every wake recorded', value: traced, unit },
    ],
  });
}
