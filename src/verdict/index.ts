// Verdict: did the watch keep its promise. It compares a trace with the truth and says why where it did not.
// It refuses to know how the trace came about.

export { type Explanation, explain, explainAlertWhole, type Wanted } from './explain/index.js';
export { type JudgedTrace, judge, openAtEnd } from './judge.js';
export type {
  AlertKind,
  JudgedAlert,
  JudgedOpening,
  JudgedOpenings,
  OpeningOutcome,
  Summary,
  Verdict,
} from './judgement.js';
export { type KnownOpening, knownOpenings, type SeenDoor, seenMsOf } from './known.js';
export { type Doubt, doubtfulOpenings } from './unknown.js';
