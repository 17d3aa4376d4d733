// Firmware and machine side by side on given timelines: the first time at which they decide differently.
import { durationText, plain, roundedMs } from '../../base/index.js';
import {
  conformance,
  type Difference,
  type FailureKind,
  partsOf,
  type Side,
} from '../../rig/index.js';
import { localTime, type Timeline } from '../../scenarios/index.js';
import { simulate } from '../../sim/index.js';
import { dayAndTime, plainCut } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import type { Paint } from '../layout/paint.js';
import { print } from '../layout/print.js';
import { underASecondMs, withinASecond } from '../layout/within-a-second.js';
import { rememberedChecks } from '../replay/trace-lines.js';
import { askOf, type Firmware } from './firmware.js';
import { correctionOf, type FirmwareMemory, memoryLines, memoryOf, sideLines } from './memory.js';

const conformSchema = 'dozewatch/rig-conform/1';

interface Found {
  readonly timeline: Timeline;
  readonly difference: Difference | null;
  readonly memory: FirmwareMemory | null;
  /** How the firmware stopped, where that is the difference; null: it is another one. */
  readonly stopped: FailureKind | null;
  /** Every difference is under a second. */
  readonly isSmall: boolean;
}

/** @returns whether there was no difference. */
export async function conformTo(
  timelines: readonly Timeline[],
  watch: LoadedWatch,
  on: {
    readonly firmware: Firmware;
    readonly io: Io;
    readonly paint: Paint;
    readonly json: boolean;
  },
): Promise<boolean> {
  const { firmware, io, paint, json } = on;
  const all: Found[] = [];
  for (const timeline of timelines) all.push(await compared(timeline, watch, firmware));
  const nextFor = ({ timeline: { file } }: Found): string =>
    firmware.commandWith([
      file,
      ...(watch.name === null ? [] : ['-c', watch.name]),
      '--trace',
      'wakes.ndjson',
    ]);
  if (json) {
    const listed = all.map(({ timeline: { file, name }, difference, memory }) => {
      return { file, name, difference, firmwareMemory: memory };
    });
    const written = { schema: conformSchema, timelines: listed };
    await io.stdout.write(`${JSON.stringify(written, null, 2)}\n`);
  } else for (const one of all) await print(io, textOf(one, nextFor(one), paint));
  return all.every(({ difference }) => difference === null);
}

async function compared(
  timeline: Timeline,
  watch: LoadedWatch,
  firmware: Firmware,
): Promise<Found> {
  const { program, watchFile } = watch;
  const { rig } = firmware;
  const { timing, world, seed } = timeline;
  const experiment = { program, timing, world, seed };
  const ask = askOf(firmware, watch, timeline.start);
  const run = await rig.runInSteps(experiment, ask);
  const trace = simulate(experiment);
  const { toleranceMs } = firmware;
  const difference = conformance(run, trace, watchFile.watch, toleranceMs);
  if (difference === null)
    return { timeline, difference, memory: null, stopped: null, isSmall: false };
  const isSmall =
    toleranceMs === 0 && conformance(run, trace, watchFile.watch, underASecondMs) === null;
  const again = await rig.runInSteps(experiment, { ...ask, memoryOf: difference.wake });
  const { failure } = run;
  const stopped = failure !== null && difference.what.includes(failure.what) ? failure.kind : null;
  return { timeline, difference, memory: memoryOf(again.reply.memory, firmware), stopped, isSmall };
}

function textOf(
  { timeline, difference, memory, stopped, isSmall }: Found,
  next: string,
  paint: Paint,
): string {
  const name = paint.bold(plainCut(timeline.name, 200));
  if (difference === null) {
    return `${name}: ${paint.good('no difference: firmware and machine decide alike')}.\n`;
  }
  const { atMs, what, machine } = difference;
  const roundMs = roundedMs(atMs);
  const at = `${dayAndTime(localTime(timeline.start, roundMs))} (+${durationText(roundMs)})`;
  const lines = [
    `${name}: ${paint.bad('they differ')} first at ${at}:`,
    `  ${plain(what)}`,
    ...(machine === null
      ? []
      : sideLines(
          'the machine',
          partsOf('', inWords(machine.before)),
          partsOf('', inWords(machine.after)),
        )),
    ...(memory === null ? [] : memoryLines(memory)),
    ...dueWords(difference),
    ...(isSmall ? [`  ${withinASecond}`] : []),
    stopped === null
      ? `  Next: ${plain(next)}`
      : `  Next: ${correctionOf(stopped)}, and run the same command again.`,
  ];
  return `${lines.join('\n')}\n`;
}

/** What the machine remembers, with its checks in words: as bits they would read like a count. */
function inWords(memory: NonNullable<Difference['machine']>['before']) {
  const checks = rememberedChecks(memory);
  return { ...memory, recentChecks: checks.length === 0 ? 'none' : checks.join(', ') };
}

/** Why an alert was due at that wake, or was not. */
function dueWords({ machine, firmware }: Difference): readonly string[] {
  const sends = (side: Side | null): boolean =>
    side?.sends.some(({ kind }) => kind === 'alert') ?? false;
  if (sends(machine) === sends(firmware)) return [];
  return [
    sends(machine)
      ? '  An alert was due: the machine of the watch file sends one in this wake.'
      : '  No alert was due: the machine of the watch file sends none in this wake.',
  ];
}
