// Faulty: watches with one small mistake each, made from a sound one, for asking whether scenarios, hunts and bounds
// would notice. It refuses to know of scenarios and verdicts.

export { behavesAlike } from './alike.js';
export { mutants } from './catalogue/index.js';
export type { Mutant } from './mutant.js';
export { type MutantProgram, mutantProgram, mutantPrograms } from './programs.js';
export {
  type Scene,
  type SceneExpectation,
  type SceneKind,
  type SceneName,
  scenes,
} from './scenes.js';
