// Tune: which settings are worth choosing between, and which one meets the requirements and lasts longest. Bounds are
// proved, lives and false alarms come from drawn years. It refuses to know how years are drawn and who runs them.
export { boundsMissed, type TuneAnswer, type Weighing, weigh } from './answer.js';
export { keepsAtRest, unmetAtRest } from './at-rest.js';
export { choose, type Preference, preferences, stepsOf } from './choose.js';
export { beats, type FrontPoint } from './front.js';
export { type Axes, changesFrom, gridOf, type Tuned, tunedOf, watchWith } from './grid.js';
export {
  type Lived,
  liveThrough,
  type Weighed,
  type WeighedName,
  weighedNames,
  whatYearsSay,
  type YearsBy,
  type YearsSay,
} from './live.js';
export { type Proved, prover, tunedQuestion } from './prove.js';
export { type Programs, programsOf, type TuneQuestion, tuneQuestionOf } from './question.js';
export {
  easier,
  type Relaxation,
  type RequirementName,
  type Shortfall,
  sameFailure,
  shortfallsOf,
  type TuneRequirements,
} from './requirements.js';
export { costsOf, type RestRequirements, type Trial } from './trial.js';
