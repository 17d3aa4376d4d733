// Exhaustive search: every run of the device that the door and the environment can force, until nothing new is
// found. A run whose clock readings are all among those of an earlier one like it adds nothing and is dropped.

import { invariant } from '../base/index.js';
import { mostSearchedStates } from '../model/index.js';
import type { Checked } from './checks.js';
import { outlookOf } from './horizon.js';
import { offTrack, restNodes } from './rest.js';
import { firstChecks, runsFrom } from './successors.js';
import { afterAll, type Model, type Step, type Track } from './track.js';
import { type Node, visitedNodes } from './visited.js';
import { greatest, least, relaxed } from './zone.js';

/** Something that a run reaches, with the run. */
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
  /** The greatest length of an opening that may go unreported: it shuts at the instant of this check. Null if the least is sought. */
  readonly unreported: Found | null;
  /** A run on which the opening is never reported. */
  readonly never: Found | null;
  /** A run on which no alert is ever decided in the opening. */
  readonly undecided: Found | null;
  /** Nodes visited. */
  readonly nodes: number;
}

export interface SearchOptions {
  /** `rest`: the opening meets the device at rest; `anywhere`: whatever went before. */
  readonly from: 'rest' | 'anywhere';
  readonly seek: 'greatest' | 'least';
  readonly mostNodes?: number;
  /** Where only this much is of interest: a run that exceeds it ends the search, as if it were never reported. */
  readonly asked?: Asked;
  /** A safe bound is enough: the times between heartbeats are not followed where that hardly matters. */
  readonly isSafeEnough?: boolean;
}

/** An opening this long must be reported; one that never ends, within this time of its start. */
export interface Asked {
  readonly reportedFromMs: number;
  readonly deliveryMs: number;
}

/**
 * Searches all runs for the extreme decision and delivery of an opening that never ends.
 * @throws TooManyStatesError when the search outgrows `mostNodes`.
 */
export function search(model: Model, options: SearchOptions): SearchResult {
  const { from, seek, asked, mostNodes = mostSearchedStates } = options;
  const visited = visitedNodes(model, { mostNodes, relaxed: seek === 'greatest' });
  const queue: Node[] = [];
  const add = (at: Checked, parent: Node | null): void => {
    const node: Node = {
      at: withZone(at, relaxed(at.zone, { seek, outage: at.outage })),
      parent,
    };
    if (visited.add(node)) queue.push(node);
  };
  const best = extremes(seek);
  const outlook = outlookOf(model);
  const isLost = (at: Checked): boolean => {
    if (outlook.isHopeless(at)) return true;
    if (seek === 'least') return false;
    const openMs = greatest(at.zone, 'opening');
    return openMs > outlook.horizonMs || (asked !== undefined && exceeds(at, openMs, asked));
  };
  const reached = (at: Checked, parent: Node | null): void => {
    if (at.decidesFirst) best.decide(at, parent);
    if (at.mayGoUnreported) best.leave(at, parent);
    if (isLost(at)) best.never(at, parent);
    else add(at, parent);
  };
  const expand = (node: Node, at: Checked): void => {
    const runs = runsFrom(model, at);
    for (const track of runs.deliveries) best.deliver(track, node);
    for (const track of runs.stuck) best.never(track, node);
    for (const next of runs.checks) reached(next, node);
  };
  if (from === 'rest') {
    for (const node of restNodes(model, mostNodes)) expand(node, begin(model, node.at));
  } else {
    const off = offTrack(model);
    for (const at of firstChecks(model, off)) add(at, null);
    // The opening may begin as the device first boots.
    const opening = afterAll(off, [{ op: 'begin', mostMs: 0 }]);
    invariant(opening !== null, 'an opening can begin as the device boots');
    opening.phase = 'starting';
    if (opening.beat === 'once') opening.beat = 'late';
    for (const at of firstChecks(model, opening)) reached(at, null);
  }
  // The queue grows while it is walked.
  for (const node of queue) {
    if (asked !== undefined && best.found().never !== null) break;
    if (visited.isCovered(node)) continue;
    expand(node, withoutSteps(node.at));
    if (node.at.phase === 'before') expand(node, begin(model, node.at));
  }
  return { ...best.found(), nodes: visited.count() };
}

/** At a check so late, what is still to come cannot come in time. */
function exceeds(at: Checked, openMs: number, { reportedFromMs, deliveryMs }: Asked): boolean {
  return openMs > deliveryMs || (at.mayGoUnreported && openMs >= reportedFromMs);
}

function withoutSteps(at: Checked): Checked {
  return { ...at, steps: null };
}

function withZone(at: Checked, zone: Checked['zone']): Checked {
  return { ...at, zone };
}

/** The opening under study begins after this check and before the next. */
export function begin(model: Model, at: Checked): Checked {
  const steps: Step[] = [{ op: 'begin', mostMs: at.readsOpen ? -2 : -1 }];
  const { heartbeatMs } = model.times;
  if (model.heartbeats === 'free' && heartbeatMs !== Number.POSITIVE_INFINITY && !at.heartbeatDue) {
    steps.push({ op: 'free', clock: 'heartbeat', mostMs: heartbeatMs - 1 });
  }
  const begun = afterAll(withoutSteps(at), steps);
  invariant(begun !== null, 'an opening can begin after any check', { state: at.state });
  return { ...at, zone: begun.zone, steps: begun.steps, phase: 'starting' };
}

function extremes(seek: 'greatest' | 'least'): {
  decide(track: Track, parent: Node | null): void;
  deliver(track: Track, parent: Node | null): void;
  leave(track: Track, parent: Node | null): void;
  never(track: Track, parent: Node | null): void;
  found(): Omit<SearchResult, 'nodes'>;
} {
  let decision: Found | null = null;
  let delivery: Found | null = null;
  let unreported: Found | null = null;
  let never: Found | null = null;
  let undecided: Found | null = null;
  const better = (than: Found | null, track: Track, parent: Node | null): Found => {
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
    leave(track, parent) {
      if (seek === 'greatest') unreported = better(unreported, track, parent);
    },
    never(track, parent) {
      const found = { track, parent, openingMs: least(track.zone, 'opening') };
      never ??= found;
      if (!track.decidedOnce) undecided ??= found;
    },
    found: () => ({ decision, delivery, unreported, never, undecided }),
  };
}
