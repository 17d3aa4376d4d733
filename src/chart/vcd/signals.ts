// The signals of a run, each as the steps of its value: what the door did, what the device did, what it remembered.

import { initialMemory, type RetainedMemory } from '../../machine/index.js';
import { type SupplySettings } from '../../model/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import { sendOfWake, type Trace } from '../../sim/index.js';
import { type DoorMove, type Spans, type World, wideOpenUm } from '../../world/index.js';
import { cooldownsIn, poweredWorld, powerlessIn, settledMs } from '../facts/alerts.js';
import type { Window } from '../facts/window.js';
import { chargeUsed } from './charge.js';
import { type WakeTimes, wakeTimes } from './wake-times.js';

/** Null: unknown, as memory is without power. */
export interface Step {
  readonly atMs: number;
  readonly value: number | null;
}

export interface Signal {
  readonly name: string;
  /** Bits of a whole number, or a real. */
  readonly kind: { readonly bits: number } | 'real';
  /** From the start of the timeline, ascending; where several share an instant, the last counts. */
  readonly steps: readonly Step[];
}

export interface SignalsInput {
  readonly trace: Trace;
  readonly world: World;
  readonly moves: readonly DoorMove[] | null;
  readonly watchFile: WatchFile;
}

const wire = { bits: 1 };

export function signalsOf(given: SignalsInput): readonly Signal[] {
  const input = { ...given, world: poweredWorld(given.world, given.trace) };
  const { trace, world, watchFile } = input;
  const whole = { fromMs: 0, toMs: trace.lengthMs };
  const wakes = [...wakeTimes(trace, world)];
  const sends = wakes.map(sendOfWake).filter((send) => send !== null);
  const flag = (name: string, spans: readonly Window[]): Signal => ({
    name,
    kind: wire,
    steps: stepsOf(spans),
  });
  return [
    flag('door', windowsOf(world.openings)),
    { name: 'gap_mm', kind: 'real', steps: gapSteps(input) },
    { name: 'contact', kind: wire, steps: contactSteps(world) },
    flag('network_down', windowsOf(world.networkDown)),
    flag('power_lost', powerlessIn(world, whole)),
    flag(
      'awake',
      wakes.map(({ wakeMs, endMs }) => ({ fromMs: wakeMs, toMs: endMs })),
    ),
    flag(
      'radio',
      sends.map(({ startMs, endMs }) => ({ fromMs: startMs, toMs: endMs })),
    ),
    flag('alert', alertWindows(trace)),
    flag('cooldown', cooldownsIn({ trace, world, watchFile }, whole)),
    ...memorySignals(wakes, input),
    ...(watchFile.supply === null ? [] : [chargeSignal(input, watchFile.supply)]),
  ];
}

/** Spans that may touch or overlap, as a flag. */
function stepsOf(spans: readonly Window[]): Step[] {
  const ordered = spans
    .filter(({ fromMs, toMs }) => fromMs < toMs)
    .sort((a, b) => a.fromMs - b.fromMs);
  const steps: Step[] = [{ atMs: 0, value: 0 }];
  let untilMs = -1;
  for (const { fromMs, toMs } of ordered) {
    if (fromMs > untilMs && untilMs >= 0) steps.push({ atMs: untilMs, value: 0 });
    if (fromMs > untilMs) steps.push({ atMs: fromMs, value: 1 });
    untilMs = Math.max(untilMs, toMs);
  }
  if (untilMs >= 0) steps.push({ atMs: untilMs, value: 0 });
  return steps;
}

function windowsOf({ fromMs, toMs }: Spans): Window[] {
  return Array.from(fromMs, (from, index) => ({ fromMs: from, toMs: toMs[index] ?? from }));
}

function contactSteps({ contact }: World): Step[] {
  const edges = Array.from(contact, (atMs, index): Step => ({ atMs, value: (index + 1) & 1 }));
  return [{ atMs: 0, value: 0 }, ...edges];
}

function gapSteps({ moves, world }: SignalsInput): Step[] {
  const shut: Step = { atMs: 0, value: 0 };
  if (moves !== null) {
    return [shut, ...moves.map(({ atMs, gapUm }) => ({ atMs, value: gapUm / 1_000 }))];
  }
  // Nobody said how far: wide open.
  return [
    shut,
    ...windowsOf(world.openings).flatMap(({ fromMs, toMs }) => [
      { atMs: fromMs, value: wideOpenUm / 1_000 },
      { atMs: toMs, value: 0 },
    ]),
  ];
}

/** From its decision until it is delivered, dropped or forgotten. */
function alertWindows(trace: Trace): Window[] {
  return trace.alerts.map((alert) => ({
    fromMs: alert.decidedMs,
    toMs: settledMs(alert, trace.lengthMs),
  }));
}

function chargeSignal({ trace, world }: SignalsInput, supply: SupplySettings): Signal {
  const used = [...chargeUsed(trace, world, supply)];
  const steps = used.map(({ atMs, usedNah }) => ({ atMs, value: usedNah / 1e6 }));
  return { name: 'charge_used_mah', kind: 'real', steps: [{ atMs: 0, value: 0 }, ...steps] };
}

type Remembered = Omit<RetainedMemory, 'alertPending' | 'coolingDown'> & {
  readonly alertPending: number;
  readonly coolingDown: number;
};

/** Each retained variable. Without power it holds nothing that is known. */
function memorySignals(
  wakes: readonly WakeTimes[],
  { world, watchFile, trace }: SignalsInput,
): Signal[] {
  const { escalationThreshold, clearThreshold, retryAttempts } = watchFile.watch;
  const off = powerlessIn(world, { fromMs: 0, toMs: trace.lengthMs });
  const lost = off.map(({ fromMs }) => ({ atMs: fromMs, memory: null }));
  const start = { atMs: 0, memory: numbersOf(initialMemory(clearThreshold)) };
  const known = [start, ...lost, ...wakes.flatMap(memoryChanges)].sort((a, b) => a.atMs - b.atMs);
  const signal = (name: string, of: keyof Remembered, bits: number): Signal => ({
    name,
    kind: { bits },
    steps: known.map(({ atMs, memory }) => ({ atMs, value: memory === null ? null : memory[of] })),
  });
  return [
    signal('recent_checks', 'recentChecks', escalationThreshold.outOf),
    signal('shut_run', 'shutRun', bitsFor(clearThreshold)),
    signal('alert_pending', 'alertPending', 1),
    signal('failed_attempts', 'failedAttempts', bitsFor(retryAttempts)),
    signal('cooling_down', 'coolingDown', 1),
  ];
}

function memoryChanges({ record, wakeMs, checkMs, alertSend }: WakeTimes) {
  const before = numbersOf(record.memoryBefore);
  const after = numbersOf(record.memoryAfter);
  const changes = [{ atMs: wakeMs, memory: before }];
  if (checkMs === null) return changes;
  if (alertSend === null) return [...changes, { atMs: checkMs, memory: after }];
  const { recentChecks, shutRun } = after;
  const sending = { ...before, recentChecks, shutRun, alertPending: 1 };
  const sent = [...changes, { atMs: checkMs, memory: sending }];
  return alertSend.outcome === 'cutOff'
    ? sent
    : [...sent, { atMs: alertSend.endMs, memory: after }];
}

function numbersOf({ alertPending, coolingDown, ...rest }: RetainedMemory): Remembered {
  return { ...rest, alertPending: alertPending ? 1 : 0, coolingDown: coolingDown ? 1 : 0 };
}

function bitsFor(greatest: number): number {
  return Math.max(1, greatest.toString(2).length);
}
