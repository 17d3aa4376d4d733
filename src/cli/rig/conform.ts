// Firmware and machine side by side on given timelines: the first time at which they decide differently.
import { durationText, greatestOf, plain } from '../../base/index.js';
import {
  conformance,
  type Difference,
  hexOf,
  partsOf,
  type Reading,
  readingOf,
  readingText,
} from '../../rig/index.js';
import { localTime, type Timeline } from '../../scenarios/index.js';
import { simulate } from '../../sim/index.js';
import { dayAndTime, plainCut } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import type { Paint } from '../layout/paint.js';
import { tell } from '../layout/tell.js';
import { askOf, type Firmware } from './replay.js';

const conformSchema = 'dozewatch/rig-conform/1';

/** A retained variable before and after a wake. */
interface Held {
  readonly name: string;
  readonly before: Reading;
  readonly after: Reading;
}

/** What the firmware retains before and after the wake in which it differs. */
interface FirmwareMemory {
  /** As hexadecimal bytes; null: it did not get that far. */
  readonly before: string | null;
  readonly after: string | null;
  /** Null where the compiled program has no names for them. */
  readonly variables: readonly Held[] | null;
}

interface Found {
  readonly timeline: Timeline;
  readonly difference: Difference | null;
  readonly memory: FirmwareMemory | null;
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
      return { file, name, difference, firmwareMemory: memory };
    });
    const written = { schema: conformSchema, timelines: listed };
    await io.stdout.write(`${JSON.stringify(written, null, 2)}\n`);
  } else for (const one of all) await tell(io.stdout, textOf(one, paint));
  return all.every(({ difference }) => difference === null);
}

async function compared(
  timeline: Timeline,
  { program, watchFile }: LoadedWatch,
  firmware: Firmware,
): Promise<Found> {
  const { rig } = firmware;
  const { timing, world, seed } = timeline;
  const experiment = { program, timing, world, seed };
  const ask = askOf(firmware);
  const run = await rig.runInSteps(experiment, ask);
  const difference = conformance(run, simulate(experiment), watchFile.watch);
  if (difference === null) return { timeline, difference, memory: null };
  const again = await rig.runInSteps(experiment, { ...ask, memoryOf: difference.wake });
  return { timeline, difference, memory: memoryOf(again.reply.memory, firmware) };
}

function memoryOf(
  { before, after }: { readonly before: Uint8Array | null; readonly after: Uint8Array | null },
  { retained }: Firmware,
): FirmwareMemory {
  const variables = retained();
  const none = new Uint8Array(0);
  return {
    before: before === null ? null : hexOf(before),
    after: after === null ? null : hexOf(after),
    variables:
      variables?.map((variable) => ({
        name: variable.name,
        before: readingOf(before ?? none, variable),
        after: readingOf(after ?? none, variable),
      })) ?? null,
  };
}

function textOf({ timeline, difference, memory }: Found, paint: Paint): string {
  const name = paint.bold(plainCut(timeline.name, 200));
  if (difference === null) {
    return `${name}: ${paint.good('no difference: firmware and machine decide alike')}.\n`;
  }
  const { atMs, what, machine } = difference;
  const at = `${dayAndTime(localTime(timeline.start, atMs))} (+${durationText(atMs)})`;
  const lines = [
    `${name}: ${paint.bad('they differ')} first at ${at}:`,
    `  ${plain(what)}`,
    ...(machine === null
      ? []
      : sideLines(
          'the machine',
          partsOf('', { ...machine.before }),
          partsOf('', { ...machine.after }),
        )),
    ...(memory === null ? [] : memoryLines(memory)),
  ];
  return `${lines.join('\n')}\n`;
}

function memoryLines({ before, after, variables }: FirmwareMemory): readonly string[] {
  if (variables?.length === 0) return ['  the firmware retains nothing'];
  if (variables === null || (before === null && after === null)) {
    return [
      `  firmware retains before:  ${before ?? 'unknown'}`,
      `  firmware retains after:   ${after ?? 'unknown'}`,
    ];
  }
  const parts = (side: 'before' | 'after') =>
    variables.flatMap((one) => partsOf(one.name, one[side]));
  return sideLines(
    'the firmware',
    before === null ? [] : parts('before'),
    after === null ? [] : parts('after'),
  );
}

type Parts = readonly (readonly [name: string, reading: Reading])[];

/** More variables than this are no help. */
const mostLines = 60;

/** What one side remembers: a line a variable, and what the wake made of it where that is something else. */
function sideLines(who: string, before: Parts, after: Parts): readonly string[] {
  const was = new Map(before);
  const is = new Map(after);
  const names = [...new Set([...was.keys(), ...is.keys()])];
  const shown = names.slice(0, mostLines);
  const width = Math.max(0, greatestOf(shown.map((name) => nameText(name).length)));
  const text = (held: ReadonlyMap<string, Reading>, name: string): string => {
    const reading = held.get(name);
    return reading === undefined ? 'unknown' : readingText(reading);
  };
  return [
    `  what ${who} remembers, before the wake -> after it:`,
    ...shown.map((name) => {
      const [one, other] = [text(was, name), text(is, name)];
      const change = one === other ? one : `${one} -> ${other}`;
      return `    ${nameText(name).padEnd(width)}  ${change}`;
    }),
    ...(names.length > mostLines ? [`    … and ${String(names.length - mostLines)} more`] : []),
  ];
}

function nameText(name: string): string {
  return plain(name).replace(/^\./u, '');
}
