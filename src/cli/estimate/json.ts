// What `estimate --json` and `merge --json` print.
import type { EstimateView } from './view.js';

const estimateSchema = 'dozewatch/estimate/1';

/** Digits that every engine agrees on: quantiles come from logarithms, whose last digit may differ. */
const sureDigits = 9;

export function estimateJson({ head, log, estimate, stoppedBy }: EstimateView): string {
  const { rates, shares, delays, ...rest } = estimate;
  const whole = { schema: estimateSchema, ...head, log, stoppedBy, ...rest, rates, shares, delays };
  return `${JSON.stringify(whole, rounded, 2)}\n`;
}

function rounded(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isInteger(value)
    ? Number(value.toPrecision(sureDigits))
    : value;
}
