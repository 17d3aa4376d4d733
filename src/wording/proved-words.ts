// The second part of a verdict: what is proved of the watch, at rest and from any state.
import { counted, numberText, roundedDurationText } from '../base/index.js';
import { gapsOf, type Proved } from '../bounds/index.js';
import type { Requirements } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { gapsWords } from './gaps-words.js';
import type { Paint } from './paint.js';

type Start = 'atRest' | 'anyState';
type Key = keyof Proved['holds'];

/** How good a verdict is, the worst first. */
export type Standing = 'bad' | 'doubtful' | 'good';

/** Which requirements a watch file states, in its order. */
function statedIn({ reportWithinMs, quietUpToMs }: Requirements): readonly Key[] {
  return [
    'leaveOpenAfter',
    ...(reportWithinMs === null ? [] : (['reportWithin'] as const)),
    ...(quietUpToMs === null ? [] : (['quietUpTo'] as const)),
  ];
}

/** `1 of 3 requirements is`, before `NOT met`. */
export function failingText(failing: number, all: number): string {
  if (failing < all) {
    const verb = failing === 1 ? 'is' : 'are';
    return `${numberText(failing)} of ${counted(all, 'requirement')} ${verb}`;
  }
  return all === 1 ? 'the requirement is' : 'the requirements are';
}

interface Judged {
  readonly proved: Proved;
  readonly required: Requirements;
  readonly stated: readonly Key[];
  readonly paint: Paint;
}

function failedIn(
  { proved, stated }: Pick<Judged, 'proved' | 'stated'>,
  from: Start,
): readonly Key[] {
  return stated.filter((key) => proved.holds[key][from] === false);
}

/** Those that the bounce of the contact leaves open. */
function openIn({ proved, stated }: Judged, from: Start): readonly Key[] {
  const bounds: Readonly<Record<Key, number | null | undefined>> = {
    leaveOpenAfter: proved.alwaysReportedFromMs[from],
    reportWithin: proved.worstDelayMs[from],
    quietUpTo: from === 'atRest' ? proved.neverAlarmedUpToMs : undefined,
  };
  return stated.filter((key) => proved.holds[key][from] === null && bounds[key] !== undefined);
}

/**
 * Which requirements are proved to be met, with the figures that decide it, at rest and from any state. A clause without a full
 * stop, as `1 of 3 requirements is NOT met at rest: quiet up to 59.7 s (1 min required)`.
 */
export function provedWords(proved: Proved, required: Requirements, paint: Paint): string {
  const judged = { proved, required, stated: statedIn(required), paint };
  const { alwaysReportedFromMs: sure, worstDelayMs: worst } = proved;
  const isSame =
    proved.atRest === proved.anyState &&
    sure.atRest === sure.anyState &&
    worst.atRest === worst.anyState;
  const where = isSame ? 'at rest and from any state' : 'at rest';
  const whole = judged.stated.length === 1 ? 'the requirement is' : 'all requirements are';
  const figures = figuresOf(judged, 'atRest');
  const open = openIn(judged, 'atRest');
  if (proved.atRest === null && open.length > 0) {
    const rest = `${failingText(open.length, judged.stated.length)} ${paint.doubtful('not shown to be met')} ${where}, because the contact bounces: without that, ${figures}`;
    return isSame ? rest : rest + fromAnyState(judged);
  }
  if (proved.atRest === null) {
    const rest = `it is ${paint.doubtful('not known')} whether ${whole} met ${where} (${figures})`;
    return isSame ? rest : rest + fromAnyState(judged);
  }
  if (proved.atRest) {
    const rest = `${whole} ${paint.good('met')} ${where} (${figures})`;
    return isSame ? rest : rest + butFromAnyState(judged);
  }
  const failed = failedIn(judged, 'atRest');
  const rest = `${failingText(failed.length, judged.stated.length)} ${paint.bad('NOT met')} ${where}: ${figures}`;
  return isSame ? rest : rest + norFromAnyState(judged, failed);
}

/** After what is met at rest. */
function butFromAnyState(judged: Judged): string {
  const { proved, paint } = judged;
  const figures = figuresOf(judged, 'anyState');
  if (proved.anyState === true) return ` and from any state (${figures})`;
  return proved.anyState === null
    ? `, but it is ${paint.doubtful('not known')} whether from any state (${figures})`
    : `, but ${paint.doubtful('NOT')} from every state: ${figures}`;
}

/** After what is not met at rest. */
function norFromAnyState(judged: Judged, atRest: readonly Key[]): string {
  const { proved, stated, paint } = judged;
  const failed = failedIn(judged, 'anyState');
  const figures = figuresOf(judged, 'anyState');
  if (proved.anyState === null) {
    return `; ${paint.doubtful('not known')} from any state (${figures})`;
  }
  if (proved.anyState) {
    const others = stated.length - atRest.length === 1 ? 'the other is' : 'the others are';
    return `; from any state ${others} met (${figures})`;
  }
  if (failed.some((key) => atRest.includes(key))) {
    return `; ${paint.doubtful('nor')} from any state: ${figures}`;
  }
  const more = failed.length === 1 ? '1 more is' : `${numberText(failed.length)} more are`;
  return `; from any state ${more} ${paint.doubtful('NOT met')}: ${figuresOf(judged, 'anyState', true)}`;
}

/** After what is not known at rest. */
function fromAnyState(judged: Judged): string {
  const { proved, stated, paint } = judged;
  const figures = figuresOf(judged, 'anyState');
  if (proved.anyState === true) return `; from any state it is (${figures})`;
  if (proved.anyState === null) return `, nor from any state (${figures})`;
  const applying = stated.filter((key) => key !== 'quietUpTo');
  const failing = failingText(failedIn(judged, 'anyState').length, applying.length);
  return `; from any state ${failing} ${paint.doubtful('NOT met')}: ${figuresOf(judged, 'anyState', true)}`;
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
    const stated = statedIn(judge);
    const failed = failedIn({ proved, stated }, 'atRest');
    return `Proved: ${failingText(failed.length, stated.length)} ${paint.bad('NOT met')}, because ${words}; ${widerWords(proved)}`;
  }
  const first = words === null ? '' : `${words}, `;
  return `Proved: ${first}${provedWords(proved, judge, paint)}`;
}

/** Of the openings that the contact sees: they meet no requirement for a door that may rest at a smaller gap. */
function widerWords({ alwaysReportedFromMs: sure }: Proved): string {
  const atRest = sureText(sure.atRest);
  return sure.atRest === sure.anyState
    ? `of wider openings it is ${atRest}, at rest and from any state`
    : `of wider openings it is ${atRest} at rest and ${sureText(sure.anyState)} from any state`;
}

/**
 * The figures of the requirements that are not met, `sure from 4 min 1 s (3 min required)`, or of the length that is sure; what is
 * required is said once, at rest if that is not met.
 * @param all from any state, too: there one figure is enough, that of the first requirement that is not met, except where they are counted.
 */
function figuresOf(judged: Judged, from: Start, all = false): string {
  const { proved, required } = judged;
  const { holds, alwaysReportedFromMs, worstDelayMs, neverAlarmedUpToMs } = proved;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = required;
  const requiredText = (ms: number | null, key: Key): string =>
    ms === null || (from === 'anyState' && holds[key].atRest === false)
      ? ''
      : ` (${roundedDurationText(ms)} required)`;
  const texts: Readonly<Record<Key, () => string>> = {
    leaveOpenAfter: () =>
      `${sureText(alwaysReportedFromMs[from])}${requiredText(leaveOpenAfterMs, 'leaveOpenAfter')}`,
    reportWithin: () =>
      `${latestText(worstDelayMs[from])}${requiredText(reportWithinMs, 'reportWithin')}`,
    quietUpTo: () =>
      `quiet up to ${roundedDurationText(neverAlarmedUpToMs ?? 0, 'at least')}${requiredText(quietUpToMs, 'quietUpTo')}`,
  };
  const wrong = failedIn(judged, from);
  const failed = wrong.length > 0 ? wrong : openIn(judged, from);
  const isEnough = !all && from === 'anyState' && failed.includes('leaveOpenAfter');
  const said = failed.filter((key) => !isEnough || key === 'leaveOpenAfter');
  return said.length === 0
    ? sureText(alwaysReportedFromMs[from])
    : said.map((key) => texts[key]()).join(', ');
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
