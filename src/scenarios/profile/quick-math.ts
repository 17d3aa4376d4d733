// Logarithm and exponential for draws by the million: from + − × ÷ alone, as the portable ones are, but a short
// polynomial around the nearest entry of a table that the portable ones filled.
import { cellAt } from '../../base/index.js';
import { exponential, logarithm } from './portable-math.js';

const logStepBits = 7;
const logSteps = 2 ** logStepBits;
const logReciprocals = Float64Array.from(
  { length: logSteps },
  (_, at) => 1 / (1 + (at + 0.5) / logSteps),
);
const logsOfCentres = logReciprocals.map((reciprocal) => -logarithm(reciprocal));

const ln2 = logarithm(2);
const expSteps = 64;
const stepsPerUnit = expSteps / ln2;
const unitsPerStep = ln2 / expSteps;
const expsOfSteps = Float64Array.from({ length: expSteps }, (_, at) =>
  exponential(at * unitsPerStep),
);
/** Powers of two from −64 to 64. */
const mostHalvings = 64;
const powersOfTwo = Float64Array.from(
  { length: 2 * mostHalvings + 1 },
  (_, at) => 2 ** (at - mostHalvings),
);

// A double seen as its two halves, the upper of which holds the exponent and the leading bits of the mantissa.
const double = Float64Array.of(1);
const halves = new Uint32Array(double.buffer);
const upper = halves[1] === 0 ? 0 : 1;
const exponentOfOne = 0x3ff;
const mantissaBits = 20;
const mantissaMask = 0xfffff;

/** ln x for 2⁻⁶⁴ ≤ x ≤ 1; absolute error below 1e-14. */
export function quickLogarithm(x: number): number {
  double[0] = x;
  const bits = halves[upper] ?? 0;
  const halvings = exponentOfOne - (bits >>> mantissaBits);
  const at = (bits & mantissaMask) >>> (mantissaBits - logStepBits);
  const mantissa = x * cellAt(powersOfTwo, halvings + mostHalvings);
  const r = mantissa * cellAt(logReciprocals, at) - 1;
  const square = r * r;
  const series =
    r - square * (1 / 2 - r * (1 / 3) + square * (1 / 4 - r * (1 / 5) + square * (1 / 6)));
  return cellAt(logsOfCentres, at) + series - halvings * ln2;
}

/** eˣ for |x| up to 40; relative error below 1e-13. */
export function quickExponential(x: number): number {
  const steps = Math.round(x * stepsPerUnit);
  const r = x - steps * unitsPerStep;
  const series =
    1 + r * (1 + r * (1 / 2 + r * (1 / 6 + r * (1 / 24 + r * (1 / 120 + r * (1 / 720))))));
  const halvings = Math.floor(steps / expSteps);
  const at = steps - halvings * expSteps;
  return cellAt(expsOfSteps, at) * series * cellAt(powersOfTwo, halvings + mostHalvings);
}
