// Estimate: how often a watch misses, is late or raises a false alarm in a year, from many drawn years, with exact
// intervals. It refuses to know how a year is drawn, and on which core it is run.
export {
  type Agreement,
  type AgreementName,
  type AgreementRow,
  agreementAt,
  agreementConfidence,
  agreementIntervalsMs,
  agreementNames,
  type Compared,
} from './agreement.js';
export { binSpan } from './delays.js';
export { yearsOfResample } from './doubt.js';
export {
  type DelayPercentile,
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
  type Evidence,
  isTooShort,
  lacksLeaveOpens,
  leaveOpensIn,
  longerLog,
  rarestShown,
  withEvidence,
} from './evidence.js';
export {
  countInterval,
  type Estimated,
  estimatedRate,
  estimatedShare,
  type Interval,
  shareInterval,
} from './intervals.js';
export { type DailyOpenings, type OpeningsAgreement, openingsAgreement } from './openings.js';
export { type OverPhases, overPhases } from './phases.js';
export {
  addYear,
  countNames,
  decidedNames,
  type EventName,
  emptyTally,
  eventNames,
  join,
  type Tally,
  type YearlyName,
  type YearsByCount,
  yearlyNames,
} from './tally.js';
export { type WeightedSum, weightedRate } from './weighted.js';
export { tallyYears, type YearSource } from './years.js';
