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
  type TimelineStart,
  timelineOf,
  timelineOfLog,
  turnedList,
  type WatchFile,
  wrappedList,
} from '../../scenarios/index.js';
import { plainCut } from '../../wording/index.js';
import { conditionsOf } from '../arguments/repeated.js';
import { formatOf, type InputFormat, type TimelineOptions } from '../arguments/timeline-options.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { readText, textChunksOf } from '../host/read-text.js';
import { problem, valueOf, valueOfFile } from '../problem.js';

/** How a timeline is called where several files may be: a log by its file as it was given, a scenario by its name. */
export function givenName({
  name,
  file,
  logged,
}: Pick<Timeline, 'name' | 'file' | 'logged'>): string {
  return logged === null || file === '-' ? name : file;
}

/** @throws InputProblem when the input cannot be read or believed. */
export async function loadTimeline(
  file: string,
  watchFile: WatchFile,
  options: TimelineOptions,
  io: Io,
): Promise<Timeline> {
  await refuseFolder(file, io);
  const format = formatOf(file, options);
  const text = format === 'scenario' ? await readText(file, io) : null;
  const list = text === null || options.format !== undefined ? null : listIn(text);
  if (text === null || list !== null) {
    const log = await loadLog(file, format, { options, io, text: list });
    const { seed } = options;
    const name = file === '-' ? 'door log' : path.basename(file);
    // Times without an offset mean what they mean in the log.
    const zone = options.zone ?? log.timeZone;
    const span = {
      fromMs: instantOf('from', options, zone),
      untilMs: instantOf('until', options, zone),
    };
    const start = { epochMs: span.fromMs ?? log.firstMs, timeZone: zone };
    const powerOnAtMs = powerOnOf(options, start);
    return believed(timelineOfLog(log, watchFile, { name, file, seed, ...span, powerOnAtMs }));
  }
  const scenario = parseScenario(text, file);
  const timeline = believed(timelineOf(valueOf(scenario), watchFile, { seed: options.seed }));
  const remarks = scenario.ok ? [...scenario.warnings, ...timeline.remarks] : timeline.remarks;
  const powerOnAtMs = powerOnOf(options, timeline.start);
  if (powerOnAtMs === undefined) return { ...timeline, remarks };
  return { ...timeline, remarks, world: { ...timeline.world, powerOnAtMs: trueMs(powerOnAtMs) } };
}

/** The list of objects that a file of JSON is or holds; null: it is a scenario. */
function listIn(text: string): string | null {
  if (/^[\ufeff\s]*\[/u.test(text)) return text;
  if (!/^[\ufeff\s]*\{/u.test(text)) return null;
  return wrappedList(text) ?? turnedList(text, (key) => parseInstant(key, 'UTC', { file: '' }).ok);
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

/** Characters of a log that could not be read, by which to see what it is. */
const headLength = 20_000;

async function loadLog(
  file: string,
  format: InputFormat,
  on: { readonly options: TimelineOptions; readonly io: Io; readonly text: string | null },
): Promise<DoorLog> {
  const { options, io, text } = on;
  if (options.openAbove !== undefined && options.openBelow !== undefined) {
    throw problem('options-exclude', '--open-below', {
      message: 'a door is open above a reading, or below one, not both',
      hint: 'leave out --open-above or --open-below',
    });
  }
  const reader = openDoorLog({
    file,
    format: format === 'scenario' ? 'json' : format,
    timeFormat: options.timeFormat,
    dateColumn: options.dateColumn,
    timeColumn: options.timeColumn,
    stateColumn: options.stateColumn,
    startColumn: options.startColumn,
    endColumn: options.endColumn,
    durationColumn: options.durationColumn,
    durationUnit: options.durationUnit,
    date: options.date,
    newestFirst: options.newestFirst,
    zone: options.zone,
    lenient: options.lenient,
    openWords: options.openWord,
    shutWords: options.shutWord,
    unavailableWords: options.unavailableWord,
    openAbove: options.openAbove,
    openBelow: options.openBelow,
    where: conditionsOf(options.where),
  });
  if (text !== null) {
    reader.push(text);
    return valueOf(reader.finish());
  }
  const size = await sizeOf(file, io);
  const progress = openProgress(io, `reading ${plainCut(file, 40)}`);
  let read = 0;
  let head = '';
  try {
    const chunks = textChunksOf(file, io, (count) => {
      read += count;
      progress.at(size === null ? null : Math.min(read / size, 1));
    });
    for await (const chunk of chunks) {
      if (head.length < headLength) head += chunk;
      reader.push(chunk);
    }
  } finally {
    progress.end();
  }
  const log = reader.finish();
  // Who names the format knows what the file is.
  if (options.format !== undefined) return valueOf(log);
  return valueOfFile(log, head, { file, wanted: 'door log' });
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

/** Milliseconds from the start of the timeline; the option gives them, or an instant. */
function powerOnOf(
  { powerOnAt }: TimelineOptions,
  { epochMs, timeZone }: TimelineStart,
): number | undefined {
  if (powerOnAt === undefined) return undefined;
  const source = { file: '--power-on-at' };
  if (!/^\s*\d{4}-\d|^\s*\d{9,}\s*$/u.test(powerOnAt))
    return valueOf(parseDuration(powerOnAt, source));
  const ms = valueOf(parseInstant(powerOnAt, timeZone, source)) - epochMs;
  if (ms >= 0) return ms;
  throw problem('power-on-outside', '--power-on-at', {
    message: 'the device gets its power before the timeline begins',
    found: powerOnAt,
    hint: 'begin the timeline there with --from',
  });
}

function instantOf(
  which: 'from' | 'until',
  options: TimelineOptions,
  zone: string,
): number | undefined {
  const text = options[which];
  if (text === undefined) return undefined;
  return valueOf(parseInstant(text, zone, { file: `--${which}` }));
}
