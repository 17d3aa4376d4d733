// Model: what everything else is about. The times a device may take, with the temperature curve of its clock, and what may
// go wrong around it. It runs nothing and proves nothing.
export { defaults } from './defaults.js';
export { calmEnvironment, type Environment } from './environment.js';
export {
  attemptLimits,
  bounceLimits,
  checkLimits,
  clockErrorLimits,
  faultLimits,
  gapLimits,
  heartbeatLimits,
  isCompilable,
  isWithin,
  type Limits,
  lengthLimits,
  monthMs,
  mostAttempts,
  sleepLimits,
  stretchLimits,
  workLimits,
} from './limits.js';
export { isOverByNextCheck, leastToDecideMs } from './soonest.js';
export type {
  ActivityDraw,
  ContactBias,
  MeasuredLife,
  SelfDischarge,
  SupplySettings,
  VoltagePoint,
} from './supply.js';
export {
  type Basis,
  exampleLife,
  exampleSupply,
  type PresetNumber,
  presetNumbers,
  renamedPresets,
  type SupplyPreset,
  supplyPresetNames,
  supplyPresets,
} from './supply-presets.js';
export {
  type ClockErrorRange,
  clockErrorsOf,
  errorAt,
  linearAt,
  type NominalSleeps,
  type PpmRange,
  type RangeMs,
  roomCelsius,
  type SleepRange,
  sleepOf,
  sleepsOf,
  type TemperaturePoint,
  type TimingRanges,
  timerMs,
} from './timing.js';
