// `dozewatch battery` at work.
import { durationText, plain } from '../../base/index.js';
import {
  asMeasured,
  type BatteryAnswer,
  batteryAnswer,
  type CalibrationAnswer,
  calibrationOf,
  lifeText,
  type PoweredCost,
  poweredCost,
  useOf,
} from '../../battery/index.js';
import type { BatteryRun } from '../../chart/index.js';
import type { SupplySettings } from '../../model/index.js';
import { experimentOf, parseMeasuredLife, type Timeline } from '../../scenarios/index.js';
import { simulate, type Trace } from '../../sim/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { refuseStdout } from '../host/outputs.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { refuseUnfitOutputs } from '../host/write-output.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { roomTemperatureNotes } from '../inputs/room-temperature.js';
import { supplyOf } from '../inputs/supply-of.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { pictureFormat, writePicture } from '../layout/write-picture.js';
import { problem, valueOf } from '../problem.js';
import { batteryJson } from './json.js';
import type { BatteryOptions } from './options.js';
import { batteryReport } from './report.js';

/** In a picture: more would not be compared at a glance. */
const mostDaysDrawn = 3;

/** @throws InputProblem for input that cannot be read or believed. */
export async function battery(
  inputs: readonly string[],
  options: BatteryOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  if (inputs.length > 0) checkInputs(inputs, options, options.config);
  const lives = measuredLives(inputs, options);
  await checkChart(inputs, options, io);
  const watch = await loadWatch(options.config, io);
  const supply = supplyOf(watch);
  const paint = paintFor('stderr', on);
  await writeDiagnostics([...watch.warnings, ...roomTemperatureNotes(watch)], {
    io,
    paint,
  });
  const timelines: Timeline[] = [];
  for (const input of inputs) timelines.push(await timelineOf(input, watch, { ...on, options }));
  const { watch: settings, timing } = watch.watchFile;
  const uses = timelines.map((timeline) => useWithoutEnd(timeline, watch));
  const question = { watch: settings, timing, supply, timelines: uses, ...lives };
  const calibration = calibrationOf(question);
  refuseUnexplained(calibration, supply);
  const found = asMeasured(supply, calibration?.result ?? null);
  const drained = uses.map(({ use, timeline, ...named }) => ({
    ...named,
    use,
    drained: drainedRun(timeline, watch, found),
  }));
  const answer = batteryAnswer({ ...question, timelines: drained });
  const runs = options.chart === undefined ? [] : runsOf(timelines, watch, found);
  await drawChart({ answer, runs }, options, io);
  if (options.json === true) await io.stdout.write(batteryJson(answer));
  else {
    const style = { width: io.stdout.columns, paint: paintFor('stdout', on) };
    await print(io, batteryReport(answer, watch, style));
    if (options.chart !== undefined) await print(io, `\nPicture: ${plain(options.chart)}\n`);
  }
  return 0;
}

async function checkChart(
  inputs: readonly string[],
  { chart, config }: BatteryOptions,
  io: Io,
): Promise<void> {
  if (chart === undefined) return;
  refuseStdout('--chart', chart);
  const outputs = [{ option: '--chart', file: chart }];
  await refuseUnfitOutputs(outputs, { inputs: [...inputs, config], io });
  pictureFormat(chart);
}

async function drawChart(
  drawn: { readonly answer: BatteryAnswer; readonly runs: readonly BatteryRun[] },
  options: BatteryOptions,
  io: Io,
): Promise<void> {
  const { chart, dark, config = 'the watch' } = options;
  if (chart === undefined) return;
  const { batteryChart } = await import('../../chart/index.js');
  const theme = dark === true ? 'dark' : 'light';
  await writePicture(chart, batteryChart({ ...drawn, file: config, options: { theme } }), io);
}

async function timelineOf(
  input: string,
  watch: LoadedWatch,
  on: { readonly io: Io; readonly style: Style; readonly options: BatteryOptions },
): Promise<Timeline> {
  const timeline = await loadTimeline(input, watch.watchFile, on.options, on.io);
  const paint = paintFor('stderr', on);
  await writeDiagnostics(timeline.remarks, { io: on.io, paint });
  return timeline;
}

/** What the device does in a timeline if the charge never ends. */
function useWithoutEnd(timeline: Timeline, watch: LoadedWatch) {
  const { file, name, timing, world, seed } = timeline;
  const trace = simulate({ program: watch.program, timing, world, seed }, { record: 'none' });
  return { file, name, use: useOf(trace, world), resets: world.resetsMs.length, timeline };
}

/** The run that `replay` makes of a timeline, which drains the supply. */
function drainedRun(timeline: Timeline, watch: LoadedWatch, supply: SupplySettings): PoweredCost {
  const trace = drainedTrace(timeline, watch, { supply, record: 'none' });
  return poweredCost(useOf(trace, timeline.world), trace.flat, supply);
}

/** The first ones wake by wake. */
function runsOf(
  timelines: readonly Timeline[],
  watch: LoadedWatch,
  supply: SupplySettings,
): readonly BatteryRun[] {
  return timelines.slice(0, mostDaysDrawn).map((timeline) => {
    const { name, world, start } = timeline;
    return { name, world, start, trace: drainedTrace(timeline, watch, { supply, record: 'all' }) };
  });
}

function drainedTrace(
  timeline: Timeline,
  watch: LoadedWatch,
  { supply, record }: { readonly supply: SupplySettings; readonly record: 'all' | 'none' },
): Trace {
  const { program, watchFile } = watch;
  const experiment = experimentOf(timeline, { program, watchFile: { ...watchFile, supply } });
  return simulate(experiment, { record });
}

/** One measured life, or two at different check intervals. */
function measuredLives(inputs: readonly string[], { calibrate = [] }: BatteryOptions) {
  const source = { file: '--calibrate' };
  const [one = null, second = null, ...more] = calibrate.map((text) =>
    valueOf(parseMeasuredLife(text, source)),
  );
  if (more.length > 0) {
    throw problem('calibration-unreadable', source.file, {
      message: 'takes one measured life, or two at different check intervals',
      found: `${String(calibrate.length)} lives`,
    });
  }
  if (one !== null && inputs.length > 1) {
    throw problem('one-timeline-only', source.file, {
      message: 'this needs one timeline for the measured life, or none',
      found: `${String(inputs.length)} timelines`,
      hint: 'give one of them, or none for a door that nobody opens',
    });
  }
  const isAt = [one, second].some((life) => life?.checkIntervalMs !== undefined);
  if (inputs.length > 0 && (second !== null || isAt)) {
    throw problem('one-timeline-only', source.file, {
      message: 'lives at other check intervals are of a door that nobody opens',
      found: 'a timeline',
      hint: 'leave the timeline out',
    });
  }
  return { measured: one, secondLife: second };
}

function contradicting({ sleepNa }: { readonly sleepNa: number | null }) {
  if (sleepNa === null) {
    return problem('calibration-unexplained', '--calibrate', {
      message: 'two lives at nearly the same check interval do not separate sleep from wakes',
      expected: 'two intervals, each written with its life: "800mAh lasted 40d at 2m"',
      hint: 'measure one of them at an interval five times as long',
    });
  }
  const needs =
    sleepNa < 0
      ? 'Sleep would have to take less than nothing, because the longer interval lasted too long or the shorter too short'
      : 'A wake would have to take less than nothing, because the shorter interval lasted at least as long as the longer';
  return problem('calibration-unexplained', '--calibrate', {
    message: `no sleep current and charge of a wake explain both lives. ${needs}`,
    hint: 'check that each life has its own interval, that both had the same cells, and that the door was used alike',
  });
}

function refuseUnexplained(calibration: CalibrationAnswer | null, supply: SupplySettings): void {
  if (calibration?.result.kind === 'contradicting') throw contradicting(calibration.result);
  if (calibration?.result.kind !== 'unexplained') return;
  const { longestMs } = calibration.result;
  const preset = supply.preset === null ? '' : ' (or of its preset)';
  throw problem('calibration-unexplained', '--calibrate', {
    message: 'this life is too long for any sleep current',
    found: durationText(calibration.measured.lifeMs),
    expected: `at most ${lifeText(longestMs)}, which is what the wakes and losses of the watch file${preset} allow even if sleep takes nothing`,
    hint: 'measure boot, connect and contactBias, or check usable and selfDischarge',
  });
}
