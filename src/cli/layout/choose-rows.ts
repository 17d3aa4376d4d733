// Which rows of a long table are shown: every bad one that fits, then others, in their own order.

/** @returns ascending indices from `indices`, at most `most` of them, bad ones before others where not all fit. */
export function chosenRows(
  indices: readonly number[],
  isBad: (index: number) => boolean,
  most: number,
): readonly number[] {
  if (indices.length <= most) return indices;
  const chosen: number[] = [];
  for (const bad of [true, false]) {
    for (const index of indices) {
      if (chosen.length >= most) break;
      if (isBad(index) === bad) chosen.push(index);
    }
  }
  return chosen.sort((a, b) => a - b);
}

export interface ReportStyle {
  readonly width: number;
  /** The most rows of a table. */
  readonly rows: number;
}
