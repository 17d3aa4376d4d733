// Verify: the rules that a watch and its environment are bound by, and whether a certificate follows from them. It steps
// the statechart itself and does its own arithmetic. It refuses to know how anybody searched for the bounds.
export { checksumOf } from './checksum.js';
export { comesTo } from './course.js';
export {
  type CertifiedBounds,
  type Course as CertifiedCourse,
  type Courses as CertifiedCourses,
  certificateSchema,
} from './format.js';
export { type Refusal } from './refusal.js';
export {
  deviceOf,
  type Environment as CertifiedEnvironment,
  type Rules,
  rulesOf,
} from './rules.js';
export { type CertifiedWatch, type Verdict, verifyCertificate } from './verify.js';
export { type Proofs, writeProofs } from './write.js';
