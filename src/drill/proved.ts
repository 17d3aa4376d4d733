// The bounds that a drill shows both sides of, where they are quickly found.

import { searched, searchesFor, sureFromMs, TooManyStatesError } from '../bounds/index.js';
import { calmEnvironment, mostDrillStates } from '../model/index.js';
import type { Drill, DrillQuestion } from './plan.js';

/** Proved for a watch at rest, at a wide-open door and without outages. */
export function provedOf(of: DrillQuestion): Drill['proved'] {
  const question = { ...of, environment: calmEnvironment };
  try {
    const slowest = searched(question, { ...searchesFor.atRest, mostNodes: mostDrillStates });
    const quickest = searched(question, { ...searchesFor.quickest, mostNodes: mostDrillStates });
    return {
      sureFromMs: sureFromMs(slowest.result),
      quietUpToMs: quickest.result.decision?.openingMs ?? null,
    };
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    return { sureFromMs: null, quietUpToMs: null };
  }
}
