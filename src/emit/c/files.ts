// A watch as C99: a header, a source, and an example of how firmware uses them.
import type { Program } from '../../sim/index.js';
import { automatonOf } from '../automaton.js';
import { headerText } from './header.js';
import { rigText } from './rig.js';
import { sourceText } from './source.js';
import type { CSubject } from './subject.js';

export interface EmittedFile {
  readonly name: string;
  readonly text: string;
}

/** The most states that the tables can number. */
export const mostCStates = 65_535;

/** Whether a text can stand in front of C names. */
export function isCName(text: string): boolean {
  return /^[a-z][a-z0-9_]{0,30}$/u.test(text);
}

/** The files, or null when there are more states than `mostCStates`. */
export function cFiles(
  program: Program,
  {
    prefix,
    origin,
    config = '',
    folder = '',
    joinWaitMs = 0,
    bootMs = { least: 0, most: 0 },
  }: Pick<CSubject, 'prefix' | 'origin'> &
    Partial<Pick<CSubject, 'config' | 'folder' | 'joinWaitMs' | 'bootMs'>>,
): readonly EmittedFile[] | null {
  const automaton = automatonOf(program);
  if (automaton.states.length > mostCStates) return null;
  const subject = {
    program,
    automaton,
    prefix,
    origin: commentText(origin),
    config: commentText(config),
    folder: commentText(folder),
    joinWaitMs,
    bootMs,
  };
  return [
    { name: `${prefix}.h`, text: headerText(subject) },
    { name: `${prefix}.c`, text: sourceText(subject) },
    { name: `${prefix}_rig.c`, text: rigText(subject) },
  ];
}

/** Text that may stand in a C comment: printable ASCII that neither ends it nor begins another. */
function commentText(text: string): string {
  return text.replace(/[^\u0020-\u007e]/gu, '?').replaceAll(/[*/](?=[*/])/gu, '$& ');
}
