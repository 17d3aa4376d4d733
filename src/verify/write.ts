// The part of a certificate that the rules alone give: its states, and the bounds that follow from them.

import { type Explored, explore, type Unproved } from './explore.js';
import type { CertifiedBounds, Proof } from './format.js';
import type { Situation } from './machine.js';
import type { Task } from './proof.js';
import type { Rules } from './rules.js';
import { noSituations } from './situations.js';
import { tasks } from './tasks.js';

/** States and what follows from them, still to be shown to be reached. */
export interface Proofs {
  readonly bounds: CertifiedBounds;
  readonly situations: readonly Situation[];
  readonly rest: Proof;
  readonly latestAtRest: Proof;
  /** Null: from some state the device may hold for ever. */
  readonly latestFromAnyState: Proof | null;
  readonly earliestAtRest: Proof;
}

/**
 * Writes all proofs of a watch in its environment; yields the number of states of the one it is at.
 * @param mostStates of one proof; with more, nothing is proved.
 */
export function* writeProofs(
  rules: Rules,
  mostStates: number,
): Generator<number, Proofs | Unproved | 'some opening has no alert'> {
  const situations = noSituations(rules.machine);
  const on = { situations, mostStates };
  const rest = yield* explore(rules, tasks.rest(rules), on);
  if (typeof rest === 'string') return rest;
  const atRest = (seek: Task['seek']): Task => tasks.atRest(rules, rest.states, seek);
  const late = yield* explore(rules, atRest('latest'), on);
  if (typeof late === 'string') return late;
  const early = yield* explore(rules, atRest('earliest'), on);
  if (typeof early === 'string') return early;
  const known = situations.list.length;
  const any = yield* explore(rules, tasks.fromAnyState(rules), on);
  if (any === 'too many states') return any;
  const unlimited = any === 'the device may hold for ever' ? null : any;
  const bounds = boundsOf(late, unlimited, early);
  if (bounds === null) return 'some opening has no alert';
  return {
    bounds,
    situations: unlimited === null ? situations.list.slice(0, known) : situations.list,
    rest: rest.proof,
    latestAtRest: late.proof,
    latestFromAnyState: unlimited === null ? null : unlimited.proof,
    earliestAtRest: early.proof,
  };
}

function boundsOf(late: Explored, any: Explored | null, early: Explored): CertifiedBounds | null {
  const { decisionMs, deliveryMs } = late;
  if (decisionMs === null || deliveryMs === null) return null;
  if (early.decisionMs === null || early.deliveryMs === null) return null;
  if (any !== null && (any.decisionMs === null || any.deliveryMs === null)) return null;
  return {
    alwaysReportedFromMs: {
      atRest: decisionMs + 1,
      anyState: any === null ? null : (any.decisionMs ?? 0) + 1,
    },
    neverAlarmedUpToMs: early.decisionMs,
    worstDelayMs: { atRest: deliveryMs, anyState: any?.deliveryMs ?? null },
    bestDelayMs: early.deliveryMs,
  };
}
