// The hunt itself: draws scripts, stages them, and shrinks the first one that breaks a property.

import fc from 'fast-check';
import { InvariantError, invariant } from '../base/index.js';
import { mostShrinks } from '../model/index.js';
import { cutAt } from '../timeline/index.js';
import type { DeviceTiming, ResetEffect } from '../world/index.js';
import type { Breach, HuntQuestion } from './question.js';
import { breachOf } from './run-trial.js';
import { scripts } from './script.js';
import { effortOf, shortest, simplest } from './simplest.js';
import { staged } from './stage.js';
import type { Script } from './stroke.js';
import { timings } from './timings.js';
import type { Trial } from './trial.js';
import { resetEffects } from './trials.js';

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
  /** When the latest opening of all of them began; 0: there was none. */
  readonly latestOpeningMs: number;
}

/** A counterexample. The same question, seed and path give it again. */
export interface Finding {
  readonly breach: Breach;
  readonly trial: Trial;
  /** The timeline in which it was found, before it was made smaller. */
  readonly drawn: Trial;
  readonly seed: number;
  readonly path: string;
}

/** Hunts until a property is broken or the runs are used up. The same question and options give the same result. */
export function hunt(question: HuntQuestion, options: HuntOptions): HuntResult {
  const { seed, runs, path: knownPath } = options;
  let { lengthMs } = question;
  let shrinks = -1;
  let latestOpeningMs = 0;
  const firstFound: Trial[] = [];
  const trialOf = (script: Script, timing: DeviceTiming, reset: ResetEffect): Trial => {
    const trial = staged(question, script, { timing, reset });
    return cutAt(trial, Math.min(trial.lengthMs, lengthMs));
  };
  const drawn = [scripts(question), timings(question.timing), resetEffects(question)] as const;
  const holds = fc.property(...drawn, (script, timing, reset) => {
    if (shrinks >= mostShrinks) return true;
    const trial = trialOf(script, timing, reset);
    if (shrinks < 0) latestOpeningMs = Math.max(latestOpeningMs, trial.openings.at(-1)?.[0] ?? 0);
    const fine = breachOf(question, trial) === null;
    // Shrinking goes on with no more of the timeline than the first finding needs.
    if (!fine && shrinks < 0) lengthMs = shortest(question, trial).lengthMs;
    if (!fine && firstFound.length === 0) firstFound.push(trial);
    if (!fine || shrinks >= 0) shrinks += effortOf(trial);
    return fine;
  });
  const details = fc.check(holds, {
    seed,
    ...(knownPath === undefined ? { numRuns: runs } : { numRuns: 1, path: knownPath }),
  });
  // Whatever a run throws is no breach: it is a fault of ours.
  if (details.errorInstance instanceof InvariantError) throw details.errorInstance;
  if (details.counterexample === null)
    return { runs: details.numRuns, found: null, latestOpeningMs };
  const trial = simplest(question, trialOf(...details.counterexample));
  const breach = breachOf(question, trial);
  invariant(breach !== null, 'a counterexample stays one', { seed });
  // The rest of the path only names the steps of shrinking, which are taken again.
  const [path = ''] = details.counterexamplePath.split(':');
  return {
    runs: details.numRuns,
    found: { breach, trial, drawn: firstFound[0] ?? trial, seed, path },
    latestOpeningMs,
  };
}
