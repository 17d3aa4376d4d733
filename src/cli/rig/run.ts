// `dozewatch rig`: the owner's firmware, compiled once, through timelines, a suite or a hunt.

import { type Diagnostic, plain, shellWord } from '../../base/index.js';
import { monthMs, mostToleranceMs } from '../../model/index.js';
import { heapHolders } from '../../rig/index.js';
import type { Timeline } from '../../scenarios/index.js';
import { plainCut } from '../../wording/index.js';
import { checkInputs } from '../arguments/timeline-options.js';
import { durationOf } from '../arguments/values.js';
import type { Style } from '../command.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { huntWatch } from '../hunt/run.js';
import { loadTimeline } from '../inputs/load-timeline.js';
import { type LoadedWatch, loadWatch } from '../inputs/load-watch.js';
import { optionWords } from '../layout/next-line.js';
import { paintFor } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { problem } from '../problem.js';
import type { Replay } from '../replay/one.js';
import { checkOutputs, printReplays } from '../replay/print.js';
import { suite } from '../suite/run.js';
import type { Play } from '../suite/run-case.js';
import { writeAdapter } from './adapter.js';
import { clockStartOf } from './clock-start.js';
import {
  type Build,
  type CompiledFirmware,
  compileFirmware,
  isSource,
  ownBuild,
  plainLines,
  processFirmware,
} from './compile-firmware.js';
import { conformTo } from './conform.js';
import type { Firmware } from './firmware.js';
import { huntedFirmware, rigHuntOptions } from './hunt.js';
import { type RigOptions, rigTakes } from './options.js';
import { openRig, type Rig } from './process.js';
import { rigReplay } from './replay.js';

const mostNames = 5;
const timeLimits = { least: 1_000, most: 86_400_000 };
const usualLimitSeconds = 120;

interface Rigging {
  readonly io: Io;
  readonly style: Style;
  readonly options: RigOptions;
  readonly build: Build;
  readonly limitSeconds: number;
}

/** @throws InputProblem for input that cannot be read, believed or compiled. */
export async function rig(
  given: readonly string[],
  options: RigOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  if (options.adapter !== undefined) return writeAdapter(options.adapter, given, on.io);
  const own = ownCommand(options);
  const [file = '', ...others] = own === null ? given : [own, ...given];
  if (file === '') {
    throw problem('no-firmware', 'rig', {
      message: 'no firmware is given',
      hint: 'name a C or C++ file, or use --build or --process',
    });
  }
  if (own === null) refuseOtherFirst(file, others, options);
  const more = others.filter(isSource);
  const inputs = others.filter((one) => !isSource(one));
  checkMode(file, inputs, options);
  const build = {
    more,
    include: options.include ?? [],
    define: options.define ?? [],
    wordSize: wordSizeOf(options),
  };
  const rigging = { ...on, options, build, limitSeconds: limitOf(options) };
  if (options.clockStartsAt !== undefined) clockStartOf(options.clockStartsAt);
  noinitKeepsOf(options);
  toleranceOf(options);
  if (options.suite !== undefined) return suiteOn(file, options.suite, rigging);
  const hunts = options.hunt === true || (options.conform === true && inputs.length === 0);
  return hunts ? huntOnRig(file, rigging) : timelinesOn(file, inputs, rigging);
}

/** The command that stands in place of a firmware file; null: there is a file. */
function ownCommand({
  build,
  process: command,
  include,
  define,
  wordSize,
}: RigOptions): string | null {
  if (build !== undefined && command !== undefined) {
    throw problem('options-exclude', '--build, --process', {
      message: 'these options exclude each other',
      hint: 'give only one of them',
    });
  }
  const own = build ?? command ?? null;
  if (own === null || (include ?? define ?? wordSize) === undefined) return own;
  throw problem('options-exclude', build === undefined ? '--process' : '--build', {
    message: '--include, --define and --word-size are for firmware that dozewatch compiles',
    hint: 'put them into the command',
  });
}

/** @throws InputProblem when it is not clear what to do. */
function checkMode(file: string, inputs: readonly string[], options: RigOptions): void {
  const { suite: folder, hunt, conform } = options;
  const modes = [folder !== undefined, hunt === true, conform === true].filter(Boolean).length;
  if (modes > 1) {
    throw problem('options-exclude', '--suite, --hunt, --conform', {
      message: 'these options exclude each other',
      hint: 'give only one of them',
    });
  }
  if (inputs.length > 0 && (folder !== undefined || hunt === true)) {
    throw problem('timeline-too-many', inputs.join(' '), {
      message: '--suite and --hunt bring their own timelines',
      hint: 'leave out the timelines, or the option',
    });
  }
  if (options.junit !== undefined && folder === undefined) {
    throw problem('junit-without-suite', '--junit', {
      message: 'only a suite writes JUnit XML',
      hint: 'add --suite FOLDER, or leave --junit out',
    });
  }
  if (inputs.length > 0 || modes > 0) return;
  throw problem('no-timeline', file, {
    message: 'this is the firmware, and no timeline is given for it',
    hint: 'name scenarios or door logs after it; or add --suite FOLDER, --hunt or --conform',
  });
}

/** @throws InputProblem when a timeline or a watch file is given in place of the firmware. */
function refuseOtherFirst(file: string, others: readonly string[], options: RigOptions): void {
  const [, ending = ''] = /\.(ya?ml|json|csv|tsv|ndjson)$/iu.exec(file) ?? [];
  if (ending === '') return;
  const kind = /^(?:y|json)/iu.test(ending) ? 'timeline or a watch file' : 'timeline';
  const sources = others.filter(isSource);
  if (sources.length === 0) {
    throw problem('no-firmware', file, {
      message: `this looks like a ${kind}, and no firmware is given`,
      hint: 'name the firmware first, then scenarios or door logs, and a watch file with -c',
    });
  }
  const rest = others.filter((one) => !isSource(one));
  const given = optionWords({ ...options }, [], rigTakes);
  const words = ['rig', ...sources, file, ...rest, ...given];
  throw problem('firmware-not-first', file, {
    message: `this looks like a ${kind}, but the firmware comes first`,
    hint: `dozewatch ${words.map((word) => shellWord(plain(word))).join(' ')}`,
  });
}

function suiteOn(file: string, folder: string, on: Rigging): Promise<ExitStatus> {
  return withFirmware(file, on, (firmware) => {
    const play: Play = (timeline, watch) => rigReplay(timeline, watch, { firmware });
    return suite(folder, on.options, { io: on.io, style: on.style, play });
  });
}

function huntOnRig(file: string, on: Rigging): Promise<ExitStatus> {
  const { options, io, style } = on;
  return withFirmware(file, on, (firmware) =>
    huntWatch(rigHuntOptions(options), {
      io,
      style,
      deviceOf: (watch) => huntedFirmware(firmware, watch, options.conform === true),
    }),
  );
}

async function timelinesOn(
  file: string,
  inputs: readonly string[],
  on: Rigging,
): Promise<ExitStatus> {
  const { options, io } = on;
  checkInputs(inputs, options, options.config);
  await checkOutputs(inputs, options, { files: [file, ...inputs, options.config], io });
  const watch = await loadWatch(options.config, io);
  const paint = paintFor('stderr', on);
  await writeDiagnostics(watch.warnings, { io, paint });
  const timelines: Timeline[] = [];
  for (const input of inputs) {
    timelines.push(await loadTimeline(input, watch.watchFile, options, io));
  }
  return withFirmware(file, on, async (firmware) => {
    if (options.conform === true) {
      const json = options.json === true;
      const alike = await conformTo(timelines, watch, {
        firmware,
        io,
        paint: paintFor('stdout', on),
        json,
      });
      return alike ? 0 : 1;
    }
    const replays: Replay[] = [];
    const progress = openProgress(io, `running ${plainCut(file, 40)}`);
    for (const [index, timeline] of timelines.entries()) {
      const at = (share: number): void => progress.at((index + share) / timelines.length);
      replays.push(await rigReplay(timeline, watch, { firmware, at }));
    }
    progress.end();
    const { status } = await printReplays(replays, watch, { io, style: on.style, options });
    if (status === 0 && options.json !== true) await print(io, huntNext(firmware, watch, replays));
    return status;
  });
}

/** What a timeline without a finding does not show, and what looks for more. */
function huntNext(firmware: Firmware, { name }: LoadedWatch, replays: readonly Replay[]): string {
  const words = ['--hunt', ...(name === null ? [] : ['-c', name])];
  const what = replays.length === 1 ? 'This one timeline proves' : 'These timelines prove';
  const hunt = plain(firmware.commandWith(words));
  return `\n${what} nothing about others.\nNext: look for one that breaks a requirement: ${hunt}\n`;
}

/** Compiles, prints what the compiler says, and clears up whatever happens. */
async function withFirmware(
  file: string,
  on: Rigging,
  work: (firmware: Firmware) => Promise<ExitStatus>,
): Promise<ExitStatus> {
  const compiled = await compiledFor(file, on);
  const rigOfIt = openRig(compiled);
  try {
    await printWarnings(compiled, on.io);
    await warnOfMemory(compiled, on);
    return await work(firmwareOf(file, rigOfIt, { compiled, on }));
  } finally {
    rigOfIt.close();
  }
}

function compiledFor(file: string, { io, build, options }: Rigging): Promise<CompiledFirmware> {
  if (options.build !== undefined) return ownBuild(options.build, io);
  if (options.process !== undefined) return processFirmware(options.process, io);
  return compileFirmware(file, io, build);
}

function firmwareOf(
  file: string,
  rigOfIt: Rig,
  { compiled, on }: { readonly compiled: CompiledFirmware; readonly on: Rigging },
): Firmware {
  const { clockStartsAt } = on.options;
  return {
    file,
    rig: rigOfIt,
    limitSeconds: on.limitSeconds,
    clockStartsMs: clockStartsAt === undefined ? 0 : clockStartOf(clockStartsAt),
    commandWith: (words) => commandOf(file, on, words),
    noinitKeepsMs: noinitKeepsOf(on.options),
    toleranceMs: toleranceOf(on.options),
    wordBits: compiled.process === null ? compiled.wordBits : null,
    retained: () => compiled.retained(),
  };
}

/** The words of `rig` with which a firmware is compiled and run as it is now. */
function commandOf(file: string, { build, options }: Rigging, words: readonly string[]): string {
  const given = (name: string, value: string | undefined): readonly string[] =>
    value === undefined ? [] : [name, value];
  const own = options.build ?? options.process;
  const all = [
    ...(own === undefined ? [file, ...(build.more ?? [])] : []),
    ...words,
    ...given('--build', options.build),
    ...given('--process', options.process),
    ...(build.include ?? []).flatMap((one) => ['-I', one]),
    ...(build.define ?? []).flatMap((one) => ['-D', one]),
    ...given('--word-size', options.wordSize),
    ...given('--clock-starts-at', options.clockStartsAt),
    ...given('--noinit-keeps', options.noinitKeeps),
    ...given('--tolerance', options.tolerance),
  ];
  return `dozewatch rig ${all.map(shellWord).join(' ')}`;
}

/** What behaves otherwise on a device. */
async function warnOfMemory(compiled: CompiledFirmware, on: Rigging): Promise<void> {
  const holders = heapHolders(compiled.retained() ?? []).map(
    ({ name, what }): Diagnostic => ({
      code: 'retains-heap',
      severity: 'warning',
      source: { file: name },
      message: `${what} keeps its contents in the heap, and its constructor runs at each wake: nothing in it survives sleep`,
      hint: 'retain plain data, such as an array of fixed size',
    }),
  );
  const warnings = [...holders, ...longWarnings(compiled, on)];
  const paint = paintFor('stderr', on);
  await writeDiagnostics(warnings, { io: on.io, paint, most: mostNames + 1 });
}

/** `long` has 64 bits here: what wraps on a device does not wrap. */
function longWarnings(compiled: CompiledFirmware, on: Rigging): readonly Diagnostic[] {
  if (on.build.wordSize !== undefined || compiled.wordBits === 32) return [];
  const names = compiled.longOnes();
  if (names.length === 0) return [];
  const more = names.length > mostNames ? ', …' : '';
  return [
    {
      code: 'long-is-wider',
      severity: 'warning',
      source: { file: `${names.slice(0, mostNames).join(', ')}${more}` },
      message:
        'a long has 64 bits on this machine, and 32 on most devices: a wrap after 49.7 days does not show',
      hint: 'add --word-size 32, or use uint32_t or uint64_t',
    },
  ];
}

/** @throws InputProblem for what is not a duration. */
function noinitKeepsOf({ noinitKeeps }: RigOptions): number {
  if (noinitKeeps === undefined) return 0;
  return durationOf('--noinit-keeps', noinitKeeps, { least: 0, most: monthMs });
}

/** The compiler's warnings with control characters made visible. */
async function printWarnings({ warnings }: CompiledFirmware, io: Io): Promise<void> {
  if (warnings.trim() === '') return;
  await io.stderr.write(plainLines(warnings));
}

/** @throws InputProblem for anything but 32 and 64. */
function wordSizeOf({ wordSize }: RigOptions): 32 | 64 | undefined {
  if (wordSize === undefined) return undefined;
  if (wordSize === '32') return 32;
  if (wordSize === '64') return 64;
  throw problem('word-size-unknown', '--word-size', {
    message: 'the size of a word is 32 or 64 bits',
    found: wordSize,
  });
}

/** @throws InputProblem for what is not a duration. */
function toleranceOf({ tolerance }: RigOptions): number {
  if (tolerance === undefined) return 0;
  return durationOf('--tolerance', tolerance, { least: 0, most: mostToleranceMs });
}

function limitOf({ timeLimit }: RigOptions): number {
  if (timeLimit === undefined) return usualLimitSeconds;
  return Math.ceil(durationOf('--time-limit', timeLimit, timeLimits) / 1_000);
}
