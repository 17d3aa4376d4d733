// What a firmware retains before and after the wake that shows why something was missed, late or false, and what the machine of the watch file did there.
import { durationText, greatestOf, plain } from '../../base/index.js';
import {
  hexOf,
  partsOf,
  type Reading,
  type RigRun,
  readingOf,
  readingText,
} from '../../rig/index.js';
import { type Experiment, simulate, type Trace } from '../../sim/index.js';
import type { Firmware } from './firmware.js';
import type { RigAsk } from './process.js';

/** A retained variable before and after a wake. */
interface Held {
  readonly name: string;
  readonly before: Reading;
  readonly after: Reading;
}

/** What the firmware retains before and after the wake in which it differs. */
export interface FirmwareMemory {
  /** As hexadecimal bytes; null: it did not get that far. */
  readonly before: string | null;
  readonly after: string | null;
  /** Null where the compiled program has no names for them. */
  readonly variables: readonly Held[] | null;
  /** What constructors made of it, before the firmware's own code ran, where they changed it. */
  readonly constructed: readonly { readonly name: string; readonly change: string }[];
}

/** What a finding is about: an opening or an alert, by its index; null: a failure of the firmware. */
export type Subject = { readonly kind: 'opening' | 'alert'; readonly index: number } | null;

/** The lines with which a finding ends. @param run with its wakes. */
export function decidingLines(
  firmware: Firmware,
  run: RigRun,
  {
    experiment,
    subject,
    ask,
    wake: known,
    clockOf,
    next,
  }: {
    readonly experiment: Experiment;
    readonly subject: Subject;
    /** How it was run. */
    readonly ask: RigAsk;
    /** Where it is known already: it is one in which the two differ. */
    readonly wake?: number | undefined;
    /** An instant by the clock; without it as a time from the start. */
    readonly clockOf?: ((atMs: number) => string) | undefined;
    /** The command line to run next. */
    readonly next?: string | undefined;
  },
): readonly string[] {
  const machine = simulate(experiment, { record: 'none' });
  const on = { experiment, subject, machine };
  const { wake, role } =
    known === undefined ? decidingWake(run, on) : { wake: known, role: 'differs' as const };
  const record = run.reply.wakes[wake];
  if (record === undefined) return [];
  const again = firmware.rig.run(experiment, { ...ask, wakes: true, memoryOf: wake });
  const check = record.check === null ? '' : `, contact read ${record.check.contact}`;
  return [
    `${roleWords(role, on)} at ${momentText(record.wakeMs, clockOf)}${check}.`,
    ...machineWords(on, decidedAt(run, subject)),
    // A run that a spent charge has changed is not the one that is repeated here.
    ...(again.reply.wakes[wake]?.wakeMs === record.wakeMs
      ? memoryLines(memoryOf(again.reply.memory, firmware))
      : []),
    ...(next === undefined ? [] : [`Next: ${next}`]),
  ];
}

interface Deciding {
  readonly experiment: Experiment;
  readonly subject: Subject;
  readonly machine: Trace;
}

/** What a wake is to what it is shown for. */
type Role = 'differs' | 'stopped' | 'decided' | 'due' | 'last' | 'before';

interface ShownWake {
  /** Its index; past the end where there is none. */
  readonly wake: number;
  readonly role: Role;
}

function decidingWake({ reply, trace, failure }: RigRun, on: Deciding): ShownWake {
  const { wakes } = reply;
  const lastBy = (ms: number): number => wakes.findLastIndex(({ wakeMs }) => wakeMs <= ms);
  const none = wakes.length;
  if (on.subject === null) {
    return { wake: failure === null ? none : lastBy(failure.atMs), role: 'stopped' };
  }
  if (on.subject.kind === 'alert') {
    const decidedMs = trace.alerts[on.subject.index]?.decidedMs;
    return { wake: decidedMs === undefined ? none : lastBy(decidedMs), role: 'decided' };
  }
  const stretch = openingOf(on);
  const last = lastBy(stretch.toMs - 1);
  if (last >= 0 && (wakes[last]?.endMs ?? 0) < stretch.fromMs) {
    return { wake: last, role: 'before' };
  }
  const dueMs = machineDecides(on);
  const due =
    dueMs === null ? -1 : wakes.findIndex(({ endMs, check }) => (check?.atMs ?? endMs) >= dueMs);
  if (due >= 0 && due <= last) return { wake: due, role: 'due' };
  return { wake: last < 0 ? none : last, role: 'last' };
}

function momentText(atMs: number, clockOf: ((atMs: number) => string) | undefined): string {
  const since = `+${durationText(atMs)}`;
  return clockOf === undefined ? since : `${clockOf(atMs)} (${since})`;
}

/** Which wake it is, by the numbers of the tables. */
function roleWords(role: Role, { subject }: Deciding): string {
  const number = `no. ${String((subject?.index ?? 0) + 1)}`;
  switch (role) {
    case 'differs':
      return 'They first differ in the wake';
    case 'stopped':
      return 'It stopped in the wake';
    case 'decided':
      return `Alert ${number} was decided in the wake`;
    case 'due':
      return `Opening ${number}: its alert should have been decided in the wake`;
    case 'last':
      return `Opening ${number}: its last wake was`;
    case 'before':
      return `Opening ${number}: the last wake before it was`;
  }
}

function openingOf({ experiment, subject }: Deciding) {
  const { openings, lengthMs } = experiment.world;
  const index = subject?.index ?? 0;
  const toMs = Math.min(openings.toMs[index] ?? 0, lengthMs);
  return { fromMs: openings.fromMs[index] ?? 0, toMs };
}

/** When the machine decides the alert of an opening; null: it decides none. */
function machineDecides(on: Deciding): number | null {
  const { fromMs, toMs } = openingOf(on);
  const own = on.machine.alerts.find(({ decidedMs }) => decidedMs >= fromMs && decidedMs < toMs);
  return own?.decidedMs ?? null;
}

/** Whether an alert was due there, by the machine of the watch file. */
function machineWords(on: Deciding, decidedMs: number | null): readonly string[] {
  if (on.subject?.kind === 'alert') return alertWords(on, decidedMs);
  if (on.subject === null) return [];
  const dueMs = machineDecides(on);
  return [
    dueMs === null
      ? 'The machine of the watch file decides no alert in this opening either.'
      : `An alert was due: the machine of the watch file decides it at +${durationText(dueMs)}.`,
  ];
}

function decidedAt({ trace }: RigRun, subject: Subject): number | null {
  if (subject?.kind !== 'alert') return null;
  return trace.alerts[subject.index]?.decidedMs ?? null;
}

/** An alert that the machine decides this much sooner or later is the same one. */
const samePeriods = 2;

/** Whether the machine decides an alert about when the firmware does. */
function alertWords(
  { experiment, machine }: Deciding,
  decidedMs: number | null,
): readonly string[] {
  if (decidedMs === null) return [];
  const { checkIntervalMs, recheckIntervalMs } = experiment.program.watch;
  const nearMs = samePeriods * Math.max(checkIntervalMs, recheckIntervalMs);
  const own = machine.alerts.find((one) => Math.abs(one.decidedMs - decidedMs) <= nearMs);
  return [
    own === undefined
      ? 'No alert was due: the machine of the watch file decides none there.'
      : `The machine of the watch file decides an alert there as well, at +${durationText(own.decidedMs)}.`,
  ];
}

export function memoryOf(
  { before, after, built }: RigRun['reply']['memory'],
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
    constructed:
      before === null || built === null
        ? []
        : (variables ?? []).flatMap((variable) => changesOf(variable, before, built)),
  };
}

type Variable = Parameters<typeof readingOf>[1];

function changesOf(variable: Variable, from: Uint8Array, to: Uint8Array) {
  const is = new Map(partsOf(variable.name, readingOf(to, variable)));
  return partsOf(variable.name, readingOf(from, variable)).flatMap(([name, reading]) => {
    const now = is.get(name);
    const [one, other] = [readingText(reading), now === undefined ? 'unknown' : readingText(now)];
    return one === other ? [] : [{ name: nameText(name), change: `${one} -> ${other}` }];
  });
}

export function memoryLines(memory: FirmwareMemory): readonly string[] {
  return [...constructedLines(memory), ...wakeLines(memory)];
}

/** Constructors of retained objects run at each boot, and may set what was to survive sleep. */
function constructedLines({ constructed }: FirmwareMemory): readonly string[] {
  if (constructed.length === 0) return [];
  const shown = constructed.slice(0, mostConstructed);
  const more = constructed.length > shown.length ? ', …' : '';
  return [
    `  A constructor ran in that wake, ahead of dw_wake, and changed ${shown.map(({ name, change }) => `${name} (${change})`).join(', ')}${more}.`,
  ];
}

/** Variables that are named in one line. */
const mostConstructed = 6;

function wakeLines({ before, after, variables }: FirmwareMemory): readonly string[] {
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
export function sideLines(who: string, before: Parts, after: Parts): readonly string[] {
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
