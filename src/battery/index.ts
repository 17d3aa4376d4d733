// Battery: what a watch takes from its charge, activity by activity, and how long the charge lasts. It refuses to
// simulate: a use comes from a run's trace, or in closed form from the settings of a watch on a quiet door.
export { type Calibration, calibrate, type MeasuredLife } from './calibrate.js';
export { availablePc, lastsAtMs, lifeMs } from './life.js';
export {
  type Basis,
  type PresetNumber,
  presetNumbers,
  type SupplyPreset,
  supplyPresetNames,
  supplyPresets,
} from './presets.js';
export { quietUse } from './quiet.js';
export {
  type Activity,
  contactSpending,
  holdNa,
  meanNa,
  type Spending,
  type SpendingPart,
  spend,
} from './spending.js';
export {
  type ActivityDraw,
  biasNa,
  type ContactBias,
  nahOf,
  type SelfDischarge,
  type SupplySettings,
  type VoltagePoint,
} from './supply.js';
export { type Acts, type Use, useOf } from './use.js';
export {
  type LowBattery,
  lowBattery,
  sharePpm,
  silentForAtMostMs,
  warningMs,
} from './warning.js';
