// The hunt itself: draws scripts, stages them, and shrinks the first one that breaks a property.
import fc from 'fast-check';
import { InvariantError, invariant } from '../base/index.js';
import type { Breach, HuntQuestion } from './question.js';
import { breachOf } from './run-trial.js';
import { scripts } from './script.js';
import { simplest } from './simplest.js';
import { staged } from './stage.js';
import { timings } from './timings.js';
import type { Trial } from './trial.js';

/** Timelines tried in shrinking, at most: what is left then is made simpler by hand, which is quicker. */
const mostShrinks = 2_000;

export interface HuntOptions {
  /** Whole, of 32 bits with sign. */
  readonly seed: number;
  /** Timelines to try. */
  readonly runs: number;
  /** Of an earlier finding with the same seed: only that timeline is tried, and shrunk again. */
  readonly path?: string | undefined;
}

export interface HuntResult {
  /** Timelines tried, the shrinking of a finding not counted. */
  readonly runs: number;
  readonly found: Finding | null;
}

/** A counterexample. The same question, seed and path give it again. */
export interface Finding {
  readonly breach: Breach;
  readonly trial: Trial;
  readonly seed: number;
  readonly path: string;
}

/** Hunts until a property is broken or the runs are used up. The same question and options give the same result. */
export function hunt(question: HuntQuestion, options: HuntOptions): HuntResult {
  const { seed, runs, path: knownPath } = options;
  let shrinks = -1;
  const holds = fc.property(scripts(question), timings(question.timing), (script, timing) => {
    if (shrinks >= mostShrinks) return true;
    const fine = breachOf(question, staged(question, script, timing)) === null;
    if (!fine || shrinks >= 0) shrinks += 1;
    return fine;
  });
  const details = fc.check(holds, {
    seed,
    ...(knownPath === undefined ? { numRuns: runs } : { numRuns: 1, path: knownPath }),
  });
  // Whatever a run throws is no breach: it is a fault of ours.
  if (details.errorInstance instanceof InvariantError) throw details.errorInstance;
  if (details.counterexample === null) return { runs: details.numRuns, found: null };
  const trial = simplest(question, staged(question, ...details.counterexample));
  const breach = breachOf(question, trial);
  invariant(breach !== null, 'a counterexample stays one', { seed });
  // The rest of the path only names the steps of shrinking, which are taken again.
  const [path = ''] = details.counterexamplePath.split(':');
  return { runs: details.numRuns, found: { breach, trial, seed, path } };
}
