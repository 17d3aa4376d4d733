// The truth: a door whose gap changes in steps. It is open while its gap is over the seal gap.
import { type TrueMs, type Um, um } from '../base/index.js';
import { type Spans, spansOf } from './spans.js';

/** From `atMs` on the door stands at `gapUm`. Moves at one instant happen in their order. */
export interface DoorMove {
  readonly atMs: TrueMs;
  readonly gapUm: Um;
}

/** A door that is wide open: far beyond any contact's release gap. */
export const wideOpenUm = um(1_000_000);

/**
 * The openings of a door that starts shut: the maximal spans in which its gap is over `sealGapUm`.
 * A door that is never shut again gives an endless last opening.
 */
export function openingsOf(moves: readonly DoorMove[], sealGapUm: Um): Spans {
  const pairs: [number, number][] = [];
  let openSince: number | null = null;
  for (const move of moves) {
    const open = move.gapUm > sealGapUm;
    if (open && openSince === null) openSince = move.atMs;
    if (!open && openSince !== null) {
      pairs.push([openSince, move.atMs]);
      openSince = null;
    }
  }
  if (openSince !== null) pairs.push([openSince, Number.POSITIVE_INFINITY]);
  return spansOf(pairs);
}
