// Place: where the magnet goes. From trials with a ruler or shims come the gaps at which the contact shuts and opens, each with
// an interval, and what that means for a door that sticks; and from readings the current asleep. It knows no files and no timelines.

export { type CurrentReadings, parseCurrentReadings } from './current-readings.js';
export { type GapEstimate, gapOf, oddRows } from './gap.js';
export { type Placement, placementOf, type StickVerdict, stickOf } from './placement.js';
export {
  type CurrentEstimate,
  type SleepCurrent,
  sleepCurrentOf,
  type VoltageDoubt,
} from './sleep-current.js';
export { type Direction, parseTrials, type Trial, type Trials } from './trials.js';
