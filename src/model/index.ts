// Model: what everything else is about. The table of settings with their limits, the times a device may take, with the
// temperature curve of its clock, its supply, and what may go wrong around it. It runs nothing and proves nothing.

export {
  type AnswerDelay,
  type AnswerSettings,
  answerAfterMs,
  type DeliverySettings,
} from './answer.js';
export {
  type Cell,
  type CellName,
  cellCapacityNah,
  cellNamed,
  cellNames,
  cellTolerancePpm,
  coldRule,
} from './cells.js';
export {
  type ActPrice,
  actPrice,
  availablePc,
  biasNa,
  type ChargePlan,
  type ChargingHabit,
  firstDayPc,
  holdNa,
  pcPerNah,
  selfDischargeMonthMs,
} from './charge.js';
export { calmEnvironment, type Environment } from './environment.js';
export {
  actChargeLimits,
  bounceLimits,
  capacityLimits,
  celsiusLimits,
  checkLimits,
  clockErrorLimits,
  currentLimits,
  faultLimits,
  gapLimits,
  isCompilable,
  isWithin,
  type Limits,
  lengthLimits,
  monthMs,
  mostAttempts,
  mostCurvePoints,
  mostLevels,
  mostMarks,
  shareLimits,
  sleepLimits,
  stretchLimits,
  voltageLimits,
  workLimits,
} from './limits.js';
export {
  mostChatterDraws,
  mostContactEdges,
  mostDeviceLogRows,
  mostDigits,
  mostDrawn,
  mostEntries,
  mostEstimatedYears,
  mostFileCharacters,
  mostHuntedRuns,
  mostInTurn,
  mostJobs,
  mostMishapsAYear,
  mostOpeningsADay,
  mostOpeningsAnHour,
  mostQuantityCharacters,
  mostReadings,
  mostShards,
  mostTunedYears,
} from './limits-inputs.js';
export {
  mostAliasingStates,
  mostCertifiedStates,
  mostCourseTries,
  mostDrillStates,
  mostFindingStates,
  mostNearbyStates,
  mostOtherStates,
  mostPagePhaseSteps,
  mostPhaseSteps,
  mostRemedyStates,
  mostReplayStates,
  mostSearchedStates,
  mostShrinks,
  mostSimplified,
  mostTableStates,
  mostTimedStates,
  mostTunedSettings,
  mostTunedValues,
  mostTuneStates,
  mostWakesOfRun,
} from './limits-searches.js';
export { normal } from './normal.js';
export type { Requirements } from './requirements.js';
export {
  type PossibleResets,
  possibleResets,
  type ResetKind,
  type ResetMemory,
  resetKinds,
  unknownResets,
} from './resets.js';
export { type Settings, settings } from './settings.js';
export {
  type Filled,
  type Given,
  type Heading,
  headings,
  type Kind,
  type Row,
  type Section,
  type ValueOf,
  type ValueOfKind,
} from './settings-kinds.js';
export { type Relation, relations } from './settings-relations.js';
export { allSettings, type Setting, settingAt, settingOf } from './settings-walk.js';
export { isOverByNextCheck, leastToDecideMs } from './soonest.js';
export type {
  ActivityDraw,
  BoughtCells,
  ContactBias,
  MeasuredLife,
  Regulator,
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
  longestSleepMs,
  type NominalSleeps,
  nominalSleeps,
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
