// Lengths of openings, of which some are known only to exceed what was seen: nobody saw their beginning or their end. By Kaplan and Meier
// (J. Am. Stat. Assoc. 53 (1958)) each of those is as likely to be any of the longer ones; the longest of all counts as it was seen.
import { itemAt } from '../../base/index.js';
import type { KnownOpening } from '../../verdict/index.js';

type Length = Pick<KnownOpening, 'seenMs' | 'isWhole'>;

/** As many lengths, ascending, as there were: those of whole ones stand in for those that were cut. */
export function withoutCuts(lengths: readonly Length[]): number[] {
  const count = lengths.length;
  // Of equal ones, one that was cut is the longer.
  const sorted = lengths.toSorted(
    (a, b) => a.seenMs - b.seenMs || Number(b.isWhole) - Number(a.isWhole),
  );
  if (sorted.every(({ isWhole }) => isWhole)) return sorted.map(({ seenMs }) => seenMs);
  const weighted: { readonly ms: number; readonly until: number }[] = [];
  let weight = 1;
  let until = 0;
  sorted.forEach(({ seenMs, isWhole }, index) => {
    if (isWhole || index === count - 1) {
      until += weight;
      weighted.push({ ms: seenMs, until });
    } else {
      // What it weighs is shared by those after it.
      weight += weight / (count - 1 - index);
    }
  });
  // The quantiles in the middle of each of as many equal parts.
  let at = 0;
  return Array.from({ length: count }, (_, index) => {
    while (at < weighted.length - 1 && itemAt(weighted, at).until < index + 0.5) at += 1;
    return itemAt(weighted, at).ms;
  });
}

/** How long an opening counts as where one length is needed: of one that was cut, the middle one of those that are at least as long. */
export function likelyLengths(known: readonly Length[]): (index: number) => number {
  const whole = known
    .flatMap(({ isWhole, seenMs }) => (isWhole ? [seenMs] : []))
    .toSorted((a, b) => a - b);
  return (index) => {
    const { isWhole, seenMs } = itemAt(known, index);
    if (isWhole) return seenMs;
    const first = whole.findIndex((ms) => ms >= seenMs);
    return first < 0 ? seenMs : itemAt(whole, Math.floor((first + whole.length - 1) / 2));
  };
}
