// The fewest brief openings with which an alert is decided: runs that start at rest, in the order of their openings, until
// one decides or nothing new is left.
import { invariant } from '../../base/index.js';
import { effectBit } from '../../machine/index.js';
import { restNodes } from '../rest.js';
import { type Spread, spreadAlong } from '../spread.js';
import { draftOf, type Model, type Steps } from '../track.js';
import { TooManyStatesError } from '../visited.js';
import { greatest, includes, least, relaxed, type Zone } from '../zone.js';
import type { Zoned } from '../zone-list.js';
import { type CountedCheck, nextChecks } from './next-checks.js';

/** A run as a chain of what lies between checks, the newest first. */
export interface Chain {
  readonly steps: Steps;
  readonly earlier: Chain | null;
}

export interface Fewest {
  /** Null: no brief openings do it. */
  readonly alarm: { readonly openings: number; readonly chain: Chain } | null;
  readonly states: number;
}

interface CountedNode {
  readonly at: CountedCheck;
  readonly chain: Chain;
}

/** Nodes with one number of openings. */
interface Level {
  readonly nodes: CountedNode[];
  /** What is known of them while those with fewer openings are still followed. */
  readonly met: Map<number, Met>;
}

/** @throws TooManyStatesError */
export function fewestOpenings(model: Model, leaveOpenAfterMs: number, mostStates: number): Fewest {
  const met = new Map<number, Met>();
  const levels: Level[] = [];
  let states = 0;
  let openings = 0;
  const add = (at: CountedCheck, earlier: Chain | null): void => {
    const level = (levels[at.openings] ??= { nodes: [], met: new Map() });
    // One with more openings must not stand for one with as many as now that comes later.
    if (!isNew(at.openings === openings ? met : level.met, at)) return;
    states += 1;
    if (states > mostStates) throw new TooManyStatesError(mostStates);
    level.nodes.push({ at, chain: { steps: at.draft.steps, earlier } });
  };
  const chains = new Map<Linked, Chain>();
  for (const node of restNodes(model, mostStates)) {
    const { at, parent } = node;
    const earlier = parent === null ? null : chainTo(parent, chains);
    add({ draft: draftOf(at), open: false, openings, effects: at.effects }, earlier);
  }
  for (; openings < levels.length; openings += 1) {
    const waiting = levels[openings]?.nodes ?? [];
    const queue = openings === 0 ? waiting : waiting.filter(({ at }) => isNew(met, at));
    levels[openings] = { nodes: queue, met };
    // The queue grows while it is walked.
    for (const node of queue) {
      if ((node.at.effects & effectBit.decideAlert) !== 0) {
        return { alarm: { openings, chain: node.chain }, states };
      }
      const draft = draftOf(node.at.draft);
      draft.steps = null;
      for (const at of nextChecks(model, { ...node.at, draft }, leaveOpenAfterMs)) {
        add(at, node.chain);
      }
    }
  }
  return { alarm: null, states };
}

/** Zones of one key: those with a single reading of the heartbeat's clock by it, and the others. */
interface Met {
  readonly single: Map<number, Zone[]>;
  readonly wide: Spread<Zoned>;
}

/** Remembers a check unless one of those met before covers it. */
function isNew(met: Map<number, Met>, at: CountedCheck): boolean {
  const key = keyOf(at);
  const zone = relaxed(at.draft.zone, { seek: 'least', outage: 'none' });
  let alike = met.get(key);
  if (alike === undefined) {
    alike = { single: new Map(), wide: spreadAlong('heartbeat') };
    met.set(key, alike);
  }
  const { single, wide } = alike;
  if (wide.covers(zone)) return false;
  const reading = least(zone, 'heartbeat');
  if (reading !== greatest(zone, 'heartbeat')) {
    wide.add({ at: { zone } });
    return true;
  }
  const zones = single.get(reading) ?? [];
  if (zones.some((known) => includes(known, zone))) return false;
  zones.push(zone);
  single.set(reading, zones);
  return true;
}

interface Linked {
  readonly at: { readonly steps: Steps };
  readonly parent: Linked | null;
}

/** Nodes at rest follow one another: what leads to one is a part of what leads to the next, and is made once. */
function chainTo(node: Linked, known: Map<Linked, Chain>): Chain {
  const missing: Linked[] = [];
  let chain: Chain | null = null;
  for (let link: Linked | null = node; link !== null; link = link.parent) {
    chain = known.get(link) ?? null;
    if (chain !== null) break;
    missing.push(link);
  }
  for (const link of missing.toReversed()) {
    chain = { steps: link.at.steps, earlier: chain };
    known.set(link, chain);
  }
  invariant(chain !== null, 'a node is a link of its own chain');
  return chain;
}

/** What the zone does not tell apart. */
function keyOf({ draft, effects, open }: CountedCheck): number {
  return ((draft.state * 512 + effects) * 2 + (open ? 1 : 0)) * 2 + (draft.heartbeatDue ? 1 : 0);
}
