// `dozewatch rig` at work: the owner's firmware, compiled once, through timelines, a suite or a hunt.
import { parseDuration, type Timeline } from '../../scenarios/index.js';
import type { Style } from '../commands/command.js';
import { type CompiledFirmware, compileFirmware, plainLines } from '../host/compile-firmware.js';
import type { ExitStatus, Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import { openRig } from '../host/rig-process.js';
import { writeDiagnostics } from '../host/write-diagnostics.js';
import { plainCut } from '../present/columns.js';
import { problem, valueOf } from '../problem.js';
import { loadTimeline } from './load-timeline.js';
import { loadWatch } from './load-watch.js';
import { paintFor } from './paint-for.js';
import type { Replay } from './replay-one.js';
import { type Firmware, rigReplay } from './rig-replay.js';
import { checkOutputs, type OutputOptions, tellReplays } from './tell-replays.js';
import { checkInputs, type TimelineOptions } from './timeline-options.js';

export interface RigOptions extends TimelineOptions, OutputOptions {
  readonly config?: string | undefined;
  readonly timeLimit?: string | undefined;
}

const mostWarnings = 20;
const usualLimitSeconds = 120;

/** @throws InputProblem for input that cannot be read, believed or compiled. */
export async function rig(
  [file = '', ...inputs]: readonly string[],
  options: RigOptions,
  on: { readonly io: Io; readonly style: Style },
): Promise<ExitStatus> {
  const { io } = on;
  const limitSeconds = limitOf(options);
  if (inputs.length === 0) {
    throw problem('no-timeline', file, {
      message: 'there is nothing to run this firmware through',
      hint: 'give scenarios or door logs after it',
    });
  }
  checkInputs(inputs, options, options.config);
  const files = [file, ...inputs, ...(options.config === undefined ? [] : [options.config])];
  checkOutputs(inputs, options, { files, io });
  const watch = await loadWatch(options.config, io);
  const paint = paintFor('stderr', on);
  await writeDiagnostics(watch.warnings, { io, paint, most: mostWarnings });
  const timelines: Timeline[] = [];
  for (const input of inputs) {
    timelines.push(await loadTimeline(input, watch.watchFile, options, io));
  }
  return withFirmware(file, { io, limitSeconds }, async (firmware) => {
    const replays: Replay[] = [];
    const progress = openProgress(io, `running ${plainCut(file, 40)}`);
    for (const [index, timeline] of timelines.entries()) {
      const at = (share: number): void => progress.at((index + share) / timelines.length);
      replays.push(await rigReplay(timeline, watch, { firmware, at }));
    }
    progress.end();
    return tellReplays(replays, watch, { ...on, options });
  });
}

/** Compiles, prints what the compiler says, and clears up whatever happens. */
async function withFirmware(
  file: string,
  on: { readonly io: Io; readonly limitSeconds: number },
  work: (firmware: Firmware) => Promise<ExitStatus>,
): Promise<ExitStatus> {
  const compiled = await compileFirmware(file, on.io);
  const rigOfIt = openRig(compiled);
  try {
    await tellWarnings(compiled, on.io);
    return await work({ file, rig: rigOfIt, limitSeconds: on.limitSeconds });
  } finally {
    rigOfIt.close();
  }
}

/** As the compiler gives them, but for what would command the terminal. */
async function tellWarnings({ warnings }: CompiledFirmware, io: Io): Promise<void> {
  if (warnings.trim() === '') return;
  await io.stderr.write(plainLines(warnings));
}

function limitOf({ timeLimit }: RigOptions): number {
  if (timeLimit === undefined) return usualLimitSeconds;
  const ms = valueOf(parseDuration(timeLimit, { file: '--time-limit' }));
  if (ms >= 1_000 && ms <= 86_400_000) return Math.ceil(ms / 1_000);
  throw problem('out-of-range', '--time-limit', {
    message: 'a timeline cannot have so long',
    found: timeLimit,
    expected: 'from 1s to 1d',
  });
}
