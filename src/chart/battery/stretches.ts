// What a device draws, stretch by stretch: each act of each wake with its charge and the time it is drawn in, and the states
// between them slot by slot. Priced as a whole run is, so that the sum over all slots is what the run takes.
import { type Activity, msBeforePowerOn, poweredShutMs } from '../../battery/index.js';
import {
  type ActivityDraw,
  actPrice,
  biasFromCellsNa,
  holdNa,
  joinWaitNa,
  pcPerNah,
  type SupplySettings,
  selfDischargeMonthMs,
} from '../../model/index.js';
import type { SendRecord, Trace } from '../../sim/index.js';
import type { World } from '../../world/index.js';
import { poweredWorld, powerlessIn } from '../facts/alerts.js';
import { hasShutBoot, type WakeTimes, wakeTimes } from '../vcd/wake-times.js';

export interface Stretch {
  readonly activity: Activity;
  readonly fromMs: number;
  /** The same as `fromMs`: at one instant. */
  readonly toMs: number;
  readonly chargePc: number;
}

export interface DeviceRun {
  readonly trace: Trace;
  readonly world: World;
}

/** The acts of one wake, each where it happens. */
export function stretchesOf(wake: WakeTimes, supply: SupplySettings): readonly Stretch[] {
  const { record, wakeMs, checkMs, endMs, alertSend, heartbeatSend } = wake;
  const bootEndMs = checkMs ?? endMs;
  const stretches = [stretch('boot', [wakeMs, bootEndMs], supply.boot)];
  const { contactBias } = supply;
  if (hasShutBoot(record) && contactBias?.powered === 'check-only') {
    stretches.push(
      steady('contactBias', [wakeMs, bootEndMs], biasFromCellsNa(contactBias, supply)),
    );
  }
  if (record.check?.contact === 'open') {
    stretches.push(stretch('blink', [bootEndMs, bootEndMs], supply.blink));
  }
  const send = alertSend ?? wake.lowBatterySend;
  const sent = [
    ...(send === null ? [] : sendOf(send, 'connect', supply)),
    ...(heartbeatSend === null ? [] : sendOf(heartbeatSend, 'heartbeat', supply)),
  ];
  if (record.holds) {
    stretches.push(steady('hold', [alertSend?.endMs ?? bootEndMs, endMs], holdNa(supply)));
  }
  return [...stretches, ...sent];
}

function sendOf(
  { startMs, endMs, waitedMs = 0, outcome, wouldFail }: SendRecord,
  kind: 'connect' | 'heartbeat',
  supply: SupplySettings,
): readonly Stretch[] {
  const fails = outcome === 'failed' || wouldFail === true;
  const activity = kind === 'connect' && fails ? 'failedAttempt' : kind;
  const sentMs = endMs - waitedMs;
  const sent = stretch(activity, [startMs, sentMs], supply[activity]);
  return waitedMs === 0 ? [sent] : [sent, steady('joinWait', [sentMs, endMs], joinWaitNa(supply))];
}

type Span = readonly [fromMs: number, toMs: number];

function stretch(activity: Activity, [fromMs, toMs]: Span, draw: ActivityDraw | null): Stretch {
  const { eachPc, whileNa } = actPrice(draw);
  return { activity, fromMs, toMs, chargePc: Number(eachPc) + Number(whileNa) * (toMs - fromMs) };
}

function steady(activity: Activity, [fromMs, toMs]: Span, currentNa: number): Stretch {
  return { activity, fromMs, toMs, chargePc: currentNa * (toMs - fromMs) };
}

/** The charge of each activity in pC, slot by slot. `edges` ascend, one more than there are slots. */
export type SlotCharges = Readonly<Record<Activity, Float64Array>>;

export function slotCharges(
  { trace, world: given }: DeviceRun,
  supply: SupplySettings,
  edges: readonly number[],
): SlotCharges {
  const run: DeviceRun = { trace, world: poweredWorld(given, trace) };
  const slots = edges.length - 1;
  const charges = emptyCharges(slots);
  const awakeMs = new Float64Array(slots);
  let last: WakeTimes | null = null;
  const put = (wake: WakeTimes, nextMs: number): void => {
    spread(edges, [wake.wakeMs, wake.endMs], wake.endMs - wake.wakeMs, awakeMs);
    // A check is shown over the sleep that it ends in: else slots would differ by the checks that happen to fall in them.
    const restMs = Math.min(nextMs, sleepEndMs(wake));
    for (const { activity, fromMs, toMs, chargePc } of stretchesOf(wake, supply)) {
      const isShared = activity === 'boot' || activity === 'contactBias';
      spread(
        edges,
        [fromMs, isShared ? Math.max(toMs, restMs) : toMs],
        chargePc,
        charges[activity],
      );
    }
  };
  for (const wake of wakeTimes(run.trace, run.world)) {
    if (last !== null) put(last, wake.wakeMs);
    last = wake;
  }
  if (last !== null) put(last, run.trace.lengthMs);
  addStates(run, { supply, edges, awakeMs, charges });
  return charges;
}

function sleepEndMs({ record: { sleep, check }, endMs, checkMs }: WakeTimes): number {
  return sleep === null || check === null || checkMs === null ? endMs : endMs + sleep.lengthMs;
}

function emptyCharges(slots: number): SlotCharges {
  const empty = (): Float64Array => new Float64Array(slots);
  return {
    sleep: empty(),
    boot: empty(),
    blink: empty(),
    connect: empty(),
    failedAttempt: empty(),
    heartbeat: empty(),
    joinWait: empty(),
    hold: empty(),
    contactBias: empty(),
    selfDischarge: empty(),
  };
}

/** Sleep, a pull-up that is always powered, and self-discharge. */
function addStates(
  { world }: DeviceRun,
  on: {
    readonly supply: SupplySettings;
    readonly edges: readonly number[];
    readonly awakeMs: Float64Array;
    readonly charges: SlotCharges;
  },
): void {
  const { supply, edges, awakeMs, charges } = on;
  const { contactBias, selfDischarge, capacityNah } = supply;
  const perMonthPpm = selfDischarge.perMonthPpm + selfDischarge.protectionPerMonthPpm;
  const lossNa =
    (capacityNah * Number(pcPerNah) * perMonthPpm) / 1_000_000 / Number(selfDischargeMonthMs);
  const onMs = msBeforePowerOn(world);
  awakeMs.forEach((awake, slot) => {
    const [fromMs = 0, toMs = fromMs] = [edges[slot], edges[slot + 1]];
    const off = powerlessIn(world, { fromMs, toMs });
    const offMs = off.reduce((sum, span) => sum + span.toMs - span.fromMs, 0);
    charges.sleep[slot] = Math.max(0, toMs - fromMs - offMs - awake) * supply.sleepNa;
    // From the first power-on, as a use counts it.
    charges.selfDischarge[slot] = Math.max(0, toMs - Math.max(fromMs, onMs)) * lossNa;
    if (contactBias?.powered === 'always') {
      const powered = { fromMs: Math.max(fromMs, Math.min(world.powerOnAtMs, toMs)), toMs };
      charges.contactBias[slot] =
        poweredShutMs(world.contact, world.powerLost, powered) *
        biasFromCellsNa(contactBias, supply);
    }
  });
}

/** Adds an amount to the slots that a span covers, by how much of it lies in each. */
function spread(
  edges: readonly number[],
  [fromMs, toMs]: Span,
  amount: number,
  into: Float64Array,
): void {
  if (amount === 0) return;
  for (let slot = slotAt(edges, fromMs); slot < into.length; slot += 1) {
    const [start = 0, end = start] = [edges[slot], edges[slot + 1]];
    if (start > toMs || (start === toMs && toMs > fromMs)) return;
    if (end < fromMs) continue;
    const share =
      toMs === fromMs ? 1 : (Math.min(toMs, end) - Math.max(fromMs, start)) / (toMs - fromMs);
    if (share > 0) into[slot] = (into[slot] ?? 0) + amount * share;
    if (toMs === fromMs) return;
  }
}

/** The slot that holds an instant; 0 for one before all. */
function slotAt(edges: readonly number[], atMs: number): number {
  let low = 0;
  let high = edges.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((edges[middle] ?? 0) <= atMs) low = middle;
    else high = middle - 1;
  }
  return low;
}
