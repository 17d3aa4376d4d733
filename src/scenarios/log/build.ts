// From what a log took in to the door's openings, in columns all the way.
import { noSpans, type Spans } from '../../world/index.js';
import { growingColumn } from './column-store.js';
import type { Intake } from './intake.js';
import { unavailable } from './state-words.js';

/** The openings, and what was merged or left out on the way. */
export interface BuiltOpenings {
  readonly openings: Spans;
  /** Rows that change nothing: the state before them again, or an opening that goes on from the last. */
  readonly mergedRows: number;
  readonly emptyOpenings: number;
  /** Spans of which the log knows nothing; the last may be endless. */
  readonly unavailable: Spans;
}

/** Edges in any order; those of one instant stay in the order of their rows. */
export function openingsFromEdges(intake: Intake): BuiltOpenings {
  const [atMs, states] = sortedColumns(intake);
  const edges = new Float64Array(atMs.length);
  let count = 0;
  let { mergedRows } = intake;
  let emptyOpenings = 0;
  const spans = openSpans();
  for (let row = 0; row < atMs.length; row += 1) {
    const at = atMs[row] ?? 0;
    // The contact keeps its last reading until the next row that has one.
    if (states[row] === unavailable) {
      if (!spans.begin(at)) mergedRows += 1;
      continue;
    }
    const ended = spans.end(at);
    const isOpen = (count & 1) === 1;
    if ((states[row] === 1) === isOpen) {
      // The first row of all repeats nothing, even if the door was taken to be shut before it.
      if (!ended && row > 0) mergedRows += 1;
      continue;
    }
    if (count > 0 && edges[count - 1] === at) {
      // Opened and shut in one instant; or shut and opened again, which leaves the opening whole.
      if (isOpen) emptyOpenings += 1;
      else mergedRows += 2;
      count -= 1;
      continue;
    }
    edges[count] = at;
    count += 1;
  }
  return {
    openings: spansOfEdges(edges, count),
    mergedRows,
    emptyOpenings,
    unavailable: spans.all(),
  };
}

interface OpenSpans {
  /** @returns false if a span has begun already. */
  begin(atMs: number): boolean;
  /** @returns false if none has begun. */
  end(atMs: number): boolean;
  all(): Spans;
}

function openSpans(): OpenSpans {
  const fromMs = growingColumn();
  const toMs = growingColumn();
  let isIn = false;
  return {
    begin(atMs) {
      if (isIn) return false;
      isIn = true;
      // One that ends and begins again in the same instant goes on.
      if (toMs.length > 0 && toMs.values().at(-1) === atMs) {
        toMs.replaceLast(Number.POSITIVE_INFINITY);
        return true;
      }
      fromMs.push(atMs);
      toMs.push(Number.POSITIVE_INFINITY);
      return true;
    },
    end(atMs) {
      if (!isIn) return false;
      isIn = false;
      toMs.replaceLast(atMs);
      return true;
    },
    all() {
      const from = fromMs.values();
      const to = toMs.values();
      const isLong = (_: number, index: number): boolean => (to[index] ?? 0) > (from[index] ?? 0);
      return { fromMs: from.filter(isLong), toMs: to.filter((_, index) => isLong(_, index)) };
    },
  };
}

function spansOfEdges(edges: Float64Array, count: number): Spans {
  const openings = Math.ceil(count / 2);
  const fromMs = new Float64Array(openings);
  const toMs = new Float64Array(openings).fill(Number.POSITIVE_INFINITY);
  for (let edge = 0; edge < count; edge += 1) {
    const column = (edge & 1) === 0 ? fromMs : toMs;
    column[edge >>> 1] = edges[edge] ?? 0;
  }
  return { fromMs, toMs };
}

/** Openings in any order; those that touch or overlap become one. */
export function openingsFromRows(intake: Intake): BuiltOpenings {
  const [starts, ends] = sortedColumns(intake);
  const fromMs = new Float64Array(starts.length);
  const toMs = new Float64Array(starts.length);
  let count = 0;
  let { mergedRows } = intake;
  for (let row = 0; row < starts.length; row += 1) {
    const start = starts[row] ?? 0;
    const end = ends[row] ?? 0;
    const last = toMs[count - 1] ?? 0;
    if (count === 0 || start > last) {
      fromMs[count] = start;
      toMs[count] = end;
      count += 1;
      continue;
    }
    mergedRows += 1;
    // An opening without an end lasted until the end of the one that overlaps it.
    toMs[count - 1] = last === Number.POSITIVE_INFINITY ? end : Math.max(last, end);
  }
  const openings = { fromMs: fromMs.slice(0, count), toMs: toMs.slice(0, count) };
  return { openings, mergedRows, emptyOpenings: intake.emptyOpenings, unavailable: noSpans };
}

function sortedColumns({ atMs, other, unsorted }: Intake): readonly [Float64Array, Float64Array] {
  const times = atMs.values();
  const values = other.values();
  if (!unsorted) return [times, values];
  const order = Uint32Array.from(times, (_, index) => index).sort((a, b) => {
    const byTime = (times[a] ?? 0) - (times[b] ?? 0);
    return byTime === 0 ? a - b : byTime;
  });
  const sorted = (column: Float64Array): Float64Array =>
    Float64Array.from(order, (row) => column[row] ?? 0);
  return [sorted(times), sorted(values)];
}
