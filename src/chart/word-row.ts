// A row of words that must not touch each other.

/** Hands out room on one line, first come, first served. */
export interface WordRow {
  /** The first of these left edges at which words of this width have room, or null: they have none. */
  place(edges: readonly number[], width: number): number | null;
  /** Room that something else takes. */
  block(fromX: number, toX: number): void;
}

const gapPx = 4;

export function wordRow(minX: number, maxX: number): WordRow {
  const taken: [number, number][] = [];
  const isFree = (fromX: number, toX: number): boolean =>
    fromX >= minX &&
    toX <= maxX &&
    taken.every(([from, to]) => toX + gapPx <= from || fromX >= to + gapPx);
  const block = (fromX: number, toX: number): void => {
    taken.push([fromX, toX]);
  };
  return {
    block,
    place(edges, width) {
      const fromX = edges.find((edge) => isFree(edge, edge + width));
      if (fromX === undefined) return null;
      block(fromX, fromX + width);
      return fromX;
    },
  };
}
