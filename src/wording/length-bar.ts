// The bar of lengths: up to which an opening never raises an alert, from which it is always reported, and maybe between.
// With the sentence that goes with it: what becomes of an opening as long as the owner calls left open.
import { durationText } from '../base/index.js';
import { type Bounds, type LengthBounds, valueAt } from '../bounds/index.js';
import type { WatchFile } from '../scenarios/index.js';

export interface LengthBar {
  /** What happens to a door left open just for `leaveOpenMs`. */
  readonly sentence: string;
  /** Above the bar. */
  readonly caption: string;
  /** Openings up to here never raise an alert; null: no single opening ever does. */
  readonly quietMs: number | null;
  /** Openings from here on are always reported; null: no length is sure. */
  readonly sureMs: number | null;
  readonly leaveOpenMs: number;
  /** Whether every opening of at least `leaveOpenMs` is reported, at rest; null: not known. */
  readonly isMet: boolean | null;
  /** Where the bar ends. */
  readonly endMs: number;
}

/** Above the bar, for an ideal contact. */
const caption = 'Does an opening of this length raise an alert, at rest?';

/** Above the bar; with a contact that can read shut at wider gaps, it says for which openings it holds. */
function captionOf(gaps: LengthBounds['gaps']): string {
  if (gaps === null || gaps.kind === 'assumed') return caption;
  return `Does an opening wider than ${String(gaps.overMm)} mm, of this length, raise an alert, at rest?`;
}

/** Room beyond the last border, so that the last part of the bar has a length. */
const spare = 1.25;

/** @param from the bounds at rest of a watch file. */
export function lengthBarOf(
  bounds: LengthBounds,
  { judge: { leaveOpenAfterMs }, environment }: Pick<WatchFile, 'judge' | 'environment'>,
): LengthBar {
  const { longestOutageMs, powerLosses, resets, longestChatterMs } = environment;
  const mayFail = longestOutageMs + powerLosses + resets + longestChatterMs > 0;
  const quietMs = bounds.neverAlarmedUpToMs;
  const sureMs = bounds.alwaysReportedFromMs.atRest;
  return {
    sentence: sentenceOf(bounds, leaveOpenAfterMs, mayFail),
    caption: captionOf(bounds.gaps),
    quietMs,
    sureMs,
    leaveOpenMs: leaveOpenAfterMs,
    isMet: bounds.holds.leaveOpenAfter.atRest,
    endMs: Math.ceil(Math.max(leaveOpenAfterMs, quietMs ?? 0, sureMs ?? 0, 1) * spare),
  };
}

/** The bar from all bounds; null: the search stopped before its borders were known. */
export function lengthBarIn(
  bounds: Bounds,
  of: Pick<WatchFile, 'judge' | 'environment'>,
): LengthBar | null {
  const borders = ['alwaysReportedFromMs.atRest', 'neverAlarmedUpToMs'] as const;
  const isUnknown = borders.some((name) => bounds.unknown.some((one) => one.bounds.includes(name)));
  return isUnknown ? null : lengthBarOf(bounds, of);
}

function sentenceOf(bounds: LengthBounds, leaveOpenMs: number, mayFail: boolean): string {
  const wider =
    bounds.gaps?.kind === 'wider' ? ` by more than ${String(bounds.gaps.overMm)} mm` : '';
  const door = `A door left open${wider} for ${durationText(leaveOpenMs)}`;
  const { atRest, anyState } = bounds.holds.leaveOpenAfter;
  if (atRest === true) {
    return anyState === false
      ? `${door} is always reported at rest, but not from every state.`
      : `${door} is always reported.`;
  }
  if (bounds.gaps?.kind === 'blind') {
    const { opensAtLeastMm, overMm } = bounds.gaps;
    return `A door left at ${String(opensAtLeastMm)} mm may never be reported: the contact can read shut up to ${String(overMm)} mm.`;
  }
  const missed = 1 - valueAt(bounds.detectionCurve, leaveOpenMs);
  if (missed >= 1) {
    const { detectionCurveMost: most } = bounds;
    const isSure = most === null || valueAt(most, leaveOpenMs) === 0;
    return isSure
      ? `${door} goes unreported every time.`
      : `${door} goes unreported in up to 100 of 100 openings, depending on the device's clock and times.`;
  }
  if (missed > 0) {
    const upTo = bounds.detectionCurveMost === null ? '' : 'up to ';
    const unreported = `goes unreported ${frequencyText(missed, upTo)}`;
    // The share is that of a world without faults.
    return mayFail
      ? `When nothing goes wrong, ${door.replace(/^A/u, 'a')} ${unreported}; a fault can make it more.`
      : `${door} ${unreported}.`;
  }
  const sureMs = bounds.alwaysReportedFromMs.atRest;
  if (atRest === null && sureMs !== null && sureMs <= leaveOpenMs) {
    return `${door} is reported at rest unless the contact bounces just as a check reads it.`;
  }
  return atRest === null
    ? `At rest, ${door.replace(/^A/u, 'a')} is reported when nothing goes wrong; the search stopped before it was known whether it always is.`
    : `At rest, ${door.replace(/^A/u, 'a')} is reported when nothing goes wrong. A fault, or what happened before, can keep it from being reported.`;
}

/** How near to 1 in k a share must be to be given as such. */
const nearEnough = 0.05;

const ordinals = ['', '', 'second', 'third', 'fourth', 'fifth'] as const;

/** A share of cases above 0 and below 1: `about every second time`, or per cent, rounded up. */
export function frequencyText(share: number, upTo: string): string {
  const k = Math.round(1 / share);
  if (upTo === '' && k >= 2 && Math.abs(1 / share - k) <= nearEnough * k) {
    const ordinal = ordinals[k];
    return ordinal === undefined ? `about 1 time in ${String(k)}` : `about every ${ordinal} time`;
  }
  if (share < 0.01) return 'in fewer than 1 of 100 openings';
  return `in ${upTo}${String(Math.min(99, Math.ceil(100 * share)))} of 100 openings`;
}
