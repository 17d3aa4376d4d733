// Battery: what a watch takes from its charge, activity by activity, and how long the charge lasts. It refuses to
// simulate: a use comes from a run's trace, or in closed form from the settings of a watch on a quiet door.

export { nahOf } from './amounts.js';
export {
  type BatteryAnswer,
  type BatteryQuestion,
  batteryAnswer,
  type CalibrationAnswer,
  type ContactCost,
  calibrationOf,
  type HeartbeatLife,
  type IntervalLife,
  intervalLives,
  type LifeRange,
  type NamedUse,
  type WiringLife,
} from './answer.js';
export {
  asMeasured,
  type Calibration,
  calibrate,
  extremesOf,
  type LifeWithUse,
  separate,
} from './calibrate.js';
export {
  type CostPart,
  costOf,
  isFlatBeforeEnd,
  isTooShort,
  type LivesOfCells,
  type PoweredCost,
  poweredCost,
  type UseCost,
} from './cost.js';
export { lastsAtMs, lifeMs } from './life.js';
export { quietUse } from './quiet.js';
export { type Activity, meanNa, type Spending, type SpendingPart, spend } from './spending.js';
export {
  type Acts,
  contactShutMsIn,
  msBeforePowerOn,
  poweredShutMs,
  type Use,
  useOf,
} from './use.js';
export {
  type LowBattery,
  lowBattery,
  type NamedSpending,
  type SetWarning,
  setWarning,
  silentForAtMostMs,
  warningMs,
} from './warning.js';
export {
  chargeText,
  currentText,
  lastsText,
  lifeRangeText,
  lifeText,
  shareText,
  usableText,
  warningPercent,
} from './words.js';
