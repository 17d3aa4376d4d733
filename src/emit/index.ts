// Emit: a watch's logic in other languages, written from the compiled statechart. It refuses to decide anything of
// its own, and to touch files.
export { type Automaton, type AutomatonState, automatonOf, type Reaction } from './automaton.js';
export { cFiles, type EmittedFile, isCName, mostCStates } from './c/files.js';
export { cBanner } from './c/header.js';
