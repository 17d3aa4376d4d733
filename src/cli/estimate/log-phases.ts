// The log that a profile was fitted to, judged at every phase of the checks, as `replay --every-phase` judges it: what it says
// without a fit and without drawn years.
import { mostPagePhaseSteps } from '../../model/index.js';
import type { Timeline } from '../../scenarios/index.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { replayOne } from '../replay/one.js';
import { everyPhaseOf } from '../replay/phases.js';
import type { LogAtEveryPhase } from './view.js';

const dayMs = 86_400_000;

/** @returns null for a log with too many openings to judge in a short time. */
export function logAtEveryPhase(log: Timeline, watch: LoadedWatch): LogAtEveryPhase | null {
  const replay = replayOne(log, watch);
  const every = everyPhaseOf(replay, watch, mostPagePhaseSteps);
  if (every === null) return null;
  const { leaveOpens } = replay.verdict.summary;
  // As the fit counts them: a shorter log is one day.
  const days = Math.max(1, log.world.lengthMs / dayMs);
  return { days, leaveOpens, ...every.summary };
}
