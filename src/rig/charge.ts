// The supply of a firmware's run, drained by what its host wrote down: boots, time awake, sends, sleep and waiting for a reset. Where
// the charge ends, the timeline is run again with the power away until the next charge.
import { cellAt, dayMs } from '../base/index.js';
import type { ChargePlan } from '../model/index.js';
import {
  type Experiment,
  faultsOf,
  lowAfter,
  type Prices,
  pricesOf,
  shutTime,
} from '../sim/index.js';
import { noSpans, readsOpenAt, type Spans, spansOf, type World, within } from '../world/index.js';
import { sendsByWake } from './folded.js';
import type { Reply, RigJoin, RigSend, RigWake } from './reply.js';
import type { RigRun } from './run.js';

export interface FlatSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** A stretch of time at one current, with what is taken at its beginning. */
interface Piece {
  readonly fromMs: number;
  readonly toMs: number;
  readonly perMs: bigint;
  readonly atOnce: bigint;
}

/** A charge that ends more often than this within a timeline is no supply. */
const mostFlats = 200;

/** When the battery is charged: by the timeline and by habit, ascending, from power-on on. */
function chargesOf({ world, charge }: Experiment, firstBootMs: number): readonly number[] {
  const all = new Set<number>([...(world.chargedMs ?? [])].filter((atMs) => atMs > firstBootMs));
  const everyMs = charge?.charging.everyMs ?? null;
  if (everyMs !== null) {
    for (let atMs = firstBootMs + everyMs; atMs < world.lengthMs; atMs += everyMs) all.add(atMs);
  }
  return [...all].sort((a, b) => a - b);
}

/** What a wake takes: the boot, time awake and sends one after the other, and what follows up to the next wake. */
function piecesOf(
  wake: RigWake,
  sends: readonly RigSend[],
  on: {
    readonly joins: readonly RigJoin[];
    readonly prices: Prices;
    readonly untilMs: number;
    readonly world: World;
  },
): readonly Piece[] {
  const { prices, untilMs, world, joins } = on;
  const { wakeMs, entryMs, endMs, blinks, ends, check } = wake;
  const bootEndMs = entryMs ?? endMs;
  const shut = check === null ? !readsOpenAt(world.contact, bootEndMs) : check.contact === 'shut';
  const bias = shut ? prices.biasPerBootMs : 0n;
  const awake = prices.boot.whileNa > 0n ? prices.boot.whileNa : prices.holdPerMs;
  const pieces: Piece[] = [
    {
      fromMs: wakeMs,
      toMs: bootEndMs,
      perMs: prices.boot.whileNa + bias,
      atOnce: prices.boot.eachPc,
    },
  ];
  let atMs = bootEndMs;
  let atOnce = BigInt(blinks) * prices.blink;
  const used = [
    ...sends.flatMap(({ kind, startMs, endMs: sentMs, outcome, waitedMs }, index) => {
      if (isJoined(startMs, sends.slice(0, index), joins)) return [];
      const alert = outcome === 'failed' ? prices.failedAttempt : prices.connect;
      const price = kind === 'heartbeat' ? prices.heartbeat : alert;
      return [{ startMs, sentMs, waitedMs, price }];
    }),
    ...joins.map(({ startMs, endMs: sentMs, waitedMs, joined }) => ({
      startMs,
      sentMs,
      waitedMs,
      price: joined ? prices.connect : prices.failedAttempt,
    })),
  ].sort((a, b) => a.startMs - b.startMs || a.sentMs - b.sentMs);
  for (const { startMs, sentMs, waitedMs, price } of used) {
    const dueMs = sentMs - waitedMs;
    pieces.push({ fromMs: atMs, toMs: startMs, perMs: awake, atOnce });
    pieces.push({ fromMs: startMs, toMs: dueMs, perMs: price.whileNa, atOnce: price.eachPc });
    pieces.push({ fromMs: dueMs, toMs: sentMs, perMs: prices.waitPerMs, atOnce: 0n });
    atMs = sentMs;
    atOnce = 0n;
  }
  pieces.push({ fromMs: atMs, toMs: endMs, perMs: awake, atOnce });
  const rest = ends === 'held' ? prices.holdPerMs : ends === 'asleep' ? prices.sleepPerMs : 0n;
  pieces.push({ fromMs: endMs, toMs: Math.max(endMs, untilMs), perMs: rest, atOnce: 0n });
  return pieces;
}

/** Whether something in the same wake had joined before: what is transmitted then takes no time, and was paid for by joining. */
function isJoined(atMs: number, sends: readonly RigSend[], joins: readonly RigJoin[]): boolean {
  return (
    sends.some(({ outcome }) => outcome === 'delivered') ||
    joins.some(({ joined, endMs }) => joined && endMs <= atMs)
  );
}

/** The instant from which on so much has gone of a charge, that of `fullMs` or a later one, in a run without a flat stretch after it. */
function emptyFrom(
  reply: Reply,
  { world }: Experiment,
  on: {
    readonly prices: Prices;
    readonly fullMs: number;
    readonly charges: readonly number[];
    /** How much has to have gone. */
    readonly level: bigint;
  },
): number | null {
  const { prices } = on;
  const shutMs = shutTime(world.contact);
  const sendsOf = sendsByWake(reply.sends);
  const joinsOf = sendsByWake(reply.joins);
  const charges = on.charges.filter((atMs) => atMs > on.fullMs);
  let fullMs = on.fullMs;
  let acts = 0n;
  const goneAt = (piece: Piece, startMs: number, atMs: number): bigint => {
    const isOn = !within(world.powerLost, piece.fromMs);
    const bias = isOn ? BigInt(shutMs(startMs, atMs)) * prices.biasPerMs : 0n;
    const own = isOn || piece.toMs === piece.fromMs ? piece.perMs * BigInt(atMs - startMs) : 0n;
    return acts + own + bias;
  };
  const drained = (gone: bigint, atMs: number): bigint =>
    gone +
    BigInt(atMs - fullMs) * prices.selfPerMs +
    BigInt(Math.min(atMs - fullMs, dayMs)) * prices.firstDayPerMs;
  for (const [index, wake] of reply.wakes.entries()) {
    const untilMs = reply.wakes[index + 1]?.wakeMs ?? world.lengthMs;
    if (untilMs <= on.fullMs) continue;
    for (const piece of splitAtLosses(
      piecesOf(wake, sendsOf.get(index) ?? [], {
        joins: joinsOf.get(index) ?? [],
        prices,
        untilMs,
        world,
      }),
      world,
    )) {
      if (piece.toMs < on.fullMs) continue;
      let startMs = Math.max(piece.fromMs, on.fullMs);
      if (piece.fromMs >= on.fullMs) acts += piece.atOnce;
      for (;;) {
        const chargeMs = charges[0] ?? Number.POSITIVE_INFINITY;
        const lastMs = chargeMs <= piece.toMs ? chargeMs - 1 : piece.toMs;
        const isEmpty = (atMs: number): boolean =>
          drained(goneAt(piece, startMs, atMs), atMs) >= on.level;
        if (lastMs > startMs && isEmpty(lastMs)) return firstWhere(isEmpty, startMs, lastMs);
        if (chargeMs > piece.toMs) {
          acts = goneAt(piece, startMs, piece.toMs);
          break;
        }
        charges.shift();
        acts = 0n;
        fullMs = chargeMs;
        startMs = chargeMs;
      }
    }
  }
  return null;
}

/** Pieces that no loss of power begins or ends in. */
function splitAtLosses(pieces: readonly Piece[], { powerLost }: World): readonly Piece[] {
  if (powerLost.fromMs.length === 0) return pieces;
  return pieces.flatMap((piece) => {
    const cuts = [...powerLost.fromMs, ...powerLost.toMs]
      .filter((atMs) => atMs > piece.fromMs && atMs < piece.toMs)
      .sort((a, b) => a - b);
    return [piece.fromMs, ...cuts].map((fromMs, at) => ({
      ...piece,
      fromMs,
      toMs: cuts[at] ?? piece.toMs,
      atOnce: at === 0 ? piece.atOnce : 0n,
    }));
  });
}

function firstWhere(holds: (atMs: number) => boolean, afterMs: number, holdsMs: number): number {
  let low = afterMs;
  let high = holdsMs;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** A run while its supply is worked out: what the battery and the people have done to its world so far. */
interface Draining {
  run: RigRun;
  readonly charges: number[];
  readonly flat: FlatSpan[];
  readonly low: FlatSpan[];
}

/**
 * A firmware's run on the supply of the experiment: from one charge to the next, the instants at which the battery is low and
 * empty. Nothing before such an instant depends on it, so that each is right once all before it are.
 * @param first the run as if there always were charge.
 * @param again runs the firmware through another world.
 */
export function drainedRun(
  first: RigRun,
  experiment: Experiment,
  again: (world: World) => RigRun,
): RigRun {
  const { charge, world, program } = experiment;
  if (charge === null || charge === undefined) return first;
  const prices = pricesOf(charge.supply);
  const { lowBattery } = program.watch;
  const lowLevel = lowBattery === undefined ? null : lowAfter(charge.supply, lowBattery.level);
  const { firstBootMs } = faultsOf(world);
  const charges = [...chargesOf(experiment, firstBootMs)];
  const state: Draining = { run: first, charges, flat: [], low: [] };
  const worldNow = (): World => ({
    ...world,
    powerLost: spansOf([...pairsOf(world.powerLost), ...state.flat.map(pairOf)]),
    ...(state.low.length === 0
      ? {}
      : {
          batteryLow: spansOf([...pairsOf(world.batteryLow ?? noSpans), ...state.low.map(pairOf)]),
        }),
  });
  const reaches = (fullMs: number, level: bigint): number | null => {
    const on = { prices, fullMs, charges, level };
    const atMs = emptyFrom(state.run.reply, { ...experiment, world: worldNow() }, on);
    return atMs === null || atMs >= world.lengthMs ? null : atMs;
  };
  const chargedAfter = (atMs: number): number =>
    charges.find((chargeMs) => chargeMs > atMs) ?? Number.POSITIVE_INFINITY;
  let fullMs = firstBootMs;
  while (state.run.failure === null && state.flat.length + state.low.length < mostFlats) {
    const lowMs = lowLevel === null ? null : reaches(fullMs, lowLevel);
    if (lowMs !== null) {
      state.low.push({ fromMs: lowMs, toMs: chargedAfter(lowMs) });
      state.run = again(worldNow());
      const comesMs = warnedCharge(state.run, charge, lowMs);
      if (comesMs < Math.min(chargedAfter(lowMs), world.lengthMs)) {
        charges.push(comesMs);
        charges.sort((a, b) => a - b);
        state.low[state.low.length - 1] = { fromMs: lowMs, toMs: comesMs };
        state.run = again(worldNow());
      }
    }
    const emptyMs = reaches(fullMs, prices.usable);
    const endMs = state.low.at(-1)?.toMs ?? 0;
    if (emptyMs === null || (lowMs !== null && emptyMs >= endMs)) {
      if (lowMs === null || endMs >= world.lengthMs) break;
      fullMs = endMs;
      continue;
    }
    const chargedMs = chargedAfter(emptyMs);
    state.flat.push({ fromMs: emptyMs, toMs: Math.min(chargedMs, world.lengthMs) });
    state.run = again(worldNow());
    if (chargedMs >= world.lengthMs) break;
    fullMs = chargedMs;
  }
  const { run, flat } = state;
  if (flat.length === 0) return run;
  const flatMs = flat.reduce((sum, span) => sum + span.toMs - span.fromMs, 0);
  const { trace } = run;
  return { ...run, trace: { ...trace, flat, tally: { ...trace.tally, flatMs } } };
}

/** When somebody charges for the first low-battery message from an instant on; Infinity: nobody does. */
function warnedCharge({ trace }: RigRun, { charging }: ChargePlan, fromMs: number): number {
  const first = trace.lowBattery.find(({ deliveredMs }) => deliveredMs >= fromMs);
  if (first === undefined || charging.afterWarningMs === undefined) return Number.POSITIVE_INFINITY;
  return first.deliveredMs + charging.afterWarningMs;
}

function pairOf({ fromMs, toMs }: FlatSpan): [number, number] {
  return [fromMs, toMs];
}

function pairsOf({ fromMs, toMs }: Spans): [number, number][] {
  return Array.from(fromMs, (from, index) => [from, cellAt(toMs, index)]);
}
