// Logarithm and exponential for draws by the million: from + − × ÷ alone, as the portable ones are, but a short
// polynomial around the nearest entry of a table that the portable ones filled.
import { cellAt } from '../../base/index.js';
import { exponential, logarithm } from './portable-math.js';

const logSteps = 128;
const logCentres = Float64Array.from({ length: logSteps }, (_, at) => 1 + (at + 0.5) / logSteps);
const logsOfCentres = logCentres.map(logarithm);

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

/** ln x for 0 < x ≤ 1; absolute error below 1e-14. */
export function quickLogarithm(x: number): number {
  let mantissa = x;
  let halvings = 0;
  while (mantissa < 1) {
    mantissa *= 2;
    halvings += 1;
  }
  const at = Math.min(logSteps - 1, Math.floor((mantissa - 1) * logSteps));
  const r = mantissa / cellAt(logCentres, at) - 1;
  const series = r * (1 - r * (1 / 2 - r * (1 / 3 - r * (1 / 4 - r * (1 / 5 - r / 6)))));
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
