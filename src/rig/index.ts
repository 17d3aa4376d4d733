// Rig: the owner's firmware in virtual time, the pure half. A timeline becomes the numbers that the rig's host reads,
// the numbers that it writes become a trace like the simulator's, and two traces are compared. It
// refuses to know how the host is compiled and run.

export { fullMvOf } from './charge.js';
export { conformance, type Difference, type Side } from './conform.js';
export { drainedRun } from './drained-run.js';
export { type Ask, rigNumbers } from './encode.js';
export { explainRun } from './explain.js';
export { earlyFailure, type Failure, type FailureKind, failureWords } from './failure.js';
export { sendsByWake } from './folded.js';
export { openReply, type Reply, type ReplyReader, type RigWake } from './reply.js';
export {
  hexOf,
  partsOf,
  type Reading,
  readingOf,
  readingText,
} from './retained/readings.js';
export {
  heapHolders,
  longOnes,
  retainedVariables,
  type Variable,
  wordBitsOf,
} from './retained/variables.js';
export { type RigRun, rigRun } from './run.js';
