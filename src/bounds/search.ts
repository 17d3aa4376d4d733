// Exhaustive search: every course of the device that the door and the environment can force, until nothing new is
// found. A course whose clock readings are all among those of an earlier one like it adds nothing and is dropped.
import { invariant } from '../base/index.js';
import type { Environment } from './environment.js';
import { type Checked, coursesFrom, firstChecks } from './successors.js';
import { after, type Budget, type Model, type Track } from './track.js';
import { greatest, includes, least, relaxed, type Zone, zeroZone } from './zone.js';

/** A check in the search graph; the path to it is its chain of parents. */
export interface Node {
  readonly at: Checked;
  readonly parent: Node | null;
}

/** Something that a course comes to, with the course. */
export interface Found {
  readonly track: Track;
  readonly parent: Node | null;
  /** Reading of the opening's clock there: the greatest or the least, as sought. */
  readonly openingMs: number;
}

export interface SearchResult {
  /** The extreme first decision of an alert in the opening. */
  readonly decision: Found | null;
  /** The extreme delivery of such an alert. */
  readonly delivery: Found | null;
  /** A course on which the opening is never reported. */
  readonly never: Found | null;
  /** Nodes visited. */
  readonly nodes: number;
}

/** The search grew over its limit: nothing is claimed. */
export class TooManyStatesError extends Error {
  override readonly name = 'TooManyStatesError';
  constructor(readonly mostNodes: number) {
    super(`more than ${String(mostNodes)} states`);
  }
}

/** The most nodes of one search. */
export const defaultMostNodes = 1_500_000;

const budgets = { unused: 0, active: 1, spent: 2 } as const;
const phases = { before: 0, starting: 1, during: 2, decided: 3 } as const;

/** What the environment still has: more of it dominates less. */
type Budgets = Pick<Checked, 'outage' | 'chatter' | 'lossesLeft' | 'resetsLeft'>;

/** One number for everything about a node but its clocks. */
function keyOf(at: Checked, left: Budgets = at): number {
  let key = at.state;
  key = key * 256 + at.effects;
  key = key * 2 + (at.readsOpen ? 1 : 0);
  key = key * 4 + phases[at.phase];
  key = key * 8 + (at.cooldownOver ? 1 : 0) + (at.heartbeatDue ? 2 : 0) + (at.decidedOnce ? 4 : 0);
  key = key * 9 + budgets[left.outage] * 3 + budgets[left.chatter];
  key = key * 16 + left.lossesLeft;
  key = key * 16 + left.resetsLeft;
  invariant(Number.isSafeInteger(key), 'a node has a key', { state: at.state });
  return key;
}

/** Keys of the nodes that are like this one, or have more left of the environment's budgets. */
function dominatingKeys(at: Checked, environment: Environment): readonly number[] {
  const keys: number[] = [];
  const outages: readonly Budget[] = at.outage === 'spent' ? ['spent', 'unused'] : [at.outage];
  const chatters: readonly Budget[] = at.chatter === 'spent' ? ['spent', 'unused'] : [at.chatter];
  for (const outage of outages) {
    for (const chatter of chatters) {
      for (let lossesLeft = at.lossesLeft; lossesLeft <= environment.powerLosses; lossesLeft += 1) {
        for (let resetsLeft = at.resetsLeft; resetsLeft <= environment.resets; resetsLeft += 1) {
          keys.push(keyOf(at, { outage, chatter, lossesLeft, resetsLeft }));
        }
      }
    }
  }
  return keys;
}

const keyClocks = ['cooldown', 'heartbeat'] as const;

/** The clocks' single readings as text; a clock that is spread over several is `*`. */
function readingsOf(at: Checked): { readonly name: string; readonly spread: boolean } {
  let name = '';
  let spread = false;
  for (const clock of keyClocks) {
    const most = greatest(at.zone, clock);
    const single = most === least(at.zone, clock);
    if (!single) spread = true;
    name += single ? `,${String(most)}` : ',*';
  }
  return { name, spread };
}

interface Visited {
  /** Remembers a node unless one met before covers it. @throws TooManyStatesError */
  isNew(at: Checked): boolean;
  count(): number;
}

function visitedZones(environment: Environment, mostNodes: number): Visited {
  const single = new Map<string, Zone[]>();
  const spread = new Map<number, Zone[]>();
  let count = 0;
  const covered = (zones: readonly Zone[] | undefined, zone: Zone): boolean =>
    zones?.some((known) => includes(known, zone)) === true;
  return {
    isNew(at) {
      const readings = readingsOf(at);
      for (const key of dominatingKeys(at, environment)) {
        if (covered(single.get(String(key) + readings.name), at.zone)) return false;
        if (covered(spread.get(key), at.zone)) return false;
      }
      const key = keyOf(at);
      if (readings.spread) push(spread, key, at.zone);
      else push(single, String(key) + readings.name, at.zone);
      count += 1;
      if (count > mostNodes) throw new TooManyStatesError(mostNodes);
      return true;
    },
    count: () => count,
  };
}

function push<Key>(map: Map<Key, Zone[]>, key: Key, zone: Zone): void {
  const zones = map.get(key);
  if (zones === undefined) map.set(key, [zone]);
  else zones.push(zone);
}

/** A device without power, long before anything. */
function offTrack(model: Model): Track {
  return {
    state: model.table.initial,
    phase: 'before',
    decidedOnce: false,
    cooldownOver: true,
    heartbeatDue: false,
    outage: 'unused',
    chatter: 'unused',
    lossesLeft: model.environment.powerLosses,
    resetsLeft: model.environment.resets,
    zone: zeroZone(),
    steps: null,
  };
}

/** The nodes that a device at rest comes back to for ever: the door shut and seen shut, nothing going wrong. */
export function restNodes(model: Model): readonly Node[] {
  const calm: Model = {
    ...model,
    wakeOn: 'timer',
    environment: { ...model.environment, longestOutageMs: 0, longestChatterMs: 0 },
  };
  const untouched = (at: Checked): boolean =>
    !at.readsOpen &&
    at.lossesLeft === model.environment.powerLosses &&
    at.resetsLeft === model.environment.resets;
  const roots = firstChecks(calm, offTrack(model)).filter(untouched);
  const first = closure(
    calm,
    roots.map((at) => ({ at, parent: null })),
    untouched,
  );
  // With heartbeats, what comes after one repeats; without, everything does.
  const beats = first.filter(({ at }) => at.heartbeatDue);
  return beats.length === 0 ? first : closure(calm, beats, untouched);
}

function closure(
  model: Model,
  roots: readonly Node[],
  wanted: (at: Checked) => boolean,
): readonly Node[] {
  const visited = visitedZones(model.environment, defaultMostNodes);
  const nodes = roots.filter(({ at }) => visited.isNew(at));
  for (let index = 0; index < nodes.length; index += 1) {
    const node = nodes[index];
    if (node === undefined) break;
    for (const at of coursesFrom(model, { ...node.at, steps: null }).checks) {
      if (wanted(at) && visited.isNew(at)) nodes.push({ at, parent: node });
    }
  }
  return nodes;
}

/**
 * Searches all courses for the extreme decision and delivery of an opening that never ends.
 * @param options.from `rest`: it meets the device at rest; `anywhere`: whatever went before.
 * @throws TooManyStatesError when the search outgrows `mostNodes`.
 */
export function search(
  model: Model,
  options: {
    readonly from: 'rest' | 'anywhere';
    readonly seek: 'greatest' | 'least';
    readonly mostNodes?: number;
  },
): SearchResult {
  const { from, seek } = options;
  const visited = visitedZones(model.environment, options.mostNodes ?? defaultMostNodes);
  const queue: Node[] = [];
  const add = (at: Checked, parent: Node | null): void => {
    const eased = { ...at, zone: relaxed(at.zone, seek) };
    if (visited.isNew(eased)) queue.push({ at: eased, parent });
  };
  const best = extremes(seek);
  const reading = seek === 'greatest' ? greatest : least;
  const horizon = horizonMs(model);
  const expand = (node: Node, begun: Checked): void => {
    const courses = coursesFrom(model, begun);
    for (const track of courses.deliveries) best.deliver(track, node);
    for (const track of courses.stuck) best.never(track, node);
    for (const at of courses.checks) {
      if (at.decidesFirst) best.decide(at, node);
      if (reading(at.zone, 'opening') > horizon) best.never(at, node);
      else add(at, node);
    }
  };
  if (from === 'anywhere') for (const at of firstChecks(model, offTrack(model))) add(at, null);
  else for (const node of restNodes(model)) expand(node, begin(node.at));
  for (let index = 0; index < queue.length; index += 1) {
    const node = queue[index];
    if (node === undefined) break;
    expand(node, { ...node.at, steps: null });
    if (node.at.phase === 'before') expand(node, begin(node.at));
  }
  return { ...best.found(), nodes: visited.count() };
}

/** The opening under study begins after this check and before the next. */
function begin(at: Checked): Checked {
  const begun = after({ ...at, steps: null }, { op: 'begin', mostMs: at.readsOpen ? -2 : -1 });
  invariant(begun !== null, 'an opening can begin after any check', { state: at.state });
  return { ...at, ...begun, phase: 'starting' };
}

/**
 * Beyond this reading of the opening's clock a course has repeated itself: every budget is spent, every timer has run
 * out, and each state of the logic has been seen.
 */
function horizonMs({ table, times, environment }: Model): number {
  const longestSleepMs = Math.max(...times.sleeps.map(({ mostMs }) => mostMs));
  const longestWakeMs = longestSleepMs + times.bootMs.most + times.connectMs.most;
  const longestFaultMs = environment.longestPowerLossMs + longestWakeMs;
  return (
    2 * (times.cooldownMs + environment.longestOutageMs + environment.longestChatterMs) +
    (environment.powerLosses + environment.resets) * (longestFaultMs + times.cooldownMs) +
    (table.phases.length + 2) * longestWakeMs
  );
}

function extremes(seek: 'greatest' | 'least'): {
  decide(track: Track, parent: Node): void;
  deliver(track: Track, parent: Node): void;
  never(track: Track, parent: Node): void;
  found(): Omit<SearchResult, 'nodes'>;
} {
  let decision: Found | null = null;
  let delivery: Found | null = null;
  let never: Found | null = null;
  const better = (than: Found | null, track: Track, parent: Node): Found => {
    const openingMs =
      seek === 'greatest' ? greatest(track.zone, 'opening') : least(track.zone, 'opening');
    const improves =
      than === null ||
      (seek === 'greatest' ? openingMs > than.openingMs : openingMs < than.openingMs);
    return improves ? { track, parent, openingMs } : than;
  };
  return {
    decide(track, parent) {
      decision = better(decision, track, parent);
    },
    deliver(track, parent) {
      delivery = better(delivery, track, parent);
    },
    never(track, parent) {
      never ??= { track, parent, openingMs: least(track.zone, 'opening') };
    },
    found: () => ({ decision, delivery, never }),
  };
}
