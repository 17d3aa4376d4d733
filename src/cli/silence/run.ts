// `dozewatch silence` at work.
import { counted, dayMs, invariant, weekdays } from '../../base/index.js';
import { longestCheckGapMs, provedOf, questionOf } from '../../bounds/index.js';
import { messagesNotInFile } from '../../compare/index.js';
import {
  availablePc,
  calmEnvironment,
  holdNa,
  longestTimelineMs,
  mostReplayStates,
} from '../../model/index.js';
import {
  bouncesTooMuch,
  type DeviceLogRow,
  localTime,
  parseInstant,
  type WatchFile,
} from '../../scenarios/index.js';
import {
  answerOf,
  type DoorTimes,
  doorTests,
  explainSilence,
  type LowBatteryHeard,
  lifeByWarning,
  type Observed,
  soundYears,
} from '../../silence/index.js';
import { leftWhenLowPc } from '../../sim/index.js';
import { assumptions, renewalOf } from '../../wording/index.js';
import { durationOf } from '../arguments/values.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { loadDeviceLog } from '../inputs/load-device-log.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { checkUsage, type Usage, usageOf } from '../inputs/usage-of.js';
import { forDoorLog, type WhereOfTwo, whereOfTwo } from '../inputs/where-of-two.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { type InputProblem, problem, valueOf } from '../problem.js';
import { missingBeats } from './missing-beats.js';
import type { SilenceOptions } from './options.js';
import { priorsOf } from './priors-of.js';
import { isOrdinary, silenceJson, silenceReport } from './report.js';
import type { HeldDevice, SilenceView } from './view.js';

/** Of the sound device: enough for a silence of some years. */
const simulatedYears = 40;

/** @throws InputProblem for input that cannot be read or believed. */
export async function silence(
  options: SilenceOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const { watch, usage, rows, span, zone } = await loadAll(options, on);
  const { watchFile } = watch;
  const { profile } = usage;
  const priors = priorsOf(options.prior, watchFile);
  const lasts = lastsOf(options);
  const beatMs = watchFile.watch.heartbeatIntervalMs;
  const observed = { ...observedOf(rows, span, zone), lowBattery: lowHeard(rows, span, watchFile) };
  const sound = soundYears({ watchFile, profile, seed: options.seed, years: simulatedYears });
  const answer = explainSilence({
    watchFile,
    sound,
    priors,
    observed,
    ...(lasts === undefined ? {} : { lifeMs: lasts }),
  });
  if (answer.explanations.length === 0) throw impossible(options);
  const view: SilenceView = {
    file: watch.name,
    profile: usage.name,
    seed: options.seed,
    zone,
    assumes: assumedOf(watchFile),
    observed,
    answer,
    priors,
    longestGapMs: sound.longestGapMs,
    tests: doorTests(answer.explanations, timesOf(watchFile)),
    lifeFrom: lifeFrom(watchFile, observed, lasts),
    hold: heldDevice(watchFile, sound.heldLifeMs),
    hasHeartbeat: beatMs !== null,
    longestOutageMs: watchFile.environment.longestOutageMs,
    hasMessages: options.messages !== undefined,
    renewal: renewalOf(watchFile.supply),
    notInFile: messagesNotInFile(
      rows.filter(({ atMs }) => atMs >= span.chargedMs),
      watchFile.watch,
    ),
    missing: missingBeats(rows, watchFile, {
      ...observed,
      isDay: !/\d:\d|T\d/u.test(options.charged),
    }),
  };
  if (options.json === true) await io.stdout.write(silenceJson(view));
  else {
    const text = silenceReport(view, { width: io.stdout.columns, paint: paintFor('stdout', on) });
    await print(io, text);
  }
  return isOrdinary(view) ? 0 : 1;
}

/** All that could explain the messages has a prior of 0. */
function impossible({ prior = [] }: SilenceOptions): InputProblem {
  return problem('messages-impossible', prior.length > 0 ? '--prior' : '--messages', {
    message:
      'with these priors the messages are impossible: each explanation that remains has a probability of 0',
    found: prior.length > 0 ? prior.join(', ') : 'no message',
    expected: 'a fault, or lost messages, with a prior above 0',
    hint: 'leave a --prior out, or give one that is above 0, such as --prior lost=1%',
  });
}

function lastsOf({ lasts }: SilenceOptions): number | undefined {
  if (lasts === undefined) return undefined;
  return durationOf('--lasts', lasts, { least: 3_600_000, most: longestTimelineMs, inDays: true });
}

interface Loaded {
  readonly watch: LoadedWatch;
  readonly usage: Usage;
  readonly rows: readonly DeviceLogRow[];
  readonly span: Span;
  readonly zone: string;
}

async function loadAll(
  options: SilenceOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<Loaded> {
  const { io } = on;
  checkUsage(usageOptions(options));
  const others = [options.config, options.profile, options.profileFrom];
  if (options.messages === '-' && others.includes('-')) {
    throw problem('standard-input-twice', '-', {
      message: 'it can be read only once',
      hint: 'give all but one of the inputs as files',
    });
  }
  const zone = options.zone ?? 'UTC';
  const span = spanOf(options, zone, io.now());
  const watch = await loadWatch(options.config, io);
  const { judge, contact } = watch.watchFile;
  const chosen = await chosenIn(options, io);
  const ofMessages = { ...options, where: chosen.device };
  const log =
    options.messages === undefined
      ? { rows: [], remarks: [] }
      : await loadDeviceLog(options.messages, ofMessages, { io, zone: { name: zone } });
  const { leaveOpenAfterMs } = judge;
  const usage = await forDoorLog(chosen, (where) =>
    usageOf(usageOptions({ ...options, where }), { ...on, leaveOpenAfterMs }),
  );
  const paint = paintFor('stderr', on);
  await writeDiagnostics([...watch.warnings, ...log.remarks], { io, paint });
  const late = log.rows.filter(({ atMs }) => atMs > span.nowMs).length;
  if (late > 0) {
    throw problem('messages-after-now', options.messages ?? '--messages', {
      message: `${counted(late, 'message')} came after the instant at which you look`,
      hint: `give a later --now, or check --zone (here ${zone})`,
    });
  }
  if (bouncesTooMuch({ profile: usage.profile, contact, outages: null, powerCuts: null })) {
    throw problem('too-many-edges', options.config ?? '--profile', {
      message: 'the contact would change too many times per year',
      hint: 'lower contact.bounceTime in the watch file',
    });
  }
  return { watch, usage, rows: log.rows, span, zone };
}

/** `--where` chooses rows of the messages, of the door log, or of both. @throws InputProblem for a column that neither can have. */
async function chosenIn(options: SilenceOptions, io: Io): Promise<WhereOfTwo> {
  const chosen = await whereOfTwo(options.messages, options, io);
  if (options.profileFrom !== undefined || options.messages === undefined) return chosen;
  // Without a door log all of them are of the messages, which name their columns where one is not among them.
  return { device: [...chosen.device, ...chosen.others], others: [] };
}

/** Some options for logs are also of the messages: without a door log they are no options for one. */
function usageOptions(options: SilenceOptions): SilenceOptions {
  if (options.profileFrom !== undefined) return options;
  const none = undefined;
  return { ...options, zone: none, timeFormat: none, where: none, openWord: none, shutWord: none };
}

interface Span {
  readonly chargedMs: number;
  readonly nowMs: number;
}

function spanOf(options: SilenceOptions, zone: string, clockMs: number): Span {
  const at = (text: string, file: string): number => valueOf(parseInstant(text, zone, { file }));
  const chargedMs = at(options.charged, '--charged');
  const nowMs = options.now === undefined ? clockMs : at(options.now, '--now');
  if (nowMs <= chargedMs) {
    throw problem('now-before-charge', options.now === undefined ? '--charged' : '--now', {
      message: 'you look before the instant of --charged',
      found: options.now ?? options.charged,
      hint: 'give --charged an instant before --now',
    });
  }
  if (nowMs - chargedMs <= longestTimelineMs) return { chargedMs, nowMs };
  throw problem('out-of-range', '--charged', {
    message: `must be at most ${String(longestTimelineMs / dayMs)} days before you look`,
    found: options.charged,
  });
}

/** Messages before the charge are of a device that somebody has been at since. */
function observedOf(rows: readonly DeviceLogRow[], span: Span, zone: string): Observed {
  const lastOf = (event: 'alert' | 'heartbeat'): number | null =>
    rows.findLast((row) => row.event === event && row.delivered && row.atMs >= span.chargedMs)
      ?.atMs ?? null;
  const { weekday, time, millisecond } = localTime({ epochMs: span.chargedMs, timeZone: zone }, 0);
  const [hours = 0, minutes = 0, seconds = 0] = time.split(':').map(Number);
  return {
    ...span,
    lastAlertMs: lastOf('alert'),
    lastHeartbeatMs: lastOf('heartbeat'),
    chargedWeekday: weekdays.findIndex((name) => name === weekday),
    chargedLocalMs: ((hours * 60 + minutes) * 60 + seconds) * 1_000 + millisecond,
  };
}

function lowHeard(
  rows: readonly DeviceLogRow[],
  { chargedMs }: Span,
  watchFile: WatchFile,
): LowBatteryHeard | null {
  const heard = rows.filter(
    (row) => row.event === 'low-battery' && row.delivered && row.atMs >= chargedMs,
  );
  const [first] = heard;
  if (first === undefined) return null;
  const lastMs = heard.at(-1)?.atMs ?? first.atMs;
  return { firstMs: first.atMs, lastMs, leftShare: leftShareOf(watchFile) };
}

/** What is left of the usable charge where the battery becomes low; null: the watch file does not say. */
function leftShareOf({ watch, supply }: WatchFile): number | null {
  const level = watch.lowBattery?.level;
  if (level === undefined) return null;
  if (level.kind === 'share') return level.sharePpm / 1e6;
  if (supply === null) return null;
  const leftPc = leftWhenLowPc(supply, level);
  return leftPc === null ? null : Number(leftPc) / Number(availablePc(supply));
}

function lifeFrom(
  { supply }: WatchFile,
  observed: Observed,
  lasts: number | undefined,
): SilenceView['lifeFrom'] {
  if (lasts !== undefined) return 'given';
  if (lifeByWarning(observed) !== null) return 'message';
  return supply === null ? null : 'supply';
}

function heldDevice({ watch, supply }: WatchFile, lastsMs: number | null): HeldDevice | null {
  if (watch.afterAlert !== 'hold-until-reset') return null;
  const currentNa = supply === null ? 0 : holdNa(supply);
  return { currentNa: currentNa > 0 ? currentNa : null, lastsMs };
}

/**
 * How long the lamp may take behind an open door, also of a device that tries to send and finds no network; and the alert, while the
 * network is up.
 */
function timesOf(watchFile: WatchFile): DoorTimes {
  const question = questionOf({ ...watchFile, environment: calmEnvironment });
  const { worstDelayMs } = provedOf(question, mostReplayStates);
  const lookMs = longestCheckGapMs(question.program, question.timing);
  invariant(lookMs !== null, 'a watch checks more than once');
  return { lookMs, openMs: worstDelayMs.atRest ?? null };
}

/** What is assumed of people, and which key changes what the watch file does not say. */
function assumedOf(watchFile: WatchFile): readonly string[] {
  const isSaid = (watchFile.answer?.afterAlert ?? null) !== null;
  return assumptions({ ...watchFile, answer: answerOf(watchFile), supply: null }).map((one) =>
    !isSaid && one.startsWith('somebody resets') ? `${one} (answer.afterAlert changes that)` : one,
  );
}
