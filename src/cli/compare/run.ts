// `dozewatch compare` at work.
import { compareDevice } from '../../compare/index.js';
import { clockErrorsOf } from '../../model/index.js';
import { localTime } from '../../scenarios/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { loadWatch } from '../inputs/load-watch.js';
import { paintFor } from '../layout/paint.js';
import { tell } from '../layout/tell.js';
import { problem } from '../problem.js';
import { loadDeviceLog } from './load-device-log.js';
import type { CompareOptions } from './options.js';
import { compareJson, compareReport, isAsItShould } from './report.js';

const mostWarnings = 20;

/** @throws InputProblem for input that cannot be read or believed. */
export async function compare(
  input: string,
  options: CompareOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  // These also say how to read the device log, when the door comes from a scenario.
  const isLog = !/\.(?:ya?ml|json)$/iu.test(input);
  const forDevice = {
    zone: undefined,
    timeFormat: undefined,
    openWord: undefined,
    shutWord: undefined,
  };
  checkInputs([input], isLog ? options : { ...options, ...forDevice }, options.config);
  if (options.deviceLog === '-' && (input === '-' || options.config === '-')) {
    throw problem('standard-input-twice', '-', {
      message: 'it can be read only once',
      hint: 'give all but one of the inputs as files',
    });
  }
  const watch = await loadWatch(options.config, io);
  const timeline = await loadTimeline(input, watch.watchFile, options, io);
  const log = await loadDeviceLog(options, timeline, io);
  const rows = log.rows.map((row) => ({ ...row, atMs: row.atMs - timeline.start.epochMs }));
  const { world, timing } = timeline;
  const outside = rows.filter(({ atMs }) => atMs < 0 || atMs >= world.lengthMs).length;
  if (rows.length === outside) {
    throw problem('device-log-elsewhere', options.deviceLog, {
      message: 'no row of this device log is within the timeline of the door',
      hint: `check that both are from the same days; times without an offset are in the zone ${log.zone}, or that of --device-zone`,
    });
  }
  const paint = paintFor('stderr', on);
  const warnings = [...watch.warnings, ...timeline.remarks, ...log.remarks];
  await writeDiagnostics(warnings, { io, paint, most: mostWarnings });
  const found = compareDevice({
    program: watch.program,
    timing,
    world,
    rows,
    resetsClear: watch.watchFile.reset.button === 'clears',
  });
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  const allowed = clockErrorsOf(watch.watchFile.timing.clockError);
  const names = { deviceLog: options.deviceLog, door: timeline.name };
  const view = { found, ...names, outside, moments, allowed };
  if (options.json === true) await io.stdout.write(compareJson(view));
  else await tell(io.stdout, compareReport(view, paintFor('stdout', on)));
  return isAsItShould(view) ? 0 : 1;
}
