// Drill: a test of the real device by hand. Steps at the door whose messages are the same for every device within its
// ranges and every person within the tolerance, chosen so that mistakes show. It refuses to touch files.

export type { Column, Cover, LeastCover } from './cover.js';
export { type Diagnosis, diagnosed } from './diagnosis.js';
export { drillOf } from './drill.js';
export { longToName } from './long.js';
export {
  type Action,
  type BoundSide,
  type Drill,
  type DrillProgress,
  type DrillQuestion,
  type Exercised,
  type LongSteps,
  type Step,
  type StepKind,
  stepKinds,
  type Window,
} from './plan.js';
export {
  parseDrillRecord,
  resultsOf,
  type Seen,
  type StepResult,
  seenInDeviceLog,
} from './record.js';
export { type Wrong, wrongs } from './wrongs.js';
