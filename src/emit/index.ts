// Emit: a watch's logic in other languages, written from the compiled statechart. It refuses to decide anything of
// its own, and to touch files.
export { type Automaton, type AutomatonState, automatonOf, type Reaction } from './automaton.js';
export { writtenBy } from './banner.js';
export { cFiles, type EmittedFile, isCName, mostCStates } from './c/files.js';
export { mermaidText } from './mermaid.js';
export { type Outline, type OutlineState, outlineOf } from './outline.js';
export type { OutlineKind } from './outline-words.js';
export { scxmlEvent, scxmlSends, scxmlText } from './scxml.js';
