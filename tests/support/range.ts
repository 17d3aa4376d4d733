/** The whole numbers from `least` up to, not including, `end`. */
export function range(least: number, end: number): number[] {
  return Array.from({ length: Math.max(0, end - least) }, (_, index) => least + index);
}
