// The second part of a verdict: what is proved of the watch, at rest and from any state.
import { roundedDurationText } from '../base/index.js';
import { gapsOf, type Proved } from '../bounds/index.js';
import type { Requirements } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { gapsWords } from './gaps-words.js';
import type { Paint } from './paint.js';

type Start = 'atRest' | 'anyState';

/** How good a verdict is, the worst first. */
export type Standing = 'bad' | 'doubtful' | 'good';

/**
 * Whether the requirements are proved to be met, with the figures that decide it, at rest and from any state.
 * A clause without a full stop.
 */
export function provedWords(proved: Proved, required: Requirements, paint: Paint): string {
  const { alwaysReportedFromMs: sure, worstDelayMs: worst } = proved;
  const isSame = sure.atRest === sure.anyState && worst.atRest === worst.anyState;
  const atRest = (where: string): string =>
    standingWords(proved, required, { from: 'atRest', where, failing: paint.bad, paint });
  if (proved.atRest === proved.anyState && isSame) return atRest('at rest and from any state');
  const anyState = standingWords(proved, required, {
    from: 'anyState',
    where: 'from any state',
    failing: paint.doubtful,
    paint,
  });
  return `${atRest('at rest')}; ${anyState}`;
}

/** The same as a sentence that can stand alone. */
export function provedSentence(
  proved: Proved,
  { judge, ...door }: Pick<WatchFile, 'judge' | 'contact' | 'sealGapUm' | 'opensAtLeastUm'>,
  paint: Paint,
): string {
  const gaps = gapsOf(door);
  const words = gapsWords(gaps);
  if (gaps?.kind === 'blind' && words !== null) {
    return `Proved: the requirements are ${paint.bad('NOT met')}, because ${words}; ${widerWords(proved)}`;
  }
  const first = words === null ? '' : `${words}, `;
  return `Proved: ${first}the requirements are ${provedWords(proved, judge, paint)}`;
}

/** Of the openings that the contact sees: they meet no requirement for a door that may rest at a smaller gap. */
function widerWords({ alwaysReportedFromMs: sure }: Proved): string {
  const atRest = sureText(sure.atRest);
  return sure.atRest === sure.anyState
    ? `of wider openings it is ${atRest}, at rest and from any state`
    : `of wider openings it is ${atRest} at rest and ${sureText(sure.anyState)} from any state`;
}

/** `met at rest (sure from 2 min 51 s)`, or `NOT met at rest: sure from 4 min 1 s (3 min required)`. */
function standingWords(
  proved: Proved,
  required: Requirements,
  {
    from,
    where,
    failing,
    paint,
  }: {
    readonly from: Start;
    readonly where: string;
    readonly failing: (text: string) => string;
    readonly paint: Paint;
  },
): string {
  const figures = figuresOf(proved, required, from);
  const met = proved[from];
  if (met === null) return `${paint.doubtful('not known')} ${where} (${figures})`;
  return met
    ? `${paint.good('met')} ${where} (${figures})`
    : from === 'anyState' && proved.atRest === false
      ? `${failing('nor')} ${where}: ${figures}`
      : `${failing('NOT met')} ${where}: ${figures}`;
}

/** `sure from 4 min 1 s (3 min required)`; what is required is said once, at rest if that is not met. */
function figuresOf(proved: Proved, required: Requirements, from: Start): string {
  const { holds, alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs } = proved;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = required;
  const requiredText = (ms: number, key: keyof Proved['holds']): string =>
    from === 'anyState' && holds[key].atRest === false
      ? ''
      : ` (${roundedDurationText(ms)} required)`;
  const sure = sureText(alwaysReportedFromMs[from]);
  const parts =
    alwaysReportedFromMs[from] === undefined
      ? []
      : [
          holds.leaveOpenAfter[from] === false
            ? `${sure}${requiredText(leaveOpenAfterMs, 'leaveOpenAfter')}`
            : sure,
        ];
  // From any state one figure is enough: that of the first requirement that is not met.
  const isSaid = from === 'anyState' && holds.leaveOpenAfter.anyState === false;
  if (reportWithinMs !== null && holds.reportWithin[from] === false && !isSaid) {
    parts.push(`${latestText(worstDelayMs[from])}${requiredText(reportWithinMs, 'reportWithin')}`);
  }
  if (quietUpToMs !== null && from === 'atRest' && holds.quietUpTo.atRest === false) {
    const quiet = roundedDurationText(neverAlarmedUpToMs ?? 0, 'at least');
    parts.push(`quiet up to ${quiet}${requiredText(quietUpToMs, 'quietUpTo')}`);
  }
  if (alwaysReportedFromMs[from] === undefined) parts.push(sure);
  return parts.join(', ');
}

function sureText(ms: number | null | undefined): string {
  if (ms === undefined) return 'sure from: not searched to the end here, see dozewatch bounds';
  if (ms === null) return 'never sure';
  return `sure from ${roundedDurationText(ms, 'at most')}`;
}

function latestText(ms: number | null | undefined): string {
  if (ms === undefined) return 'latency not known';
  return ms === null
    ? 'no limit to the latency'
    : `alert within ${roundedDurationText(ms, 'at most')}`;
}

/** The standing of what is proved: at rest it decides, from any state it casts a doubt. */
export function provedStanding({ atRest }: Pick<Proved, 'atRest'>): Standing {
  if (atRest === null) return 'doubtful';
  return atRest ? 'good' : 'bad';
}
