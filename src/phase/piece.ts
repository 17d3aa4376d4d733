// A piece: neighbouring phases whose devices have done the same things so far, each a little later than the one before. An instant
// of a piece is written down for its first phase; it moves with the phase (slope 1), or all its phases share it (slope 0), as
// after a reset. Where a comparison comes out differently within a piece, the piece is narrowed, and the rest of it goes on alone.
import { inputCode, type WakeCause } from '../machine/index.js';

export type Slope = 0 | 1;

/** The index of an opening, or one of the two below. */
export type OpeningOrNone = number;
/** An alert of no opening: the door was shut. */
export const doorShut = -1;
/** No alert. */
export const noAlert = -2;

/** The mutable state of the devices of a piece, between two wakes. */
export interface Piece {
  /** The power-on instants of its phases, both included. Pieces whose instants are all shared have one, of the weight of all. */
  lo: number;
  hi: number;
  /** How many phases each instant from `lo` to `hi` counts for. */
  weight: number;

  /** State of the logic, and the next wake with its cause. */
  state: number;
  wakeMs: number;
  wakeSlope: Slope;
  cause: (typeof inputCode.wake)[WakeCause];
  /** Index of a contact edge; none before it is after the last check. */
  edge: number;
  fault: number;
  /** The clock's reading less true time. */
  readingOffsetMs: number;
  /** Readings; −Infinity when no cooldown runs, Infinity without heartbeats. */
  cooldownEnd: number;
  cooldownSlope: Slope;
  heartbeatEnd: number;
  heartbeatSlope: Slope;
  /** Reading from which on a low battery may be reported again; −Infinity where none was, Infinity without such messages. */
  lowBatteryEnd: number;
  lowBatterySlope: Slope;
  /** How many boots, attempts and sleeps were drawn; 0 throughout where they do not vary. */
  boots: number;
  connects: number;
  sleeps: number;

  /** The opening of the pending alert. */
  pending: OpeningOrNone;
  /** Where it was decided: index of an opening in doubt and of a stretch in which that was seen open, or −1. */
  pendingIn: number;
  pendingStretch: number;
  /** The opening of the last alert, and the last one with a delivery, while they may still matter. */
  alerted: OpeningOrNone;
  delivered: OpeningOrNone;
  /** The last opening in doubt that an alert was of, while it may still matter, and what is remembered of it. */
  doubt: number;
  doubtFlags: number;
  /** Whether these phases have had a false alarm. */
  alarmedFalsely: boolean;
  /** The most charge that wakes, sends and holding have taken at any of its phases. */
  spent: number;
}

/** A piece that has done nothing. All are made here, so that they have one shape: the engine walks those in half the time. */
export function newPiece(): Piece {
  return {
    lo: 0,
    hi: 0,
    weight: 1,
    state: 0,
    wakeMs: 0,
    wakeSlope: 0,
    cause: inputCode.wake['power-on'],
    edge: 0,
    fault: 0,
    readingOffsetMs: 0,
    cooldownEnd: Number.NEGATIVE_INFINITY,
    cooldownSlope: 0,
    heartbeatEnd: Number.POSITIVE_INFINITY,
    heartbeatSlope: 0,
    lowBatteryEnd: Number.POSITIVE_INFINITY,
    lowBatterySlope: 0,
    boots: 0,
    connects: 0,
    sleeps: 0,
    pending: noAlert,
    pendingIn: -1,
    pendingStretch: -1,
    alerted: noAlert,
    delivered: noAlert,
    doubt: -1,
    doubtFlags: 0,
    alarmedFalsely: false,
    spent: 0,
  };
}

/** Forgets the pending alert. */
export function noPending(piece: Piece): void {
  piece.pending = noAlert;
  piece.pendingIn = -1;
  piece.pendingStretch = -1;
}

export function phasesOf({ lo, hi, weight }: Piece): number {
  return (hi - lo + 1) * weight;
}

/** Writes one piece over another. */
export function copyInto(to: Piece, from: Piece): void {
  to.lo = from.lo;
  to.hi = from.hi;
  to.weight = from.weight;
  to.state = from.state;
  to.wakeMs = from.wakeMs;
  to.wakeSlope = from.wakeSlope;
  to.cause = from.cause;
  to.edge = from.edge;
  to.fault = from.fault;
  to.readingOffsetMs = from.readingOffsetMs;
  to.cooldownEnd = from.cooldownEnd;
  to.cooldownSlope = from.cooldownSlope;
  to.heartbeatEnd = from.heartbeatEnd;
  to.heartbeatSlope = from.heartbeatSlope;
  to.lowBatteryEnd = from.lowBatteryEnd;
  to.lowBatterySlope = from.lowBatterySlope;
  to.boots = from.boots;
  to.connects = from.connects;
  to.sleeps = from.sleeps;
  to.pending = from.pending;
  to.pendingIn = from.pendingIn;
  to.pendingStretch = from.pendingStretch;
  to.alerted = from.alerted;
  to.delivered = from.delivered;
  to.doubt = from.doubt;
  to.doubtFlags = from.doubtFlags;
  to.alarmedFalsely = from.alarmedFalsely;
  to.spent = from.spent;
}

/** A piece of its own that has got as far. */
export function copyOf(piece: Piece): Piece {
  const copy = newPiece();
  copyInto(copy, piece);
  return copy;
}

/** The phases of a piece from one on, which is after its first. */
export function restFrom(piece: Piece, lo: number): Piece {
  const byMs = lo - piece.lo;
  const rest = copyOf(piece);
  rest.lo = lo;
  rest.wakeMs += byMs * piece.wakeSlope;
  rest.cooldownEnd += byMs * piece.cooldownSlope;
  rest.heartbeatEnd += byMs * piece.heartbeatSlope;
  rest.lowBatteryEnd += byMs * piece.lowBatterySlope;
  return rest;
}

/** Whether two pieces, the second where the first ends, go on as one. */
function areOne(one: Piece, next: Piece): boolean {
  const byMs = next.lo - one.lo;
  return (
    next.lo === one.hi + 1 &&
    isSameWay(one, next) &&
    next.wakeMs - one.wakeMs === byMs * one.wakeSlope &&
    isLater(one.cooldownEnd, next.cooldownEnd, byMs * one.cooldownSlope) &&
    isLater(one.heartbeatEnd, next.heartbeatEnd, byMs * one.heartbeatSlope) &&
    isLater(one.lowBatteryEnd, next.lowBatteryEnd, byMs * one.lowBatterySlope)
  );
}

function isLater(one: number, other: number, byMs: number): boolean {
  return one === other ? byMs === 0 || !Number.isFinite(one) : other - one === byMs;
}

/** Everything but the instants, and what was spent. */
function isSameWay(one: Piece, other: Piece): boolean {
  return (
    one.state === other.state &&
    one.cause === other.cause &&
    one.edge === other.edge &&
    one.fault === other.fault &&
    one.weight === other.weight &&
    one.wakeSlope === other.wakeSlope &&
    one.cooldownSlope === other.cooldownSlope &&
    one.heartbeatSlope === other.heartbeatSlope &&
    one.lowBatterySlope === other.lowBatterySlope &&
    one.readingOffsetMs === other.readingOffsetMs &&
    one.boots === other.boots &&
    one.connects === other.connects &&
    one.sleeps === other.sleeps &&
    one.pending === other.pending &&
    one.pendingIn === other.pendingIn &&
    one.pendingStretch === other.pendingStretch &&
    one.alerted === other.alerted &&
    one.delivered === other.delivered &&
    one.doubt === other.doubt &&
    one.doubtFlags === other.doubtFlags &&
    one.alarmedFalsely === other.alarmedFalsely
  );
}

/** The same phases in as few pieces as their states allow. @param pieces ascending. */
export function joined(pieces: readonly Piece[]): Piece[] {
  const kept: Piece[] = [];
  const shared = new Map<string, Piece>();
  for (const piece of pieces) {
    const slopes = piece.wakeSlope + piece.cooldownSlope + piece.heartbeatSlope;
    if (slopes + piece.lowBatterySlope === 0) {
      gather(piece, shared);
      continue;
    }
    const last = kept.at(-1);
    if (last !== undefined && areOne(last, piece)) {
      last.hi = piece.hi;
      last.spent = Math.max(last.spent, piece.spent);
    } else kept.push(piece);
  }
  return [...shared.values(), ...kept];
}

/** Phases whose instants are all shared are the same device: only how many they are matters. */
function gather(piece: Piece, shared: Map<string, Piece>): void {
  const key = Object.values({ ...piece, lo: 0, hi: 0, weight: 0, spent: 0 }).join();
  const same = shared.get(key);
  const weight = phasesOf(piece);
  if (same === undefined) {
    const first = copyOf(piece);
    first.lo = 0;
    first.hi = 0;
    first.weight = weight;
    shared.set(key, first);
  } else {
    same.weight += weight;
    same.spent = Math.max(same.spent, piece.spent);
  }
}
