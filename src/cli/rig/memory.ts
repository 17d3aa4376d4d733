// What a firmware retains before and after the wake that shows why something was missed, late or false, and what the machine of the watch file did there.
import {
  durationText,
  greatestOf,
  minuteMs,
  plain,
  roundedApart,
  roundedDurationText,
} from '../../base/index.js';
import {
  type FailureKind,
  hexOf,
  partsOf,
  type Reading,
  type RigRun,
  type RigWake,
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
    /** What to do next. */
    readonly next?: NextSteps | undefined;
  },
): readonly string[] {
  const machine = simulate(experiment, { record: 'none' });
  const on = { experiment, subject, machine, run };
  const { wake, role } =
    known === undefined ? decidingWake(on) : { wake: known, role: 'differs' as const };
  const record = run.reply.wakes[wake];
  if (record === undefined) return [];
  const again = firmware.rig.run(experiment, { ...ask, wakes: true, memoryOf: wake });
  const check = record.check === null ? '' : `; its check read ${record.check.contact}`;
  const rounded = roundedApart([record.wakeMs, ...otherInstants(on)]);
  const atText = (atMs: number): string => `+${durationText(rounded(atMs))}`;
  const clock = clockOf === undefined ? null : clockOf(rounded(record.wakeMs));
  const began = atText(record.wakeMs);
  return [
    `${roleWords(role, on)} that began at ${clock === null ? began : `${clock} (${began})`}${check}.`,
    ...machineWords(on, { role, check: record.check }, atText),
    // A run that a spent charge has changed is not the one that is repeated here.
    ...(again.reply.wakes[wake]?.wakeMs === record.wakeMs
      ? memoryLines(memoryOf(again.reply.memory, firmware))
      : []),
    ...(next === undefined ? [] : nextLines(on, next)),
  ];
}

export interface NextSteps {
  /** The lines for a finding that comes from the firmware. */
  readonly ofFirmware: readonly string[];
  /** Those for one that does not; null: it comes from the firmware, whatever it is about. */
  readonly notOfFirmware: readonly string[] | null;
  /** Whether the machine also misses this opening, or reports it late. */
  readonly isOfMachine: (opening: number) => boolean;
}

function nextLines(
  on: Deciding,
  { ofFirmware, notOfFirmware, isOfMachine }: NextSteps,
): readonly string[] {
  const { subject, run } = on;
  if (run.failure !== null) {
    return [`Next: ${correctionOf(run.failure.kind)}, and run the same command again.`];
  }
  const isOwn =
    subject === null ||
    (subject.kind === 'alert' ? !isOfTheMachine(on, subject.index) : !isOfMachine(subject.index));
  return notOfFirmware === null || isOwn ? ofFirmware : notOfFirmware;
}

/** What to do about a firmware that stopped. */
export function correctionOf(kind: FailureKind): string {
  return kind === 'returned'
    ? 'end every path of dw_wake with dw_sleep_ms or dw_idle_until_reset'
    : 'correct the firmware there';
}

/** The machine of the watch file also raises the alert. */
function isOfTheMachine(on: BothTraces, index: number): boolean {
  const { alerts } = on.run.trace;
  const decidedMs = alerts[index]?.decidedMs;
  const ownMs = decidedMs === undefined ? undefined : sameAlertMs(on, decidedMs);
  return ownMs !== undefined && nearestTo(ownMs, alerts) === index;
}

/** When the machine decides the alert that may be the one decided at an instant; undefined: it decides none near it. */
function sameAlertMs({ experiment, machine }: BothTraces, decidedMs: number): number | undefined {
  const nearMs = nearBy(experiment);
  const ownMs = machine.alerts[nearestTo(decidedMs, machine.alerts)]?.decidedMs;
  return ownMs === undefined || Math.abs(ownMs - decidedMs) > nearMs ? undefined : ownMs;
}

function nearBy({ program }: Experiment): number {
  const { checkIntervalMs, recheckIntervalMs } = program.watch;
  return samePeriods * Math.max(checkIntervalMs, recheckIntervalMs);
}

/** What both decided on one timeline. */
interface BothTraces {
  readonly experiment: Experiment;
  readonly machine: Trace;
  readonly run: Pick<RigRun, 'trace'>;
}

interface Deciding {
  readonly experiment: Experiment;
  readonly subject: Subject;
  readonly machine: Trace;
  readonly run: RigRun;
}

/** What a wake is to what it is shown for. */
type Role = 'differs' | 'stopped' | 'longest' | 'decided' | 'due' | 'tried' | 'last' | 'before';

interface ShownWake {
  /** Its index; the number of wakes where there is no such wake. */
  readonly wake: number;
  readonly role: Role;
}

function decidingWake(on: Deciding): ShownWake {
  const { reply, trace, failure } = on.run;
  const { wakes, sends } = reply;
  const lastBy = (ms: number): number => wakes.findLastIndex(({ wakeMs }) => wakeMs <= ms);
  const none = wakes.length;
  if (on.subject === null) {
    return failure === null
      ? { wake: longestWake(on.run), role: 'longest' }
      : { wake: lastBy(failure.atMs), role: 'stopped' };
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
  const dueMs = decidedWithin(on.machine, stretch)?.decidedMs ?? null;
  const found =
    dueMs === null ? -1 : wakes.findIndex(({ endMs, check }) => (check?.atMs ?? endMs) >= dueMs);
  const due = found <= last ? found : -1;
  const ownMs = decidedWithin(trace, stretch)?.decidedMs ?? null;
  const own = ownMs === null ? -1 : lastBy(ownMs);
  if (own >= 0 && (due < 0 || own <= due)) return { wake: own, role: 'decided' };
  if (due < 0) return { wake: last < 0 ? none : last, role: 'last' };
  const hasTried = sends.some(
    ({ wake, kind, startMs }) => wake === due && kind === 'alert' && startMs < stretch.toMs,
  );
  return { wake: due, role: hasTried ? 'tried' : 'due' };
}

/** The wake in which it was awake for longest, where that is long; the number of wakes where none is. */
function longestWake(run: RigRun): number {
  const { wakes } = run.reply;
  let longest = wakes.length;
  let mostMs = leastLongMs;
  for (const index of wakes.keys()) {
    const ms = awakeMs(run, index);
    if (ms > mostMs) [longest, mostMs] = [index, ms];
  }
  return longest;
}

/** From a wake to the sleep that ends it; of one that waits for a reset, to the next one. */
function awakeMs({ reply: { wakes }, trace }: RigRun, index: number): number {
  const wake = wakes[index];
  if (wake === undefined) return 0;
  const endMs = wake.ends === 'held' ? (wakes[index + 1]?.wakeMs ?? trace.lengthMs) : wake.endMs;
  return endMs - wake.wakeMs;
}

function longestText(run: RigRun): string {
  const index = longestWake(run);
  const text = roundedDurationText(awakeMs(run, index));
  return run.reply.wakes[index]?.ends === 'held' ? `${text} and waiting for a reset` : text;
}

/** Awake for longer than a send takes. */
const leastLongMs = 5 * minuteMs;

/** Which wake it is, by the numbers of the tables. */
function roleWords(role: Role, { subject, run }: Deciding): string {
  const number = `no. ${String((subject?.index ?? 0) + 1)}`;
  switch (role) {
    case 'differs':
      return 'They first differ in the wake';
    case 'stopped':
      return 'The firmware stopped in the wake';
    case 'longest':
      return `The firmware was awake longest, for ${longestText(run)}, in the wake`;
    case 'decided':
      return subject?.kind === 'opening'
        ? `Opening ${number}: the firmware decided an alert in the wake`
        : `The firmware decided alert ${number} in the wake`;
    case 'due':
      return `Opening ${number}: the firmware decided no alert in the wake`;
    case 'tried':
      return `Opening ${number}: an alert that the firmware decided before the door opened was tried in the wake`;
    case 'last':
      return `Opening ${number}: the last wake of the firmware was the one`;
    case 'before':
      return `Opening ${number}: the last wake of the firmware before it was the one`;
  }
}

function openingOf({ experiment, subject }: Deciding) {
  const { openings, lengthMs } = experiment.world;
  const index = subject?.index ?? 0;
  const toMs = Math.min(openings.toMs[index] ?? 0, lengthMs);
  return { fromMs: openings.fromMs[index] ?? 0, toMs };
}

/** The first alert that is decided in an opening. */
function decidedWithin(
  { alerts }: Trace,
  { fromMs, toMs }: ReturnType<typeof openingOf>,
): Alert | undefined {
  return alerts.find(({ decidedMs }) => decidedMs >= fromMs && decidedMs < toMs);
}

type Alert = Trace['alerts'][number];

/** Other instants that a reader sees beside the wake's: when it stopped, and what the machine of the watch file does. */
function otherInstants(on: Deciding): readonly number[] {
  const { subject, run } = on;
  if (subject === null) return run.failure === null ? [] : [run.failure.atMs];
  const decidedMs = run.trace.alerts[subject.index]?.decidedMs;
  if (subject.kind === 'alert') {
    const ownMs = decidedMs === undefined ? undefined : sameAlertMs(on, decidedMs);
    return ownMs === undefined ? [] : [ownMs];
  }
  const own = decidedWithin(on.machine, openingOf(on));
  return own === undefined ? [] : [own.decidedMs, own.deliveredMs ?? own.decidedMs];
}

/** What the machine of the watch file does with the same opening or alert. */
function machineWords(
  on: Deciding,
  { role, check }: Pick<RigWake, 'check'> & { readonly role: Role },
  atText: (atMs: number) => string,
): readonly string[] {
  if (on.subject === null) return [];
  if (on.subject.kind === 'alert') return alertWords(on, on.subject.index, atText);
  const own = decidedWithin(on.machine, openingOf(on));
  if (own === undefined) {
    return role === 'decided'
      ? ['The machine of the watch file decides no alert in this opening.']
      : ['The machine of the watch file decides no alert in this opening either.'];
  }
  const at = atText(own.decidedMs);
  if (role !== 'decided' && role !== 'tried') {
    const since = sinceDueText(role, check, own.decidedMs);
    return [
      `An alert was due: the machine of the watch file decides it at its own check at ${at}.${since}`,
    ];
  }
  const sent =
    own.deliveredMs === null ? 'does not deliver it' : `delivers it at ${atText(own.deliveredMs)}`;
  return [`The machine of the watch file decides one at its own check at ${at}, and ${sent}.`];
}

/** Checks of the two that are less apart come at the same time: boots take a little more or less. */
const sameCheckMs = 1000;

/** What the wake that is shown is to the instant at which the machine decides: the checks of the two may come at different times. */
function sinceDueText(role: Role, check: RigWake['check'], dueMs: number): string {
  if (role === 'last') return ' From then on the firmware makes no check in this opening.';
  if (role !== 'due' || check === null || check.atMs - dueMs < sameCheckMs) return '';
  return ' The wake above has the first check of the firmware from then on: the two check at different times by now.';
}

/** An alert that the machine decides this much sooner or later may be the same one. */
const samePeriods = 2;

/** Alerts of firmware and machine are the same where each is the nearest to the other. */
function alertWords(
  on: Deciding,
  index: number,
  atText: (atMs: number) => string,
): readonly string[] {
  const { alerts } = on.run.trace;
  const decidedMs = alerts[index]?.decidedMs;
  if (decidedMs === undefined) return [];
  const ownMs = sameAlertMs(on, decidedMs);
  if (ownMs === undefined) {
    return [
      `No alert was due: the machine of the watch file decides none within ${durationText(nearBy(on.experiment))} of it.`,
    ];
  }
  const at = atText(ownMs);
  const nearest = nearestTo(ownMs, alerts);
  if (nearest !== index) {
    return [
      `The machine of the watch file decides no alert that corresponds to it: its nearest one, at ${at}, corresponds to alert no. ${String(nearest + 1)}.`,
    ];
  }
  const byMs = ownMs - decidedMs;
  const by =
    byMs === 0 ? '' : `, ${roundedDurationText(Math.abs(byMs))} ${byMs < 0 ? 'earlier' : 'later'}`;
  return [`The machine of the watch file also decides one, at its own check at ${at}${by}.`];
}

/** The index of the alert decided nearest to an instant, of two the first; -1: there are no alerts. They are in the order of time. */
function nearestTo(atMs: number, alerts: readonly Alert[]): number {
  const msAt = (index: number): number => alerts[index]?.decidedMs ?? Number.POSITIVE_INFINITY;
  let low = 0;
  let high = alerts.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (msAt(middle) < atMs) low = middle + 1;
    else high = middle;
  }
  let nearest = low > 0 && atMs - msAt(low - 1) <= msAt(low) - atMs ? low - 1 : low;
  while (nearest > 0 && msAt(nearest - 1) === msAt(nearest)) nearest -= 1;
  return nearest < alerts.length ? nearest : -1;
}

/**
 * The alert that shows what a firmware does otherwise: the first of some that the machine of the watch file does not decide. Where it
 * decides all of them: the first, or null where it decides more than the firmware, so that one is lacking.
 */
export function ownAlert(
  experiment: Experiment,
  run: Pick<RigRun, 'trace'>,
  some: readonly number[],
): number | null {
  const machine = simulate(experiment, { record: 'none' });
  const on: BothTraces = { experiment, machine, run };
  const own = some.find((index) => !isOfTheMachine(on, index));
  const lacksOne = machine.alerts.length > run.trace.alerts.length;
  return own ?? (lacksOne ? null : (some[0] ?? null));
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
