// Half-open spans of true time in two columns: a log of a million rows is two typed arrays, not a million objects.
import { cellAt, invariant } from '../base/index.js';

/** Sorted, disjoint, non-empty spans `[fromMs[i], toMs[i])`. The last may be endless (`Infinity`). */
export interface Spans {
  readonly fromMs: Float64Array;
  readonly toMs: Float64Array;
}

export const noSpans: Spans = { fromMs: new Float64Array(0), toMs: new Float64Array(0) };

/**
 * Spans from pairs in any order: sorted, empty ones left out, touching and overlapping ones merged.
 * @throws InvariantError when a pair ends before it starts.
 */
export function spansOf(pairs: readonly (readonly [fromMs: number, toMs: number])[]): Spans {
  const sorted = pairs.filter(([from, to]) => from !== to).sort((a, b) => a[0] - b[0]);
  const fromMs: number[] = [];
  const toMs: number[] = [];
  for (const [from, to] of sorted) {
    invariant(from < to, 'a span ends after it starts', { from, to });
    const last = toMs.length - 1;
    const lastTo = toMs[last];
    if (lastTo !== undefined && from <= lastTo) {
      toMs[last] = Math.max(lastTo, to);
    } else {
      fromMs.push(from);
      toMs.push(to);
    }
  }
  return { fromMs: Float64Array.from(fromMs), toMs: Float64Array.from(toMs) };
}

/** The index of the span that holds `instantMs`, or −1. */
export function spanAt(spans: Spans, instantMs: number): number {
  const index = firstAfter(spans.fromMs, instantMs) - 1;
  return index >= 0 && instantMs < cellAt(spans.toMs, index) ? index : -1;
}

/** Whether some span holds `instantMs`. */
export function within(spans: Spans, instantMs: number): boolean {
  return spanAt(spans, instantMs) >= 0;
}

/** How an attempt ends that may wait for the network. */
export interface JoinEnd {
  readonly endMs: number;
  readonly isUp: boolean;
}

/**
 * An attempt that finds the network at `dueMs`, or waits for it `waitMs` longer at most: it ends at the first instant at which
 * the network is up, or fails.
 */
export function joinEnd(networkDown: Spans, dueMs: number, waitMs: number): JoinEnd {
  const span = spanAt(networkDown, dueMs);
  if (span < 0) return { endMs: dueMs, isUp: true };
  const upMs = cellAt(networkDown.toMs, span);
  const isUp = upMs <= dueMs + waitMs;
  return { endMs: isUp ? upMs : dueMs + waitMs, isUp };
}

/** The first instant after `instantMs` at which a span begins or ends; Infinity: none comes. */
export function nextBorder({ fromMs, toMs }: Spans, instantMs: number): number {
  const begins = fromMs[firstAfter(fromMs, instantMs)] ?? Number.POSITIVE_INFINITY;
  const ends = toMs[firstAfter(toMs, instantMs)] ?? Number.POSITIVE_INFINITY;
  return Math.min(begins, ends);
}

/** The index of the first of sorted `instants` that is after `instantMs`. */
export function firstAfter(instants: Float64Array, instantMs: number): number {
  let low = 0;
  let high = instants.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (cellAt(instants, middle) <= instantMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
