// Verify: the rules that a watch and its environment are bound by, and whether a certificate follows from them. It steps
// the statechart itself and does its own arithmetic. It refuses to know how anybody searched for the bounds.
export { sealed } from './checksum.js';
export { easedFor } from './eased.js';
export {
  type Certificate,
  type CertifiedBounds,
  certificateSchema,
  type Environment as CertifiedEnvironment,
  notReachedIn,
  type Proof,
  type Run as CertifiedRun,
  type StateRow,
  sizeOf,
  type Task,
  type TaskName,
  taskNames,
  tasks,
} from './format.js';
export { type Extremes, holds, noExtremes, note } from './proof.js';
export { type Refusal, RefusedError } from './refusal.js';
export { rowOf } from './row.js';
export { type Rules, rulesOf, timesOf } from './rules.js';
export { after, firstOf, isOpen, type Outcome, type Spot } from './steps.js';
export {
  boundsFrom,
  type CertifiedWatch,
  type Verdict,
  verifyCertificate,
} from './verify.js';
export { spanOf } from './zone.js';
