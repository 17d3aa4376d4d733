// The switch and magnet. The contact closes when the door comes to the operate gap and opens only beyond the
// larger release gap, so a door that stops in between reads by where it came from; after each change it
// bounces. Faults hold it (stuck) or make it read at random (chattering).

import { cellAt, invariant, randomStream, type TrueMs, type Um } from '../base/index.js';
import { mostContactEdges } from '../model/index.js';
import type { DoorMove } from './door.js';
import { firstAfter, type Spans } from './spans.js';

export interface ContactSettings {
  /** Coming from open, the contact reads shut at this gap and below. */
  readonly operateGapUm: Um;
  /** Coming from shut, the contact reads open above this gap. */
  readonly releaseGapUm: Um;
  /** After a change the reading alternates each millisecond for this long, new reading first. */
  readonly bounceMs: TrueMs;
}

/** For a while the contact does not follow the door. */
export interface ContactFault {
  readonly fromMs: TrueMs;
  readonly toMs: TrueMs;
  readonly reads:
    | { readonly kind: 'stuck'; readonly at: 'open' | 'shut' }
    /** Each `slotMs` the reading is drawn again: open with probability `openShare`. */
    | { readonly kind: 'chattering'; readonly openShare: number; readonly slotMs: TrueMs };
}

/**
 * What the contact reads, as the instants at which the reading changes, in order: the first to open, the next
 * to shut, and so on. Before the first it reads shut.
 */
export type ContactEdges = Float64Array;

/** The edges of an ideal contact: it reads open exactly while the door is open. */
export function idealContactEdges(openings: Spans): ContactEdges {
  const { fromMs, toMs } = openings;
  const count = fromMs.length;
  const endless = count > 0 && toMs[count - 1] === Number.POSITIVE_INFINITY;
  const edges = new Float64Array(count * 2 - (endless ? 1 : 0));
  for (let index = 0; index < count; index += 1) {
    edges[index * 2] = cellAt(fromMs, index);
    if (index * 2 + 1 < edges.length) edges[index * 2 + 1] = cellAt(toMs, index);
  }
  return edges;
}

/** The edges of a real contact on a door that starts shut; an edge that is undone in its own instant is none. */
export function contactEdgesOf(
  moves: readonly DoorMove[],
  settings: ContactSettings,
): ContactEdges {
  const edges: number[] = [];
  let readsOpen = false;
  for (const { atMs, gapUm } of moves) {
    const nowOpen: boolean = readsOpen
      ? gapUm > settings.operateGapUm
      : gapUm > settings.releaseGapUm;
    if (nowOpen === readsOpen) continue;
    readsOpen = nowOpen;
    if (edges.at(-1) === atMs) edges.pop();
    else edges.push(atMs);
  }
  return Float64Array.from(edges);
}

/** Adds bounce: for `bounceMs` after each edge the reading alternates every millisecond and ends on the new one. */
export function withBounce(edges: ContactEdges, bounceMs: TrueMs): ContactEdges {
  // One millisecond of bounce is over before the next whole millisecond can see it.
  if (bounceMs < 2) return edges;
  const bounced: number[] = [];
  edges.forEach((edge, index) => {
    const until = Math.min(edge + bounceMs, edges[index + 1] ?? Number.POSITIVE_INFINITY);
    // An odd number of changes leaves the reading where the edge led.
    const changes = Math.ceil((until - edge) / 2) * 2 - 1;
    for (let change = 0; change < changes; change += 1) bounced.push(edge + change);
  });
  return Float64Array.from(bounced);
}

/** What the contact reads at an instant, from its edges. */
export function readsOpenAt(edges: ContactEdges, instantMs: number): boolean {
  return (firstAfter(edges, instantMs) & 1) === 1;
}

/**
 * Lets faults override the reading. Faults must not overlap.
 * @throws InvariantError when they do, or when chatter makes more than `mostContactEdges`.
 */
export function withFaults(
  edges: ContactEdges,
  faults: readonly ContactFault[],
  seed: string,
): ContactEdges {
  if (faults.length === 0) return edges;
  const sorted = [...faults].sort((a, b) => a.fromMs - b.fromMs);
  const merged: number[] = [];
  const set = (atMs: number, open: boolean): void => {
    if (((merged.length & 1) === 1) === open) return;
    if (merged.at(-1) === atMs) merged.pop();
    else merged.push(atMs);
    invariant(merged.length <= mostContactEdges, 'the contact has too many edges', { atMs });
  };
  let edge = 0;
  const copyUntil = (untilMs: number): void => {
    for (; edge < edges.length; edge += 1) {
      const atMs = cellAt(edges, edge);
      if (atMs >= untilMs) return;
      set(atMs, (edge & 1) === 0);
    }
  };
  let freeFromMs = Number.NEGATIVE_INFINITY;
  for (const fault of sorted) {
    invariant(fault.fromMs >= freeFromMs, 'contact faults do not overlap', { fault });
    copyUntil(fault.fromMs);
    overrideReading(fault, seed, set);
    freeFromMs = fault.toMs;
    edge = firstAfter(edges, fault.toMs);
    set(fault.toMs, (edge & 1) === 1);
  }
  copyUntil(Number.POSITIVE_INFINITY);
  return Float64Array.from(merged);
}

function overrideReading(
  { fromMs, toMs, reads }: ContactFault,
  seed: string,
  set: (atMs: number, open: boolean) => void,
): void {
  if (reads.kind === 'stuck') {
    set(fromMs, reads.at === 'open');
    return;
  }
  const stream = randomStream(seed, 'chatter', fromMs);
  for (let slot: number = fromMs; slot < toMs; slot += reads.slotMs) {
    set(slot, stream.unit() < reads.openShare);
  }
}
