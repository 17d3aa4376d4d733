// One input of the command line as a timeline: a scenario read whole, or a door log read as a stream.
import type { Stats } from 'node:fs';
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { type Result, shellWord, trueMs } from '../../base/index.js';
import {
  type DoorLog,
  openDoorLog,
  parseDuration,
  parseInstant,
  parseScenario,
  type Timeline,
  timelineOf,
  timelineOfLog,
  type WatchFile,
} from '../../scenarios/index.js';
import { plainCut } from '../../wording/index.js';
import { conditionsOf } from '../arguments/repeated.js';
import { formatOf, type InputFormat, type TimelineOptions } from '../arguments/timeline-options.js';
import { inOneGo } from '../host/interrupt.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { readText, textChunksOf } from '../host/read-text.js';
import { problem, valueOf } from '../problem.js';

/** @throws InputProblem when the input cannot be read or believed. */
export async function loadTimeline(
  file: string,
  watchFile: WatchFile,
  options: TimelineOptions,
  io: Io,
): Promise<Timeline> {
  await refuseFolder(file, io);
  const format = formatOf(file, options);
  const powerOnAtMs = powerOnOf(options);
  if (format !== 'scenario') {
    const log = await loadLog(file, format, { options, io });
    const { seed } = options;
    const name = file === '-' ? 'door log' : path.basename(file);
    const span = { fromMs: instantOf('from', options), untilMs: instantOf('until', options) };
    return await inOneGo(() =>
      believed(timelineOfLog(log, watchFile, { name, file, seed, ...span, powerOnAtMs })),
    );
  }
  const text = await readText(file, io);
  const scenario = await inOneGo(() => parseScenario(text, file));
  const timeline = await inOneGo(() =>
    believed(timelineOf(valueOf(scenario), watchFile, { seed: options.seed })),
  );
  const remarks = scenario.ok ? [...scenario.warnings, ...timeline.remarks] : timeline.remarks;
  if (powerOnAtMs === undefined) return { ...timeline, remarks };
  return { ...timeline, remarks, world: { ...timeline.world, powerOnAtMs: trueMs(powerOnAtMs) } };
}

/** A timeline with all warnings about its input. */
function believed(result: Result<Timeline>): Timeline {
  const timeline = valueOf(result);
  const warnings = result.ok ? result.warnings : [];
  const remarks = [
    ...timeline.remarks,
    ...warnings.filter((one) => !timeline.remarks.includes(one)),
  ];
  return { ...timeline, remarks };
}

async function loadLog(
  file: string,
  format: Exclude<InputFormat, 'scenario'>,
  on: { readonly options: TimelineOptions; readonly io: Io },
): Promise<DoorLog> {
  const { options, io } = on;
  const reader = openDoorLog({
    file,
    format,
    timeColumn: options.timeColumn,
    stateColumn: options.stateColumn,
    startColumn: options.startColumn,
    endColumn: options.endColumn,
    zone: options.zone,
    lenient: options.lenient,
    openWords: options.openWord,
    shutWords: options.shutWord,
    where: conditionsOf(options.where),
  });
  const size = await sizeOf(file, io);
  const progress = openProgress(io, `reading ${plainCut(file, 40)}`);
  let read = 0;
  try {
    const chunks = textChunksOf(file, io, (count) => {
      read += count;
      progress.at(size === null ? null : Math.min(read / size, 1));
    });
    for await (const chunk of chunks) reader.push(chunk);
  } finally {
    progress.end();
  }
  return valueOf(await inOneGo(() => reader.finish()));
}

/** Checked first: a folder has no ending that shows its format. */
async function refuseFolder(file: string, io: Io): Promise<void> {
  const found = await statOf(file, io);
  if (found?.isDirectory() !== true) return;
  throw problem('file-is-folder', file, {
    message: 'this is a folder, not a file',
    hint: `for a folder of scenarios, run dozewatch suite ${shellWord(file)}`,
  });
}

async function sizeOf(file: string, io: Io): Promise<number | null> {
  const found = await statOf(file, io);
  return found?.isFile() === true && found.size > 0 ? found.size : null;
}

async function statOf(file: string, io: Io): Promise<Stats | null> {
  if (file === '-' || file.includes('\0')) return null;
  return stat(path.resolve(io.folder, file)).catch(() => null);
}

function powerOnOf({ powerOnAt }: TimelineOptions): number | undefined {
  if (powerOnAt === undefined) return undefined;
  return valueOf(parseDuration(powerOnAt, { file: '--power-on-at' }));
}

function instantOf(which: 'from' | 'until', options: TimelineOptions): number | undefined {
  const text = options[which];
  if (text === undefined) return undefined;
  return valueOf(parseInstant(text, options.zone ?? null, { file: `--${which}` }));
}
