// Wishes against a verdict: which did not come true, in words.
import { durationText, roundedDurationText } from '../../base/index.js';
import type { Summary } from '../../verdict/index.js';
import type { CheckedExpectation, Expectations, UnmetExpectation } from '../types.js';

/**
 * The expectations that a summary does not meet. A wish about the worst delay is unmet when there were leave-opens
 * and none was reported: no delay at all is not a short one.
 */
export function unmetExpectations(
  expect: Expectations,
  summary: Summary,
): readonly UnmetExpectation[] {
  const unmet: UnmetExpectation[] = [];
  for (const { name, least, most } of expect.counts) {
    const got = summary[name] ?? 0;
    if (got >= least && got <= most) continue;
    unmet.push({ name, wanted: rangeText(least, most), got: String(got) });
  }
  const { worstDelayMs, leaveOpens } = summary;
  const got = (said: 'at most' | 'at least'): string =>
    worstDelayMs === null
      ? 'no latency: no leave-open was reported'
      : roundedDurationText(worstDelayMs, said);
  const { worstDelayAtMostMs, worstDelayAtLeastMs } = expect;
  if (worstDelayAtMostMs !== null) {
    const met = worstDelayMs === null ? leaveOpens === 0 : worstDelayMs <= worstDelayAtMostMs;
    const wanted = `at most ${durationText(worstDelayAtMostMs)}`;
    if (!met) unmet.push({ name: 'worstDelayAtMost', wanted, got: got('at most') });
  }
  if (worstDelayAtLeastMs !== null) {
    const met = worstDelayMs !== null && worstDelayMs >= worstDelayAtLeastMs;
    const wanted = `at least ${durationText(worstDelayAtLeastMs)}`;
    if (!met) unmet.push({ name: 'worstDelayAtLeast', wanted, got: got('at least') });
  }
  return unmet;
}

function rangeText(least: number, most: number): string {
  if (least === most) return `exactly ${String(least)}`;
  if (most === Number.POSITIVE_INFINITY) return `at least ${String(least)}`;
  return least === 0 ? `at most ${String(most)}` : `from ${String(least)} to ${String(most)}`;
}

/** Every expectation with what happened, in numbers; a range is two of them. */
export function checkedExpectations(
  expect: Expectations,
  summary: Summary,
): readonly CheckedExpectation[] {
  const checked: CheckedExpectation[] = [];
  for (const { name, least, most } of expect.counts) {
    const got = summary[name] ?? 0;
    if (least === most) {
      checked.push({ name, wanted: least, got, met: got === least });
      continue;
    }
    const isLimited = most < Number.POSITIVE_INFINITY;
    if (least > 0 || !isLimited) {
      checked.push({ name: `${name}AtLeast`, wanted: least, got, met: got >= least });
    }
    if (isLimited) checked.push({ name: `${name}AtMost`, wanted: most, got, met: got <= most });
  }
  const unmet = new Set(unmetExpectations(expect, summary).map(({ name }) => name));
  for (const [name, wanted] of [
    ['worstDelayAtMost', expect.worstDelayAtMostMs],
    ['worstDelayAtLeast', expect.worstDelayAtLeastMs],
  ] as const) {
    if (wanted === null) continue;
    checked.push({ name, wanted, got: summary.worstDelayMs, met: !unmet.has(name) });
  }
  return checked;
}
