// Firmware and machine side by side on given timelines: the first instant at which they decide differently.
import { durationText, plain } from '../../base/index.js';
import { conformance, type Difference } from '../../rig/index.js';
import { localTime, type Timeline } from '../../scenarios/index.js';
import { simulate } from '../../sim/index.js';
import { dayAndTime, plainCut } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import type { Paint } from '../present/paint.js';
import type { LoadedWatch } from './load-watch.js';
import type { Firmware } from './rig-replay.js';

const conformSchema = 'dozewatch/rig-conform/1';

interface Found {
  readonly timeline: Timeline;
  readonly difference: Difference | null;
  /** What the firmware retains before and after that wake, as hexadecimal bytes. */
  readonly memory: { readonly before: string | null; readonly after: string | null };
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
  if (json) {
    const listed = all.map(({ timeline: { file, name }, difference, memory }) => {
      const firmwareMemory = difference === null ? null : memory;
      return { file, name, difference, firmwareMemory };
    });
    const written = { schema: conformSchema, timelines: listed };
    await io.stdout.write(`${JSON.stringify(written, null, 2)}\n`);
  } else for (const one of all) await io.stdout.write(textOf(one, paint));
  return all.every(({ difference }) => difference === null);
}

async function compared(
  timeline: Timeline,
  { program, watchFile }: LoadedWatch,
  { rig, limitSeconds }: Firmware,
): Promise<Found> {
  const { timing, world, seed } = timeline;
  const experiment = { program, timing, world, seed };
  const ask = { wakes: true, limitSeconds };
  const run = await rig.runInSteps(experiment, ask);
  const difference = conformance(run, simulate(experiment), watchFile.watch);
  if (difference === null) {
    return { timeline, difference, memory: { before: null, after: null } };
  }
  const again = await rig.runInSteps(experiment, { ...ask, memoryOf: difference.wake });
  const { before, after } = again.reply.memory;
  return { timeline, difference, memory: { before: hex(before), after: hex(after) } };
}

function hex(bytes: Uint8Array | null): string | null {
  return bytes === null ? null : Buffer.from(bytes).toString('hex');
}

function textOf({ timeline, difference, memory }: Found, paint: Paint): string {
  const name = paint.bold(plainCut(timeline.name, 200));
  if (difference === null) {
    return `${name}: ${paint.good('firmware and machine decide alike')}.\n`;
  }
  const { atMs, what, machine } = difference;
  const at = `${dayAndTime(localTime(timeline.start, atMs))} (+${durationText(atMs)})`;
  const lines = [
    `${name}: ${paint.bad('they differ')} first at ${at}:`,
    `  ${plain(what)}`,
    ...(machine === null
      ? []
      : [
          `  machine's memory before:  ${JSON.stringify(machine.before)}`,
          `  machine's memory after:   ${JSON.stringify(machine.after)}`,
        ]),
    `  firmware retains before:  ${memory.before ?? 'unknown'}`,
    `  firmware retains after:   ${memory.after ?? 'unknown'}`,
  ];
  return `${lines.join('\n')}\n`;
}
