// Verify: the rules that a watch and its environment are bound by, and whether a certificate follows from them. It steps
// the statechart itself and does its own arithmetic. It refuses to know how anybody searched for the bounds.
export { sealed } from './checksum.js';
export { type Goal, refuseCourse } from './course.js';
export { easedFor } from './eased.js';
export {
  type Certificate,
  type CertifiedBounds,
  type Course as CertifiedCourse,
  type Courses as CertifiedCourses,
  certificateSchema,
  courseNames,
  type Environment as CertifiedEnvironment,
  type Proof,
  type StateRow,
  type Task,
} from './format.js';
export { type Extremes, holds, note } from './proof.js';
export { RefusedError } from './refusal.js';
export { rowOf } from './row.js';
export { type Rules, rulesOf, timesOf } from './rules.js';
export { after, firstOf, type Outcome, type Spot } from './steps.js';
export {
  boundsFrom,
  type CertifiedWatch,
  goalsOf,
  tasks,
  type Verdict,
  verifyCertificate,
} from './verify.js';
export { spanOf } from './zone.js';
