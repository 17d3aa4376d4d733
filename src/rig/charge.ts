// What a firmware's run takes from its supply, by what its host wrote down: boots, time awake, sends, sleep and waiting for a reset.
import { dayMs, itemAt } from '../base/index.js';
import type { SupplySettings } from '../model/index.js';
import { type Experiment, lowAfter, type Prices, shutTime } from '../sim/index.js';
import { readsOpenAt, type World, within } from '../world/index.js';
import { sendsByWake } from './folded.js';
import type { Reply, RigJoin, RigSend, RigWake } from './reply.js';

/** A stretch of time at one current, with what is taken at its beginning. */
interface Piece {
  readonly fromMs: number;
  readonly toMs: number;
  readonly perMs: bigint;
  readonly atOnce: bigint;
}

/** When the battery is charged: by the timeline and by habit, ascending, from power-on on. */
export function chargesOf({ world, charge }: Experiment, firstBootMs: number): readonly number[] {
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
  const { wakeMs, entryMs, endMs, blinks, ends } = wake;
  const bootEndMs = entryMs ?? endMs;
  const bias = hasShutBoot(wake, world) ? prices.biasPerBootMs : 0n;
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
    ...sends.flatMap(({ kind, startMs, endMs: sentMs, metNoNetwork, waitedMs }, index) => {
      if (isJoined(startMs, sends.slice(0, index), joins)) return [];
      const alert = metNoNetwork ? prices.failedAttempt : prices.connect;
      const price = kind === 'heartbeat' ? prices.heartbeat : alert;
      return [{ startMs, sentMs, waitedMs, price }];
    }),
    ...joins.map(({ startMs, endMs: sentMs, waitedMs, metNoNetwork }) => ({
      startMs,
      sentMs,
      waitedMs,
      price: metNoNetwork ? prices.failedAttempt : prices.connect,
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

/** Whether a pull-up that is powered up to the check flows: the check reads shut, or would have. */
function hasShutBoot({ entryMs, check, wouldReadShut }: RigWake, { contact }: World): boolean {
  if (check !== null) return check.contact === 'shut';
  return entryMs === null ? wouldReadShut === true : !readsOpenAt(contact, entryMs);
}

/** Whether something in the same wake had joined before: what is transmitted then takes no time, and was paid for by joining. */
function isJoined(atMs: number, sends: readonly RigSend[], joins: readonly RigJoin[]): boolean {
  return (
    sends.some(({ outcome }) => outcome === 'delivered') ||
    joins.some(({ joined, endMs }) => joined && endMs <= atMs)
  );
}

/** How much has to have gone, and of which charges. */
interface Drain {
  readonly prices: Prices;
  /** The charge that it begins with. */
  readonly fullMs: number;
  readonly charges: readonly number[];
  /** Ascending. */
  readonly levels: readonly bigint[];
}

/** Where a charge has come to. */
interface Mark {
  readonly atMs: number;
  /** Index of the level that is reached; null: it is full again. */
  readonly level: number | null;
}

/** The instant from which on so much has gone of a charge, before the next one; in a run without a flat stretch after it. */
export function emptyFrom(
  reply: Reply,
  experiment: Experiment,
  { level, ...on }: Omit<Drain, 'levels'> & { readonly level: bigint },
): number | null {
  for (const mark of draining(reply, experiment, { ...on, levels: [level] })) {
    return mark.level === null ? null : mark.atMs;
  }
  return null;
}

/** From a charge on, the first instants at which so much of it and of each later one has gone. */
function* draining(reply: Reply, { world }: Experiment, on: Drain): Generator<Mark> {
  const { prices, levels } = on;
  const shutMs = shutTime(world.contact);
  const sendsOf = sendsByWake(reply.sends);
  const joinsOf = sendsByWake(reply.joins);
  const charges = on.charges.filter((atMs) => atMs > on.fullMs);
  let fullMs = on.fullMs;
  let acts = 0n;
  let next = 0;
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
  for (const piece of piecesFrom(on.fullMs)) {
    let startMs = Math.max(piece.fromMs, on.fullMs);
    if (piece.fromMs >= on.fullMs) acts += piece.atOnce;
    for (;;) {
      const chargeMs = charges[0] ?? Number.POSITIVE_INFINITY;
      const lastMs = chargeMs <= piece.toMs ? chargeMs - 1 : piece.toMs;
      for (let level = levels[next]; level !== undefined; level = levels[next]) {
        const wanted = level;
        const hasGone = (atMs: number): boolean =>
          drained(goneAt(piece, startMs, atMs), atMs) >= wanted;
        if (lastMs <= startMs || !hasGone(lastMs)) break;
        yield { atMs: firstWhere(hasGone, startMs, lastMs), level: next };
        next += 1;
      }
      if (chargeMs > piece.toMs) {
        acts = goneAt(piece, startMs, piece.toMs);
        break;
      }
      charges.shift();
      acts = 0n;
      next = 0;
      fullMs = chargeMs;
      startMs = chargeMs;
      yield { atMs: chargeMs, level: null };
    }
  }

  function* piecesFrom(fromMs: number): Generator<Piece> {
    const { wakes } = reply;
    for (let index = wakeAt(wakes, fromMs); index < wakes.length; index += 1) {
      const wake = itemAt(wakes, index);
      const untilMs = wakes[index + 1]?.wakeMs ?? world.lengthMs;
      const sends = sendsOf.get(index) ?? [];
      const joins = joinsOf.get(index) ?? [];
      const pieces = piecesOf(wake, sends, { joins, prices, untilMs, world });
      for (const piece of splitAtLosses(pieces, world)) if (piece.toMs >= fromMs) yield piece;
    }
  }
}

/** The index of the last wake that begins before an instant, or 0. */
function wakeAt(wakes: readonly RigWake[], atMs: number): number {
  let low = 0;
  let high = wakes.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (itemAt(wakes, middle).wakeMs < atMs) low = middle + 1;
    else high = middle;
  }
  return Math.max(0, low - 1);
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

/** What the voltage reads over a run, in whole mV rounded up; null: nothing says how it depends on the charge. */
export function voltages(
  reply: Reply,
  experiment: Experiment,
  { supply, ...on }: Omit<Drain, 'levels'> & { readonly supply: SupplySettings },
): readonly number[] | null {
  const fullMv = fullMvOf(supply);
  const [lowest] = supply.voltageCurve ?? [];
  if (fullMv === null || lowest === undefined) return null;
  const levels: bigint[] = [];
  for (let voltageMv = fullMv - 1; voltageMv >= lowest.voltageMv; voltageMv -= 1) {
    const level = lowAfter(supply, { kind: 'voltage', voltageMv });
    if (level !== null) levels.push(level);
  }
  const steps = [0, fullMv];
  for (const { atMs, level } of draining(reply, experiment, { ...on, levels })) {
    const mv = level === null ? fullMv : fullMv - 1 - level;
    // Of several steps at one instant the last.
    if (steps.at(-2) === atMs) steps[steps.length - 1] = mv;
    else steps.push(atMs, mv);
  }
  return steps;
}

/** What the voltage of a full battery reads; null: nothing says so. */
export function fullMvOf({ voltageCurve }: SupplySettings): number | null {
  return voltageCurve?.at(-1)?.voltageMv ?? null;
}
