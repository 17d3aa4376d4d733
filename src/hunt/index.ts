// Hunt: looks for a timeline that breaks a promise, and makes it as small and round as it can. Timelines are built
// around what the device is about to do. It refuses to know of files and clocks: how long to go on is for others to say.
// Users import it as `dozewatch/arbitraries`.
export {
  type Adversity,
  type AdversityKind,
  adversityKinds,
  calm,
  withUsual,
} from './adversity.js';
export {
  doorOpenings,
  doorTimelines,
  instants,
  lengths,
  networkOutages,
  powerCuts,
  resets,
  type TimelineShape,
} from './arbitraries.js';
export { deviceProperties } from './properties/device.js';
export { judgedProperties, type NamedProperty, namedProperties } from './properties/index.js';
export { alikeProperty, summaryOf } from './properties/unlike.js';
export type { Breach, HuntQuestion, Played, Property, Ran } from './question.js';
export { type Rhythm, rhythmOf } from './rhythm.js';
export { breachOf, played, runTrial } from './run-trial.js';
export { type Finding, type HuntOptions, type HuntResult, hunt } from './search.js';
export { unlessTheMachine } from './settings-doing.js';
export { type Trial, trialSeed } from './trial.js';
export { trials } from './trials.js';
