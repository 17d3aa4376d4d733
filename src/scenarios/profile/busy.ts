// A door as far as its gaps are known: openings, and spans of which nothing is known in place of what they hide. A gap that such a
// span ends is cut off there, and what begins in one began nobody knows when.
import { cellAt } from '../../base/index.js';
import { type KnownOpening, type SeenDoor } from '../../verdict/index.js';
import { noSpans, type Spans } from '../../world/index.js';

/** Times in which no opening could be seen to begin, ascending. */
export interface BusyTimes {
  readonly spans: Spans;
  /** 1: it begins with an opening whose beginning was seen. */
  readonly isBegun: Uint8Array;
  /** 1: it is one opening, all of it seen. */
  readonly isWhole: Uint8Array;
}

/** @param knownAt what is known of an opening, by its index. */
export function busyTimes(
  { openings, unseen = noSpans }: SeenDoor,
  knownAt: (index: number) => Pick<KnownOpening, 'isStartSeen' | 'isWhole'>,
): BusyTimes {
  const count = openings.fromMs.length;
  if (unseen.fromMs.length === 0) {
    const isWhole = Uint8Array.from({ length: count }, (_, index) =>
      Number(knownAt(index).isWhole),
    );
    return { spans: openings, isBegun: new Uint8Array(count).fill(1), isWhole };
  }
  const from: number[] = [];
  const to: number[] = [];
  const isBegun: number[] = [];
  const isWhole: number[] = [];
  const add = (fromMs: number, toMs: number, begun: number, whole: number): void => {
    from.push(fromMs);
    to.push(toMs);
    isBegun.push(begun);
    isWhole.push(whole);
  };
  let span = 0;
  const spanFromMs = (): number => unseen.fromMs[span] ?? Number.POSITIVE_INFINITY;
  for (let index = 0; index < count; index += 1) {
    const [fromMs, openToMs] = [cellAt(openings.fromMs, index), cellAt(openings.toMs, index)];
    for (; cellOr(unseen.toMs, span) < fromMs; span += 1) {
      add(spanFromMs(), cellAt(unseen.toMs, span), 0, 0);
    }
    const { isStartSeen, isWhole: whole } = knownAt(index);
    // A span that touches the opening is a part of it.
    const startMs = isStartSeen ? fromMs : Math.min(fromMs, spanFromMs());
    let toMs = openToMs;
    for (; spanFromMs() < toMs; span += 1) {
      toMs = Math.max(toMs, cellAt(unseen.toMs, span));
    }
    add(startMs, toMs, Number(isStartSeen), Number(whole));
  }
  for (; span < unseen.fromMs.length; span += 1) add(spanFromMs(), cellAt(unseen.toMs, span), 0, 0);
  return {
    spans: { fromMs: Float64Array.from(from), toMs: Float64Array.from(to) },
    isBegun: Uint8Array.from(isBegun),
    isWhole: Uint8Array.from(isWhole),
  };
}

function cellOr(cells: Float64Array, index: number): number {
  return cells[index] ?? Number.POSITIVE_INFINITY;
}
