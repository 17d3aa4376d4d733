// Every phase of a replay: from which power-on on, and how far it may go.
import { mostPhaseSteps } from '../../model/index.js';
import { type EveryPhase, everyPhase } from '../../phase/index.js';
import type { PhasesView } from '../../wording/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import type { Replay } from './one.js';

/**
 * Every phase, from the power-on of the timeline on; a log that gives none is judged as if the device had been running before.
 * @returns null beyond `mostSteps`.
 */
export function everyPhaseOf(
  { experiment, timeline }: Replay,
  { watchFile }: LoadedWatch,
  mostSteps?: number,
): EveryPhase | null {
  const { logged } = timeline;
  const wasRunning = logged?.powerOnIsAssumed === true;
  return everyPhase(experiment, watchFile.judge, {
    wasRunning,
    unavailable: logged?.unseen,
    mostSteps,
  });
}

/** @param areJudged the command line wants every phase. */
export function phasesOf(
  replay: Replay,
  watch: LoadedWatch,
  areJudged: boolean,
): PhasesView | null {
  if (replay.firmware !== null) return null;
  if (areJudged) return { areJudged, every: everyPhaseOf(replay, watch) };
  if (replay.timeline.logged?.powerOnIsAssumed !== true) return null;
  return { areJudged, every: everyPhaseOf(replay, watch, mostPhaseSteps) };
}
