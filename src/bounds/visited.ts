// What a search has met. A node that another one covers adds nothing: the same state of the logic, no less left of
// the environment's budgets, and all its clock readings among the other's.

import { effectBit } from '../machine/index.js';
import { type Ceiling, isUnder, lineOf, raise } from './ceiling.js';
import type { Checked } from './checks.js';
import { placesOf } from './left.js';
import { type Spread, spreadAlong } from './spread.js';
import type { Model, Outage } from './track.js';
import { type ClockName, greatest, least, type Zone } from './zone.js';
import { coversIn, emptyZoneList, putOn, takeCovered, type ZoneList } from './zone-list.js';

/** A check in the search graph; the path to it is its chain of parents. */
export interface Node {
  readonly at: Checked;
  readonly parent: Node | null;
}

/** The search grew over its limit: nothing is claimed. */
export class TooManyStatesError extends Error {
  override readonly name = 'TooManyStatesError';
  constructor(readonly mostNodes: number) {
    super(`more than ${String(mostNodes)} states`);
  }
}

/** What a search finds; where it outgrows its limit, what is true then. Other errors pass. */
export function unlessOutgrown<Result, Otherwise>(
  find: () => Result,
  otherwise: (error: TooManyStatesError) => Otherwise,
): Result | Otherwise {
  try {
    return find();
  } catch (error) {
    if (error instanceof TooManyStatesError) return otherwise(error);
    throw error;
  }
}

export interface Visited {
  /** Remembers a node unless one met before covers it, and forgets those that it covers. @throws TooManyStatesError */
  add(node: Node): boolean;
  /** Whether a later node covers this one, so that its own runs add nothing. */
  isCovered(node: Node): boolean;
  count(): number;
}

/** Nodes alike in all but their clocks. */
interface Bucket {
  /** Those with single readings of the device's clocks, by these. */
  readonly single: Map<number, ZoneList<Node>>;
  /** The others: as a ceiling where only one clock matters besides the opening's, else one by one. */
  readonly ceiling: Ceiling<Node>;
  readonly spread: Spread<Node>;
}

/** @param options.relaxed zones hold all smaller readings of the opening's clock: they may cover others together. */
export function visitedNodes(
  model: Model,
  options: { readonly mostNodes: number; readonly relaxed: boolean },
): Visited {
  const places = placesOf(model);
  const met = new Map<number, (Bucket | undefined)[]>();
  const covered = new Set<Node>();
  let count = 0;
  return {
    add(node) {
      const { at } = node;
      const key = keyOf(at);
      const place = places.of(at);
      const readings = readingsOf(at.zone);
      const along = options.relaxed ? onlyClock(model, at, at.outage) : null;
      const under = along ?? (options.relaxed ? onlyClock(model, at, 'none') : null);
      let buckets = met.get(key);
      if (buckets === undefined) {
        buckets = [];
        met.set(key, buckets);
      }
      const rivals: Bucket[] = [];
      for (const other of places.dominating(at)) {
        const bucket = buckets[other];
        if (bucket !== undefined) rivals.push(bucket);
      }
      if (covers(rivals, at.zone, { readings, along, under })) return false;
      const bucket = (buckets[place] ??= emptyBucket(at));
      for (const gone of keep(bucket, node, { readings, along })) covered.add(gone);
      count += 1;
      if (count > options.mostNodes) throw new TooManyStatesError(options.mostNodes);
      return true;
    },
    isCovered: (node) => covered.has(node),
    count: () => count,
  };
}

function emptyBucket({ cooldownOver }: Checked): Bucket {
  const spread = spreadAlong<Node>(cooldownOver ? 'heartbeat' : 'cooldown');
  return { single: new Map(), ceiling: { parts: [] }, spread };
}

/** Where a node belongs in its bucket. */
interface Spot {
  readonly readings: number | null;
  readonly along: ClockName | null;
}

interface Covered extends Spot {
  /** The clock of the ceilings that it may be under: of those, too, for which an outage does not matter. */
  readonly under: ClockName | null;
}

function covers(
  rivals: readonly Bucket[],
  zone: Zone,
  { readings, along, under }: Covered,
): boolean {
  if (readings !== null) {
    for (const { single } of rivals) {
      const list = single.get(readings);
      if (list !== undefined && coversIn(list, zone)) return true;
    }
  }
  if (under !== null) {
    const ceilings = rivals.map(({ ceiling }) => ceiling);
    if (isUnder(lineOf(zone, under), ceilings)) return true;
  }
  return along === null && rivals.some(({ spread }) => spread.covers(zone));
}

/** Adds a node to its bucket. @returns the nodes that it covers. */
function keep(bucket: Bucket, node: Node, { readings, along }: Spot): readonly Node[] {
  const { zone } = node.at;
  if (readings === null && along !== null) {
    return raise(bucket.ceiling, lineOf(zone, along), node);
  }
  if (readings === null) return bucket.spread.add(node);
  let list = bucket.single.get(readings);
  if (list === undefined) {
    list = emptyZoneList();
    bucket.single.set(readings, list);
  }
  const gone = takeCovered(list, node.at.zone);
  putOn(list, node);
  return gone;
}

/** One number for the single readings of the device's clocks; null when one of them is spread over several. */
function readingsOf(zone: Zone): number | null {
  const cooldown = greatest(zone, 'cooldown');
  const heartbeat = greatest(zone, 'heartbeat');
  if (cooldown !== least(zone, 'cooldown') || heartbeat !== least(zone, 'heartbeat')) return null;
  // Two pairs may share a number: what is found by it is compared in full.
  return cooldown + heartbeat * 1_000_003;
}

/** The one clock besides the opening's that matters to a node with such an outage; null: there are more, or none. */
function onlyClock({ heartbeats, times }: Model, at: Checked, outage: Outage): ClockName | null {
  const beats =
    !at.heartbeatDue &&
    at.beat === 'timed' &&
    times.heartbeatMs !== Number.POSITIVE_INFINITY &&
    !(at.phase === 'before' && heartbeats === 'free');
  const clocks: ClockName[] = [];
  if (!at.cooldownOver) clocks.push('cooldown');
  if (beats) clocks.push('heartbeat');
  if (outage !== 'none') clocks.push('outage');
  if (at.chatter === 'active') clocks.push('chatter');
  return clocks.length === 1 ? (clocks[0] ?? null) : null;
}

const phases = { before: 0, starting: 1, during: 2, decided: 3 } as const;

/** What of a check's effects is still to come. */
const effectsAhead =
  effectBit.attemptAlert |
  effectBit.attemptHeartbeat |
  effectBit.attemptLowBattery |
  effectBit.hold |
  effectBit.sleepMask;

/** One number for the state of the logic, and where the opening and the device's timers stand. */
function keyOf(at: Checked): number {
  let key = at.state * 512 + (at.effects & effectsAhead);
  key = key * 2 + (at.readsOpen ? 1 : 0);
  key = key * 4 + phases[at.phase];
  return key * 4 + (at.cooldownOver ? 1 : 0) + (at.heartbeatDue ? 2 : 0);
}
