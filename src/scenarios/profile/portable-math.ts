// Logarithm and exponential from + − × ÷ alone, which IEEE 754 rounds alike everywhere. The engine's own may
// differ in their last digit, and here a last digit decides which opening comes first.

const ln2 = 0.6931471805599453;

/** eˣ for |x| up to 700; relative error below 1e-14. */
export function exponential(x: number): number {
  const halvings = Math.round(x / ln2);
  const rest = x - halvings * ln2;
  let term = 1;
  let sum = 1;
  for (let n = 1; n <= 20; n += 1) {
    term = (term * rest) / n;
    sum += term;
  }
  const factor = halvings < 0 ? 0.5 : 2;
  for (let step = 0; step < Math.abs(halvings); step += 1) sum *= factor;
  return sum;
}

/** ln x for x > 0; absolute error below 1e-14 near 1. */
export function logarithm(x: number): number {
  let mantissa = x;
  let doublings = 0;
  while (mantissa >= 1.5) {
    mantissa /= 2;
    doublings += 1;
  }
  while (mantissa < 0.75) {
    mantissa *= 2;
    doublings -= 1;
  }
  // ln m = 2 artanh((m − 1) / (m + 1)), whose argument is at most 1/5.
  const ratio = (mantissa - 1) / (mantissa + 1);
  const square = ratio * ratio;
  let power = ratio;
  let sum = 0;
  for (let n = 1; n <= 27; n += 2) {
    sum += power / n;
    power *= square;
  }
  return 2 * sum + doublings * ln2;
}
