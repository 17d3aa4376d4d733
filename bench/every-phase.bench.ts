// A month of a door at every phase of the checks, exactly, against plain runs at each phase (some of them, and the rest by their
// mean). Aimed at: a month of 40 openings a day in under 2 seconds.
import { deviceMs, ppm, randomStream, trueMs } from '../src/base/index.js';
import { everyPhase, phaseLengthOf } from '../src/phase/index.js';
import { compileWatch, type Experiment, simulate } from '../src/sim/index.js';
import { judge } from '../src/verdict/index.js';
import { deviceTiming, idealContactEdges, noSpans, spansOf } from '../src/world/index.js';
import type { BenchReport } from './contract.js';
import { yearAsked, yearWatch } from './year.js';

const dayMs = 86_400_000;
const plainRuns = 50;

/** Openings of some seconds up to some minutes, at random times of the day. */
function doorOf(days: number, openingsADay: number): Experiment['world'] {
  const lengthMs = trueMs(days * dayMs);
  const stream = randomStream('every phase', 'bench');
  const pairs = Array.from({ length: days * openingsADay }, (): [number, number] => {
    const fromMs = stream.whole(0, lengthMs - 1);
    const ms = Math.round(20_000 * Math.exp(3 * (stream.unit() - 0.5)));
    return [fromMs, Math.min(lengthMs, fromMs + (stream.unit() < 0.05 ? 10 * ms : ms))];
  });
  const openings = spansOf(pairs);
  return {
    lengthMs,
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
}

function experimentOf(
  world: Experiment['world'],
  recheckMs: number,
  bootMostMs: number,
): Experiment {
  const watch = {
    ...yearWatch,
    checkIntervalMs: deviceMs(120_000),
    recheckIntervalMs: deviceMs(recheckMs),
  };
  const timing = deviceTiming({
    bootTime: { kind: 'range', leastMs: trueMs(400), greatestMs: trueMs(bootMostMs) },
    connectTime: { kind: 'fixed', ms: trueMs(4_000) },
    clockError: { kind: 'fixed', ppm: ppm(0) },
  });
  const fixed = deviceTiming({ ...timing, bootTime: { kind: 'fixed', ms: trueMs(400) } });
  const program = compileWatch(watch);
  return { program, timing: bootMostMs === 400 ? fixed : timing, world, seed: 'bench' };
}

function seconds(work: () => unknown): number {
  const started = performance.now();
  work();
  return (performance.now() - started) / 1_000;
}

export function run(): Promise<BenchReport> {
  const month = doorOf(30, 40);
  const plain = experimentOf(month, 120_000, 400);
  const phases = phaseLengthOf(plain).lengthMs;
  const some = seconds(() => {
    for (let turn = 0; turn < plainRuns; turn += 1) {
      const powerOnAtMs = trueMs(Math.floor((turn * phases) / plainRuns));
      const world = { ...month, powerOnAtMs };
      judge(month.openings, simulate({ ...plain, world }, { record: 'none' }), yearAsked);
    }
  });
  const every = (experiment: Experiment): number => {
    everyPhase(experiment, yearAsked);
    return seconds(() => everyPhase(experiment, yearAsked));
  };
  const unit = 's';
  const baseline = `plain runs at all ${String(phases)} phases, from ${String(plainRuns)} of them`;
  return Promise.resolve({
    title: `Every phase of a door with 40 openings a day`,
    baseline,
    rows: [
      { name: baseline, value: (some / plainRuns) * phases, unit },
      { name: 'a month', value: every(plain), unit },
      { name: 'a month, quick re-check', value: every(experimentOf(month, 50_000, 400)), unit },
      {
        name: 'a month, boot time with a range',
        value: every(experimentOf(month, 120_000, 600)),
        unit,
      },
      { name: 'a year', value: every(experimentOf(doorOf(365, 40), 120_000, 400)), unit },
    ],
  });
}
