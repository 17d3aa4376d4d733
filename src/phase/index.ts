// Phase: a timeline judged at every phase of the checks, exactly. A log meets the device's checks at one phase, by chance; here the
// device powers on at each millisecond of one period. It refuses to sample, and it does not know how its results are shown.
export type { EveryPhaseOptions } from './every-phase.js';
export { everyPhase, hasRanges } from './over-ranges.js';
export { type PhaseLength, phaseLengthOf } from './phase-length.js';
export type { EveryPhase, OpeningAtEveryPhase, PhaseSummary } from './tally.js';
