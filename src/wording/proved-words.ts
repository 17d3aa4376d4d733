// The second part of a verdict: what is proved of the watch, at rest and from any state.
import { roundedDurationText } from '../base/index.js';
import type { Proved } from '../bounds/index.js';
import type { Requirements } from '../model/index.js';
import type { Paint } from './paint.js';

type Start = 'atRest' | 'anyState';

/** How good a verdict is, the worst first. */
export type Standing = 'bad' | 'doubtful' | 'good';

/**
 * Whether the requirements are proved to be met, with the figures that decide it, at rest and from any state.
 * A clause without a full stop.
 */
export function provedWords(proved: Proved, required: Requirements, paint: Paint): string {
  const atRest = figuresOf(proved, required, 'atRest');
  const anyState = figuresOf(proved, required, 'anyState');
  const rest = `${metWords(proved.atRest, paint.bad, paint)} (${atRest})`;
  const { alwaysReportedFromMs: sure, worstDelayMs: worst } = proved;
  const isSame = sure.atRest === sure.anyState && worst.atRest === worst.anyState;
  if (proved.atRest === proved.anyState && isSame) return `at rest and from any state ${rest}`;
  const any = `${metWords(proved.anyState, paint.doubtful, paint)} (${anyState})`;
  return `at rest ${rest}; from any state ${any}`;
}

/** The same as a sentence that can stand alone. */
export function provedSentence(proved: Proved, required: Requirements, paint: Paint): string {
  return `Proved: ${provedWords(proved, required, paint)}`;
}

function metWords(met: boolean | null, failing: (text: string) => string, paint: Paint): string {
  if (met === null) return paint.doubtful('not known');
  return met ? paint.good('met') : failing('NOT met');
}

/** `sure from 4 min 1 s, 3 min required`; what is required is said once, at rest if that is not met. */
function figuresOf(proved: Proved, required: Requirements, from: Start): string {
  const { holds, alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs } = proved;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = required;
  const requiredText = (ms: number, key: keyof Proved['holds']): string =>
    from === 'anyState' && holds[key].atRest === false
      ? ''
      : `, ${roundedDurationText(ms)} required`;
  const sure = sureText(alwaysReportedFromMs[from]);
  const parts = [
    holds.leaveOpenAfter[from] === false
      ? `${sure}${requiredText(leaveOpenAfterMs, 'leaveOpenAfter')}`
      : sure,
  ];
  if (reportWithinMs !== null && holds.reportWithin[from] === false) {
    parts.push(`${latestText(worstDelayMs[from])}${requiredText(reportWithinMs, 'reportWithin')}`);
  }
  if (quietUpToMs !== null && from === 'atRest' && holds.quietUpTo.atRest === false) {
    const quiet = roundedDurationText(neverAlarmedUpToMs ?? 0, 'at least');
    parts.push(`quiet up to ${quiet}${requiredText(quietUpToMs, 'quietUpTo')}`);
  }
  return parts.join(', ');
}

function sureText(ms: number | null | undefined): string {
  if (ms === undefined) return 'the search stopped';
  if (ms === null) return 'never sure';
  return `sure from ${roundedDurationText(ms, 'at most')}`;
}

function latestText(ms: number | null | undefined): string {
  if (ms === undefined) return 'worst latency not known';
  return ms === null
    ? 'worst latency unbounded'
    : `worst latency ${roundedDurationText(ms, 'at most')}`;
}

/** The standing of what is proved: at rest it decides, from any state it casts a doubt. */
export function provedStanding({ atRest }: Pick<Proved, 'atRest'>): Standing {
  if (atRest === null) return 'doubtful';
  return atRest ? 'good' : 'bad';
}
