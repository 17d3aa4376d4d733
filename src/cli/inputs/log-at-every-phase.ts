// A log itself, without a fit and without drawn years: at every phase of the checks, as `replay --every-phase` judges it.
import { dayMs } from '../../base/index.js';
import { mostLogPhaseSteps } from '../../model/index.js';
import type { PhaseSummary } from '../../phase/index.js';
import type { Timeline } from '../../scenarios/index.js';
import { seenMsOf } from '../../verdict/index.js';
import { overRangesWords } from '../../wording/index.js';
import { replayOne } from '../replay/one.js';
import { everyPhaseOf } from '../replay/phases.js';
import type { LoadedWatch } from './load-watch.js';

export interface LogAtEveryPhase extends PhaseSummary {
  /** In which the door was watched, as a fit counts them: less is one day. */
  readonly days: number;
  readonly leaveOpens: number;
  readonly phaseLengthMs: number;
  /** What it is the mean over beside the phases, in words; absent: the watch file has no ranges. */
  readonly over?: string;
}

/** @returns null for a log with too many openings to judge in a short time. */
export function logAtEveryPhase(log: Timeline, watch: LoadedWatch): LogAtEveryPhase | null {
  const replay = replayOne(log, watch);
  const every = everyPhaseOf(replay, watch, mostLogPhaseSteps);
  if (every === null) return null;
  const { leaveOpens } = replay.verdict.summary;
  const { lengthMs } = log.world;
  const days = Math.max(1, seenMsOf({ lengthMs, unseen: log.logged?.unseen }) / dayMs);
  const over = overRangesWords(every, replay.experiment.timing);
  return { days, leaveOpens, ...every.summary, ...(over === null ? {} : { over }) };
}
