// Tests of goodness of fit, for numbers drawn at random. Each returns a p-value; probabilities of the reference
// distributions come from Cephes (S. Moshier, netlib).
// Pearson, Phil. Mag. 50 (1900) 157: chi-square. Kolmogorov 1933, with the correction for samples of limited size of
// Stephens, J. R. Stat. Soc. B 32 (1970) 115. Serial tests: Knuth, The Art of Computer Programming 2, 3.3.2. All from memory.
import cephes from 'cephes';

await cephes.compiled;

/** How often something happened, and how often it should have. */
export interface Cell {
  readonly seen: number;
  readonly expected: number;
}

/** The fewest to expect in a cell, for chi-square to be near its distribution. */
const fewest = 8;

/** Chi-square of counts against what to expect; cells of which too little is to be expected join the next one. */
export function chiSquareP(cells: readonly Cell[]): number {
  const joined: Cell[] = [];
  let [seen, expected] = [0, 0];
  for (const cell of cells) {
    seen += cell.seen;
    expected += cell.expected;
    if (expected < fewest) continue;
    joined.push({ seen, expected });
    [seen, expected] = [0, 0];
  }
  const last = joined.pop();
  if (last === undefined || joined.length === 0) throw new Error('too little to compare');
  joined.push({ seen: last.seen + seen, expected: last.expected + expected });
  const sum = joined.reduce((so, cell) => so + (cell.seen - cell.expected) ** 2 / cell.expected, 0);
  return cephes.chdtrc(joined.length - 1, sum);
}

/** Counts 0, 1, 2 … against a probability for each; the last cell takes everything from there on. */
export function countsP(counts: readonly number[], probabilityOf: (count: number) => number) {
  const most = Math.max(...counts);
  const cells: Cell[] = [];
  let left = 1;
  for (let count = 0; count <= most; count += 1) {
    const probability = probabilityOf(count);
    left -= probability;
    const seen = counts.filter((one) => one === count).length;
    cells.push({ seen, expected: probability * counts.length });
  }
  return chiSquareP([...cells, { seen: 0, expected: left * counts.length }]);
}

export function poissonP(counts: readonly number[], mean: number): number {
  return countsP(counts, (count) =>
    Math.exp(count * Math.log(mean) - mean - cephes.lgam(count + 1)),
  );
}

/** Kolmogorov–Smirnov of a sample against a distribution whose parameters are known. */
export function kolmogorovP(
  sample: readonly number[],
  distribution: (x: number) => number,
): number {
  const n = sample.length;
  const sorted = [...sample].sort((a, b) => a - b);
  let distance = 0;
  sorted.forEach((x, index) => {
    const at = distribution(x);
    distance = Math.max(distance, at - index / n, (index + 1) / n - at);
  });
  return cephes.kolmogorov((Math.sqrt(n) + 0.12 + 0.11 / Math.sqrt(n)) * distance);
}

export const uniform = (x: number): number => Math.min(1, Math.max(0, x));
export const exponentialOf = (mean: number) => (x: number) => -Math.expm1(-x / mean);
export const lognormalOf = (median: number, sigma: number) => (x: number) =>
  cephes.ndtr(Math.log(x / median) / sigma);

/** Correlation of numbers that should be uniform in [0, 1) with those `lag` later. Two-sided. */
export function serialP(numbers: readonly number[], lag: number): number {
  const pairs = numbers.slice(lag).map((x, index) => (x - 0.5) * ((numbers[index] ?? 0) - 0.5));
  const sum = pairs.reduce((so, product) => so + product, 0);
  // A product of two centred uniforms has variance 1/144.
  const z = (sum * 12) / Math.sqrt(pairs.length);
  return cephes.erfc(Math.abs(z) / Math.SQRT2);
}

/** Steps from each number to the one `lag` later, mod 1: uniform too, and all alike in an arithmetic progression. */
export function stepsP(numbers: readonly number[], lag: number): number {
  const steps = numbers.slice(lag).map((x, index) => {
    const step = x - (numbers[index] ?? 0);
    return step < 0 ? step + 1 : step;
  });
  return kolmogorovP(steps, uniform);
}

/** Pairs of neighbours on a grid: Knuth's serial test, over pairs that do not overlap. */
export function pairsP(numbers: readonly number[], side = 12): number {
  const cells = new Map<number, number>();
  const pairs = Math.floor(numbers.length / 2);
  for (let index = 0; index < pairs; index += 1) {
    const [x = 0, y = 0] = numbers.slice(2 * index, 2 * index + 2);
    const cell = Math.floor(x * side) * side + Math.floor(y * side);
    cells.set(cell, (cells.get(cell) ?? 0) + 1);
  }
  return chiSquareP(
    Array.from({ length: side * side }, (_, cell) => ({
      seen: cells.get(cell) ?? 0,
      expected: pairs / side ** 2,
    })),
  );
}

/**
 * Neither a fit that chance would hardly make so bad, nor one that it would hardly make so good: numbers at equal steps
 * are too even.
 */
export function plausible(p: number): boolean {
  return p > 2e-4 && p < 1 - 2e-4;
}
