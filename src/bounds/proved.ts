// What is proved of the requirements of a watch, without the runs that show it. The searches are those of all bounds.
import type { Holds } from './answer.js';
import { knownOf, searchesOf } from './bounds-of.js';
import { holdsOf, type Known } from './holds.js';
import type { BoundsQuestion } from './question.js';

/** Whether every stated requirement is met; null: not found. */
export interface ProvedRequirements {
  readonly atRest: boolean | null;
  readonly anyState: boolean | null;
}

export interface Proved extends ProvedRequirements, Known {
  readonly holds: Holds;
}

/** The same from bounds that are known already. */
export function provedFrom(question: BoundsQuestion, known: Known): Proved {
  const holds = holdsOf(question, known);
  const { reportWithinMs, quietUpToMs } = question.judge;
  const stated = [holds.leaveOpenAfter, ...(reportWithinMs === null ? [] : [holds.reportWithin])];
  const quiet = quietUpToMs === null ? [] : [holds.quietUpTo.atRest];
  return {
    ...known,
    holds,
    atRest: every([...stated.map(({ atRest }) => atRest), ...quiet]),
    anyState: every(stated.map(({ anyState }) => anyState)),
  };
}

/** @param mostNodes the most states of each search; what a search does not find is null, or undefined among the bounds. */
export function provedOf(question: BoundsQuestion, mostNodes?: number): Proved {
  return provedFrom(question, knownOf(searchesOf(question, mostNodes).searches));
}

function every(parts: readonly (boolean | null)[]): boolean | null {
  if (parts.includes(false)) return false;
  return parts.includes(null) ? null : true;
}
