// Estimate: how often a watch misses, is late or cries for nothing in a year, from many drawn years, with exact
// intervals. It refuses to know how a year is drawn, and on which core it is run.
export { binSpan } from './delays.js';
export {
  type DelaySpread,
  type Estimate,
  estimateOf,
  type PrecisionName,
  precisionNames,
  type Rate,
  relativePrecision,
  type Share,
} from './estimate.js';
export {
  countInterval,
  type Estimated,
  estimatedRate,
  estimatedShare,
  type Interval,
  shareInterval,
} from './intervals.js';
export {
  addYear,
  countNames,
  type EventName,
  emptyTally,
  eventNames,
  join,
  type Tally,
} from './tally.js';
export { tallyYears, type YearSource } from './years.js';
