// One day of a device as a picture has it: the charge of each activity slot by slot, and the wake that took most.
import { dayMs, greatestOf } from '../../base/index.js';
import type { Activity, UseCost } from '../../battery/index.js';
import { pcPerNah, type SupplySettings } from '../../model/index.js';
import type { TimelineStart } from '../../scenarios/index.js';
import { type Calendar, calendarOf, dateText } from '../calendar.js';
import { offWhenFlat } from '../scene.js';
import { wakeTimes } from '../vcd/wake-times.js';
import { type DeviceRun, type Stretch, slotCharges, stretchesOf } from './stretches.js';

/** A run of a timeline whose costliest day is drawn. Its wakes are recorded. */
export interface BatteryRun extends DeviceRun {
  readonly name: string;
  readonly start: TimelineStart;
}

export interface DayLayer {
  readonly activity: Activity;
  readonly slotsPc: Float64Array;
  readonly totalPc: number;
}

export interface Day {
  /** `One day at a door that nobody opens` */
  readonly name: string;
  /** One more than there are slots. */
  readonly edges: readonly number[];
  /** From the foot up; only those that take something. */
  readonly layers: readonly DayLayer[];
  readonly totalPc: number;
  /** Null: no day of a calendar. */
  readonly calendar: Calendar | null;
  readonly closeUp: CloseUp | null;
}

/** A wake act by act, in milliseconds from the wake. */
export interface CloseUp {
  readonly name: string;
  readonly steps: readonly Stretch[];
}

/** From the foot up: what is always there, then the wakes, then what is sent. */
const stacked: readonly Activity[] = [
  'sleep',
  'selfDischarge',
  'contactBias',
  'boot',
  'blink',
  'heartbeat',
  'hold',
  'joinWait',
  'connect',
  'failedAttempt',
];

const slotsMs = [60_000, 300_000, 900_000];
const mostSlots = 100;

/** A door that nobody opens, evenly over the day. */
export function quietDay(cost: UseCost): Day {
  const perDay = (nah: number): number => (nah * Number(pcPerNah) * dayMs) / cost.lengthMs;
  const layers = stacked.flatMap((activity): DayLayer[] => {
    const part = cost.parts.find((one) => one.activity === activity);
    const totalPc = perDay(part?.chargeNah ?? 0);
    return totalPc === 0 ? [] : [{ activity, slotsPc: Float64Array.of(totalPc), totalPc }];
  });
  return {
    name: 'One day at a door that nobody opens',
    edges: [0, dayMs],
    layers,
    totalPc: sumOf(layers),
    calendar: null,
    closeUp: oneCheck(cost),
  };
}

function oneCheck({ parts }: UseCost): CloseUp | null {
  const boot = parts.find(({ activity }) => activity === 'boot');
  if (boot === undefined || boot.timeMs === 0 || boot.chargeNah === 0) return null;
  const count = Math.max(1, boot.count ?? 1);
  const toMs = boot.timeMs / count;
  const chargePc = (boot.chargeNah * Number(pcPerNah)) / count;
  return { name: 'One check, close up', steps: [{ activity: 'boot', fromMs: 0, toMs, chargePc }] };
}

/** The day of a run that takes most; all of a run that is shorter. */
export function costliestDay(given: BatteryRun, supply: SupplySettings): Day {
  const run = { ...given, world: offWhenFlat(given.world, given.trace) };
  const calendar = calendarOf(run.start, run.trace.lengthMs);
  const { days } = calendar;
  const isShort = run.trace.lengthMs <= dayMs;
  const spans = isShort ? [{ fromMs: 0, toMs: Math.max(1, run.trace.lengthMs) }] : days;
  const dayEdges = [...spans.map(({ fromMs }) => fromMs), spans.at(-1)?.toMs ?? 1];
  const totals = totalsOf(Object.values(slotCharges(run, supply, dayEdges)), spans.length);
  const found = spans[totals.indexOf(greatestOf(totals))];
  const span = found ?? { fromMs: 0, toMs: 1 };
  const edges = edgesOf(span);
  const charges = slotCharges(run, supply, edges);
  const layers = stacked.flatMap((activity): DayLayer[] => {
    const slotsPc = charges[activity];
    const totalPc = slotsPc.reduce((sum, pc) => sum + pc, 0);
    return totalPc < 1 ? [] : [{ activity, slotsPc, totalPc }];
  });
  const day = days.find(({ fromMs }) => fromMs === span.fromMs);
  const isOneOfMany = !isShort && day !== undefined;
  return {
    name: `${run.name}${isOneOfMany ? `, the day that takes most: ${dateText(day)}` : ''}`,
    edges,
    layers,
    totalPc: sumOf(layers),
    calendar,
    closeUp: costliestWake(run, supply, span),
  };
}

function totalsOf(charges: readonly Float64Array[], slots: number): number[] {
  return Array.from({ length: slots }, (_, slot) =>
    charges.reduce((sum, one) => sum + (one[slot] ?? 0), 0),
  );
}

function sumOf(layers: readonly DayLayer[]): number {
  return layers.reduce((sum, { totalPc }) => sum + totalPc, 0);
}

function edgesOf({ fromMs, toMs }: { readonly fromMs: number; readonly toMs: number }): number[] {
  const slotMs = slotsMs.find((ms) => (toMs - fromMs) / ms <= mostSlots) ?? 900_000;
  const inner = Array.from(
    { length: Math.ceil((toMs - fromMs) / slotMs) },
    (_, index) => fromMs + index * slotMs,
  );
  return [...inner, toMs];
}

/** Holding until reset left out: it is a state, hours long. */
function costliestWake(
  run: BatteryRun,
  supply: SupplySettings,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
): CloseUp | null {
  let most = 0;
  let steps: readonly Stretch[] = [];
  for (const wake of wakeTimes(run.trace, run.world)) {
    if (wake.wakeMs < fromMs) continue;
    if (wake.wakeMs >= toMs) break;
    const acts = stretchesOf(wake, supply).filter(({ activity }) => activity !== 'hold');
    const took = acts.reduce((sum, { chargePc }) => sum + chargePc, 0);
    if (took <= most) continue;
    most = took;
    steps = acts.map((one) => ({
      ...one,
      fromMs: one.fromMs - wake.wakeMs,
      toMs: one.toMs - wake.wakeMs,
    }));
  }
  const drawn = steps.filter((step) => step.chargePc > 0 && step.toMs > step.fromMs);
  const name = `${run.name}: the wake that takes most, close up`;
  return drawn.length === 0 ? null : { name, steps: drawn };
}
