// Faulty: watches with one small mistake each, made from a sound one, for asking whether scenarios, hunts and bounds
// would notice. It refuses to know of scenarios and verdicts.

export { behavesAlike } from './alike.js';
export { faultyWatches } from './catalogue/index.js';
export type { FaultyWatch } from './faulty-watch.js';
export { type FaultyProgram, faultyProgram, faultyPrograms } from './programs.js';
