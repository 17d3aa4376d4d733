// Visits: which states and transitions of a watch's logic runs have visited, and which never. It refuses to know
// what the runs were for.
export {
  type Coverage,
  type CoverageItem,
  coverageOf,
  type TransitionItem,
  type TransitionKind,
} from './coverage.js';
export { inputsOf, noVisits, type Visits, visit } from './walk.js';
export { inputText, stateText } from './words.js';
