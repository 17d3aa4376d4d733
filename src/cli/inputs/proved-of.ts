// What is proved of a watch, beside what it did: searched once for each watch that is loaded.
import {
  gapsOf,
  lengthBoundsOf,
  type Proved,
  provedOf,
  questionOf,
  searched,
  searchesFor,
  TooManyStatesError,
} from '../../bounds/index.js';
import { mostReplayStates } from '../../model/index.js';
import { type LengthBar, lengthBarOf } from '../../wording/index.js';
import type { LoadedWatch } from './load-watch.js';

const known = new WeakMap<LoadedWatch, Proved>();

/** What is proved of the logic that the watch file, or `--logic`, gives. */
export function provedOfWatch(watch: LoadedWatch): Proved {
  const { watchFile, program, ownLogic } = watch;
  const proved =
    known.get(watch) ??
    provedOf(questionOf(watchFile, { table: program.table, ownLogic }), mostReplayStates);
  known.set(watch, proved);
  return proved;
}

/** Whether every leave-open is proved to be reported at rest; null: not known. */
export function isSureAtRest(watch: LoadedWatch): boolean | null {
  // A door that may rest where the contact reads shut is another question.
  if (gapsOf(watch.watchFile)?.kind === 'blind') return null;
  return provedOfWatch(watch).holds.leaveOpenAfter.atRest;
}

/** The best detection latency at rest, as it is proved; null: none, or not known. */
export function bestAtRestMs({ watchFile, program, ownLogic }: LoadedWatch): number | null {
  try {
    const question = questionOf(watchFile, { table: program.table, ownLogic });
    return searched(question, searchesFor.quickest).result.delivery?.openingMs ?? null;
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    return null;
  }
}

/** The bar of lengths of the watch; null: the searches stopped before it was known. */
export function barOfWatch(watch: LoadedWatch): LengthBar | null {
  const { watchFile, program, ownLogic } = watch;
  const question = questionOf(watchFile, { table: program.table, ownLogic });
  const bounds = lengthBoundsOf(question, provedOfWatch(watch));
  return bounds === null ? null : lengthBarOf(bounds, watchFile);
}
