// What must hold at rest where a search is for bounds from any state: what the present settings do there is not given up
// for them, unless no others meet the requirements.
import { nothingAtRest, type RestRequirements, type Trial } from './trial.js';

/** Of what is required at rest, what settings do not meet. */
export function unmetAtRest(
  { proved: { atRest } }: Trial,
  { sureFromMs, worstDelayMs }: RestRequirements,
): RestRequirements {
  if (atRest === undefined) return nothingAtRest;
  const isLate = (ms: number, required: number | null): boolean =>
    required !== null && ms > required;
  return {
    sureFromMs: isLate(atRest.sureFromMs, sureFromMs) ? sureFromMs : null,
    worstDelayMs: isLate(atRest.worstDelayMs, worstDelayMs) ? worstDelayMs : null,
  };
}

/** Whether settings meet at rest whatever the present ones meet there. */
export function keepsAtRest(
  present: Trial | null,
  required: RestRequirements,
): (trial: Trial) => boolean {
  if (present === null) return () => true;
  const unmet = unmetAtRest(present, required);
  const kept: RestRequirements = {
    sureFromMs: unmet.sureFromMs === null ? required.sureFromMs : null,
    worstDelayMs: unmet.worstDelayMs === null ? required.worstDelayMs : null,
  };
  return (trial) => {
    const { sureFromMs, worstDelayMs } = unmetAtRest(trial, kept);
    return sureFromMs === null && worstDelayMs === null;
  };
}
