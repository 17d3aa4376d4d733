// `dozewatch compare` at work.
import { dayMs, plain, shellWord } from '../../base/index.js';
import {
  type Comparison,
  compareDevice,
  type DeviceQuestion,
  type ExpectedAlerts,
  expectedOf,
  type HourShift,
  hourShiftOf,
} from '../../compare/index.js';
import { clockErrorsOf } from '../../model/index.js';
import {
  localTime,
  otherKindOfText,
  plainWatchFile,
  type Timeline,
  type WatchFile,
} from '../../scenarios/index.js';
import { isoTime } from '../../wording/index.js';
import { checkInputs, onlyForLogs } from '../arguments/timeline-options.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress, type Progress } from '../host/progress.js';
import { readText } from '../host/read-text.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { type LoadedDeviceLog, loadDeviceLog } from '../inputs/load-device-log.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { forDoorLog, type WhereOfTwo, whereOfTwo } from '../inputs/where-of-two.js';
import { optionWords, watchWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { InputProblem, problem } from '../problem.js';
import type { CompareOptions } from './options.js';
import { type CompareView, compareJson, compareReport, isAsItShould } from './report.js';

const none = undefined;
/** Options of a door log that a device log has as well. */
const forDevice = { zone: none, timeFormat: none, openWord: none, shutWord: none, where: none };

/** @throws InputProblem for input that cannot be read or believed. */
export async function compare(
  input: string,
  options: CompareOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  // These also say how to read the device log, when the door comes from a scenario.
  const isLog = isLogName(input);
  checkFiles(input, options, isLog);
  const watch = await loadWatch(options.config, io);
  const { timeline, log } = await loadLogs(input, options, { isLog, watch, io });
  const rows = log.rows.map((row) => ({ ...row, atMs: row.atMs - timeline.start.epochMs }));
  const { world, timing } = timeline;
  const outside = rows.filter(({ atMs }) => atMs < 0 || atMs >= world.lengthMs).length;
  if (rows.length === 0) throw problem('log-without-rows', options.deviceLog, rowless);
  if (rows.length === outside) throw elsewhere(options.deviceLog, log.zone);
  const paint = paintFor('stderr', on);
  const warnings = [...watch.warnings, ...timeline.remarks, ...log.remarks];
  await writeDiagnostics(warnings, { io, paint });
  const question = {
    program: watch.program,
    timing,
    world,
    rows,
    resetsClear: watch.watchFile.reset.button === 'clears',
    judge: watch.watchFile.judge,
    unseen: timeline.logged?.unseen,
  };
  const { found, hourShift } = judged(question, io);
  const shift = shiftOf(hourShift, { input, isLog, options, log });
  const moments = (atMs: number) => localTime(timeline.start, atMs);
  const names = { deviceLog: options.deviceLog, door: input === '-' ? timeline.name : input };
  // Of a scenario they say how to read the device log.
  const ofLog: [string, unknown][] = isLog ? onlyForLogs.map(([key]) => [key, options[key]]) : [];
  const logWords = optionWords(Object.fromEntries<unknown>(ofLog), []);
  const silenceWords = wordsOfSilence(watch, {
    input,
    isLog,
    options,
    log,
    endMs: Math.max(timeline.start.epochMs + world.lengthMs, log.rows.at(-1)?.atMs ?? 0),
    timeZone: timeline.start.timeZone,
  });
  const fewerDaysWords = wordsOfFewerDays(found.notJudgedOpenings[0], timeline, {
    input,
    isLog,
    options,
  });
  const view = {
    found,
    ...ofWatch(watch),
    logWords,
    silenceWords,
    fewerDaysWords,
    ...names,
    outside,
    moments,
    shift,
  };
  if (options.json === true) await io.stdout.write(compareJson(view));
  else await print(io, compareReport(view, paintFor('stdout', on)));
  return isAsItShould(view) ? 0 : 1;
}

/** The door, from a log or a scenario, and the log of the device, in the door's zone. */
async function loadLogs(
  input: string,
  options: CompareOptions,
  { isLog, watch, io }: { readonly isLog: boolean; readonly watch: LoadedWatch; readonly io: Io },
) {
  const chosen = await whereOfTwo(options.deviceLog, options, io);
  if (!isLog && chosen.others.length > 0) {
    throw problem('column-unknown', '--where', {
      message: 'the device log has no such column',
      found: chosen.others.join(', '),
    });
  }
  const timeline = await loadDoor(input, watch.watchFile, { options, chosen, io }).catch(
    async (error: unknown) => refuseExchanged(error, input, options, io),
  );
  const ofDevice = { ...options, where: chosen.device };
  const log = await loadDeviceLog(options.deviceLog, ofDevice, {
    io,
    zone: { name: timeline.start.timeZone, isOfDoor: true },
  });
  return { timeline, log };
}

/** With more, the first look-up may take some seconds. */
const manyOpenings = 2_000;

function checkFiles(input: string, options: CompareOptions, isLog: boolean): void {
  checkInputs([input], isLog ? options : { ...options, ...forDevice }, options.config);
  if (options.deviceLog === '-' && (input === '-' || options.config === '-')) {
    throw problem('standard-input-twice', '-', {
      message: 'it can be read only once',
      hint: 'give all but one of the inputs as files',
    });
  }
}

function judged(
  asked: DeviceQuestion,
  io: Io,
): { readonly found: Comparison; readonly hourShift: HourShift | null } {
  const openings = asked.world.openings.fromMs.length;
  const progress = openProgress(io, 'judging openings', { atOnce: openings > manyOpenings });
  const question = { ...asked, expected: watched(expectedOf(asked), progress) };
  const found = compareDevice(question);
  const hourShift = hourShiftOf(question, found);
  progress.end();
  return { found, hourShift };
}

/** Shows that openings are being judged as they are looked up. */
function watched(expected: ExpectedAlerts | null, progress: Progress): ExpectedAlerts | undefined {
  if (expected === null) return undefined;
  return {
    ...expected,
    at: (opening) => {
      progress.at(null);
      return expected.at(opening);
    },
  };
}

/** A day before an opening that was not judged, and a day after it began. */
function wordsOfFewerDays(
  openedMs: number | undefined,
  { start, world }: Timeline,
  of: {
    readonly input: string;
    readonly isLog: boolean;
    readonly options: CompareOptions;
  },
): readonly string[] | null {
  const { input, isLog, options } = of;
  if (openedMs === undefined || !isLog) return null;
  const at = (ms: number): string =>
    isoTime(localTime(start, Math.max(0, Math.min(ms, world.lengthMs))));
  return [
    ...['compare', input, ...optionWords(options, ['from', 'until', 'json'])],
    ...['--from', at(openedMs - dayMs), '--until', at(openedMs + dayMs)],
  ];
}

/** What to ask about a silence at the end of these logs: at their end, with this door's use. */
function wordsOfSilence(
  { name }: LoadedWatch,
  of: {
    readonly input: string;
    readonly isLog: boolean;
    readonly options: CompareOptions;
    readonly log: LoadedDeviceLog;
    readonly endMs: number;
    readonly timeZone: string;
  },
): readonly string[] {
  const { input, isLog, options, log, endMs, timeZone } = of;
  const forBoth = ['zone', 'timeFormat', 'where', 'openWord', 'shutWord'];
  const kept = Object.entries(options).filter(
    ([key]) =>
      (key.startsWith('device') && key !== 'deviceLog') ||
      ['linePattern', ...forBoth].includes(key) ||
      (isLog && onlyForLogs.some(([option]) => option === key)),
  );
  const isZoneGiven = options.deviceZone !== undefined || options.zone !== undefined;
  return [
    ...['silence', ...watchWords(name, { ...options }), '--charged', 'DATE'],
    ...[
      '--messages',
      options.deviceLog,
      '--now',
      isoTime(localTime({ epochMs: endMs, timeZone }, 0)),
    ],
    ...(isLog ? ['--profile-from', input] : []),
    ...optionWords(Object.fromEntries<unknown>(kept), []),
    ...(!isZoneGiven && log.hasLocalTimes() ? ['--device-zone', log.zone] : []),
  ];
}

/** Each of the two logs given in the other's place. */
async function refuseExchanged(
  error: unknown,
  input: string,
  options: CompareOptions,
  io: Io,
): Promise<never> {
  const isOther =
    error instanceof InputProblem &&
    error.diagnostics.some(({ code }) => code === 'other-kind-of-file');
  const { deviceLog } = options;
  if (!isOther || input === '-' || deviceLog === '-') throw error;
  const wanted = { file: deviceLog, wanted: 'device log' } as const;
  const kind = otherKindOfText(await readText(deviceLog, io), wanted)?.kind;
  if (kind !== 'door log') throw error;
  const words = [
    'compare',
    deviceLog,
    '--device-log',
    input,
    ...optionWords(options, ['deviceLog']),
  ];
  throw problem('other-kind-of-file', input, {
    message: `this is a device log, and ${deviceLog} is the door log`,
    hint: `exchange the two: dozewatch ${words.map((word) => shellWord(plain(word))).join(' ')}`,
  });
}

const rowless = {
  message: 'the device log has no rows',
  hint: 'if no message came, dozewatch silence says what that means',
};

function elsewhere(file: string, zone: string): InputProblem {
  return problem('device-log-elsewhere', file, {
    message: 'no row of this device log is within the timeline of the door',
    hint: `check that both are from the same days; times without an offset are in the zone ${zone}, or that of --device-zone`,
  });
}

function ofWatch(watch: LoadedWatch): Pick<CompareView, 'heartbeatMs' | 'config' | 'allowed'> {
  const { timing, watch: settings } = watch.watchFile;
  return {
    heartbeatMs: settings.heartbeatIntervalMs,
    config: watch.name,
    allowed: { ...clockErrorsOf(timing.clockError), isStated: statesClockError(watch) },
  };
}

/** What mends a shift: the zone of the log whose times have no offset; null where both have one, or one is standard input. */
function shiftOf(
  shift: HourShift | null,
  of: {
    readonly input: string;
    readonly isLog: boolean;
    readonly options: CompareOptions;
    readonly log: LoadedDeviceLog;
  },
): CompareView['shift'] {
  if (shift === null) return null;
  const { input, isLog, options, log } = of;
  const isLocal = log.hasLocalTimes();
  const option = isLocal ? 'deviceZone' : isLog && options.zone !== undefined ? 'zone' : null;
  if (option === null) return { ...shift, words: null };
  const zone = isLocal ? log.zone : (options.zone ?? log.zone);
  // Local times an hour further east are instants an hour sooner.
  const hours = isLocal ? -shift.hours : shift.hours;
  const epochMs = log.rows[0]?.atMs ?? 0;
  const offset = localTime({ epochMs, timeZone: zone }, 0).offset;
  const flag = option === 'zone' ? '--zone' : '--device-zone';
  const words = ['compare', input, ...optionWords(options, [option]), flag];
  return { ...shift, words: [...words, offsetLater(offset, hours)] };
}

/** `+02:00` an hour later is `+03:00`. */
function offsetLater(offset: string, hours: number): string {
  const [, sign = '+', hour = '0', minute = '0'] = /^([+-])(\d\d):(\d\d)/u.exec(offset) ?? [];
  const minutes = (Number(hour) * 60 + Number(minute)) * (sign === '-' ? -1 : 1) + hours * 60;
  const two = (value: number): string => String(value).padStart(2, '0');
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

function statesClockError({ text, name }: LoadedWatch): boolean {
  if (text === null) return false;
  const file = plainWatchFile(text, name ?? '');
  const device = typeof file === 'object' && file !== null && 'device' in file ? file.device : null;
  return typeof device === 'object' && device !== null && 'clockError' in device;
}

/** The door of a log, or of a scenario, for which the conditions of a log mean nothing. */
async function loadDoor(
  input: string,
  watchFile: WatchFile,
  on: { readonly options: CompareOptions; readonly chosen: WhereOfTwo; readonly io: Io },
): Promise<Timeline> {
  const { options, chosen, io } = on;
  const load = (where: readonly string[] | undefined): Promise<Timeline> =>
    loadTimeline(input, watchFile, { ...options, where }, io);
  return isLogName(input) ? forDoorLog(chosen, load) : load(undefined);
}

function isLogName(input: string): boolean {
  return !/\.(?:ya?ml|json)$/iu.test(input);
}
