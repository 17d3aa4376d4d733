// Bounds: what a watch does in the worst case, whatever the door does. Exhaustive search over the states of the
// compiled logic at its checks, with the door and the environment as adversaries, and runs that show each number.
// It refuses to sample.

export { gapsOf } from './advice/blind-band.js';
export {
  type FalseAlarmsPerYear,
  priceClauses,
  repeatsClause,
  repeatsEveryMs,
} from './advice/prices.js';
export { type Demanded, type Obstacle, obstacleOf } from './advice/remedies.js';
export type {
  Aliasing,
  AtRestAndAnyState,
  BlindBandMm,
  BoundName,
  Bounds,
  Change,
  Curve,
  Finding,
  GapBandMm,
  Gaps,
  Holds,
  HoldsAtRestAndAnyState,
  NowAndThen,
  Price,
  Remedy,
  RunWorld,
  SafeLimit,
  Unknown,
  Unreportable,
  Witness,
} from './answer.js';
export { type BounceMargins, bounceMarginsOf, quietInSpiteOf } from './bounce.js';
export {
  type DetectionBounds,
  decidedFromMs,
  detectionBounds,
  longestMs,
  modelOf,
  searched,
  searchesFor,
  sureFromMs,
} from './bounds.js';
export { boundsOf } from './bounds-of.js';
export { beyondCertificates, type Certified, certificateText } from './certificate/certificate.js';
export { type SmallerProof, smallerProof } from './certificate/smaller.js';
export { longestCheckGapMs } from './check-gap.js';
export { valueAt } from './curves/envelope.js';
export type { Known } from './holds.js';
export { type LengthBounds, lengthBoundsOf } from './length-bounds.js';
export { type Proved, type ProvedRequirements, provedFrom, provedOf } from './proved.js';
export { type BoundsQuestion, questionOf, type WatchFileParts } from './question.js';
export { runWorld } from './run-world.js';
export { type Found, type SearchOptions, type SearchResult, search } from './search.js';
export { type Times, timesOf } from './times.js';
export type { Model, Moment } from './track.js';
export { TooManyStatesError } from './visited.js';
export { type Run, runOf } from './witness.js';
