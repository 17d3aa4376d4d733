// A timeline at every phase of the checks. The device powers on at each whole millisecond of one period; neighbouring phases do the
// same a little later, until something comes between them, and are one piece until then. All pieces are taken from one opening to
// the next, and those that are alike again are joined there: so the work grows with the openings, and not with the phases.

import { cellAt } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import type { Experiment } from '../sim/index.js';
import { firstAfter, type Spans, spanAt, type World } from '../world/index.js';
import { advance, mayReportLow, noCooldown } from './advance.js';
import { type Device, deviceOf } from './device.js';
import { doubtsOf } from './doubts.js';
import { oneByOne } from './one-by-one.js';
import { phaseLengthOf } from './phase-length.js';
import { copyInto, copyOf, joined, newPiece, noAlert, type Piece, restFrom } from './piece.js';
import { type EveryPhase, type Tally, tallyOf } from './tally.js';
import { newOutcome } from './wake-outcome.js';

export interface EveryPhaseOptions {
  /** Default: the power-on of the world. It may be before the timeline. */
  readonly firstPowerOnMs?: number | undefined;
  /** The device had been running for up to one period before the timeline, in place of `firstPowerOnMs`. */
  readonly wasRunning?: boolean | undefined;
  /** Spans in which the truth is not known. */
  readonly unavailable?: Spans | undefined;
  /** The most wakes of pieces; default: no limit. */
  readonly mostSteps?: number | undefined;
  /** How many such questions are asked together; default: one. */
  readonly runs?: number | undefined;
}

/** @returns null beyond `mostSteps`. */
export function everyPhase(
  experiment: Experiment,
  required: Requirements,
  options: EveryPhaseOptions = {},
): EveryPhase | null {
  const { world } = experiment;
  const { lengthMs: phases, isAbout } = phaseLengthOf(experiment);
  const { wasRunning = false, mostSteps = Number.POSITIVE_INFINITY } = options;
  const firstPowerOnMs = wasRunning ? -phases : (options.firstPowerOnMs ?? world.powerOnAtMs);
  const { unavailable } = options;
  const doubts = doubtsOf(world, required, unavailable);
  const device = deviceOf(experiment, doubts);
  const tally = tallyOf(world, required, { phases, doubts });
  const walk: Walk = { device, tally, stepsLeft: mostSteps, mostSpent: 0 };
  let pieces = firstPieces(device, world, { fromMs: firstPowerOnMs, phases, tally });
  const { fromMs } = world.openings;
  for (let opening = 0; ; opening += openingsAtOnce(pieces.length)) {
    const untilMs = fromMs[opening] ?? Number.POSITIVE_INFINITY;
    const there = walkTo(walk, pieces, untilMs);
    if (there === null) return null;
    for (const piece of there) forget(device, piece, untilMs);
    pieces = joined(there);
    if (untilMs === Number.POSITIVE_INFINITY) break;
  }
  if (mayRunFlat(device, walk, world.lengthMs - firstPowerOnMs)) {
    const { runs = 1 } = options;
    const on = { firstPowerOnMs, phases, isAbout, mostSteps, unavailable, runs };
    return oneByOne(experiment, required, on);
  }
  return {
    summary: { ...tally.summary(), phaseLengthMs: phases },
    isAbout,
    firstPowerOnMs,
    openingAt: tally.openingAt,
  };
}

/** Whether the charge may end at some phase: pieces are followed as if it never did. */
function mayRunFlat({ charge }: Device, { mostSpent }: Walk, lastsMs: number): boolean {
  if (charge === null) return false;
  const { perMs, firstDay, wake, usable } = charge;
  return lastsMs * perMs + firstDay + mostSpent + 2 * wake >= usable * (1 - 1e-9);
}

/** How many openings to go on before the pieces are joined again: each opening parts about two more, and joining looks at all. */
function openingsAtOnce(pieces: number): number {
  return Math.max(1, Math.min(64, pieces >> 3));
}

interface Walk {
  readonly device: Device;
  readonly tally: Tally;
  stepsLeft: number;
  /** The most that a piece has spent. */
  mostSpent: number;
}

/** The phases as they power on, in as many pieces as power losses and resets make of them. */
function firstPieces(
  device: Device,
  { powerLost, lengthMs }: World,
  on: { readonly fromMs: number; readonly phases: number; readonly tally: Tally },
): Piece[] {
  const pieces: Piece[] = [];
  const endMs = on.fromMs + on.phases;
  for (let lo = on.fromMs; lo < endMs; ) {
    const loss = spanAt(powerLost, lo);
    const bootMs = loss < 0 ? lo : cellAt(powerLost.toMs, loss);
    const fault = firstAfter(device.faults.atMs, bootMs);
    // Powered on within a loss, the device boots as the power returns.
    const nextMs = loss < 0 ? Math.min(cellAt(device.faults.atMs, fault), lengthMs) : bootMs;
    const hi = bootMs >= lengthMs ? endMs - 1 : Math.min(endMs, nextMs) - 1;
    const slope = loss < 0 ? 1 : 0;
    const piece = newPiece();
    piece.lo = lo;
    piece.hi = hi;
    piece.state = device.table.initial;
    piece.wakeMs = bootMs;
    piece.wakeSlope = slope;
    piece.fault = fault;
    piece.heartbeatEnd = bootMs + device.heartbeatTimer;
    if (Number.isFinite(device.heartbeatTimer)) piece.heartbeatSlope = slope;
    if (Number.isFinite(device.lowBatteryTimer)) mayReportLow(piece);
    if (bootMs < lengthMs) pieces.push(piece);
    lo = hi + 1;
  }
  return pieces;
}

/** Takes every piece to its first check at or after an instant. Null: that takes too many steps. */
function walkTo(walk: Walk, pieces: readonly Piece[], untilMs: number): Piece[] | null {
  const { device, tally } = walk;
  const there: Piece[] = [];
  const outcome = newOutcome();
  const on = { untilMs, outcome };
  const waiting = pieces.toReversed();
  const start: Piece | undefined = waiting.at(-1);
  if (start === undefined) return there;
  const before: Piece = copyOf(start);
  for (let piece = waiting.pop(); piece !== undefined; piece = waiting.pop()) {
    for (;;) {
      walk.stepsLeft -= 1;
      if (walk.stepsLeft < 0) return null;
      copyInto(before, piece);
      const how = advance(device, piece, on);
      if (piece.hi < before.hi) waiting.push(restFrom(before, piece.hi + 1));
      if (how === 'there') {
        there.push(piece);
        break;
      }
      tally.count(piece, outcome);
      if (how === 'over') {
        tally.finish(piece);
        walk.mostSpent = Math.max(walk.mostSpent, piece.spent);
        break;
      }
    }
  }
  return there;
}

/** What no longer matters at the start of an opening is forgotten, so that pieces that differ in nothing else can be joined. */
function forget(device: Device, piece: Piece, atMs: number): void {
  piece.edge = firstAfter(device.edges, atMs - 1);
  piece.alerted = noAlert;
  if (piece.delivered !== piece.pending) piece.delivered = noAlert;
  const isDoubtPast = piece.doubt >= 0 && cellAt(device.doubts.ranges.toMs, piece.doubt) <= atMs;
  if (isDoubtPast && piece.pendingIn !== piece.doubt) {
    piece.doubt = -1;
    piece.doubtFlags = 0;
  }
  if (device.ignoresCooldown[piece.state] === 1) noCooldown(piece);
}
