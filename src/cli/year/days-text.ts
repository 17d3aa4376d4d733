// Days of a year for people: equal steps as one span, and of a long list the first ones and how far the others are apart.
import { counted, dayMs, greatestOf, leastOf, numberText } from '../../base/index.js';

/** Four days in equal steps and more are one span: `every 14 days from … to …`. */
const leastInSpan = 4;

/** Days and spans: some lines of a terminal. */
const mostShown = 24;
const shownOfMore = 12;

/** @param days ascending, as `2026-05-04`. */
export function daysText(days: readonly string[]): string {
  const spans = spansOf(days);
  const words = spans.map(({ first, stepDays, count }) => {
    const [from, to] = [days[first] ?? '', days[first + count - 1] ?? ''];
    if (count === 1) return from;
    const often = stepDays === 1 ? 'daily' : `every ${String(stepDays)} days`;
    return `${often} from ${from} to ${to} (${counted(count, 'date')})`;
  });
  if (words.length <= mostShown) return words.join(', ');
  const left = spans.slice(shownOfMore);
  const from = left[0]?.first ?? 0;
  const steps = stepsOf(days.slice(from - 1));
  const [least, most] = [leastOf(steps), greatestOf(steps)];
  const apart =
    least === most ? counted(least, 'day') : `${numberText(least)} to ${numberText(most)} days`;
  const shown = words.slice(0, shownOfMore).join(', ');
  return `${shown}, and ${counted(days.length - from, 'further day')}, each ${apart} after the one before, the last on ${days.at(-1) ?? ''}`;
}

/** Between neighbours, in days. */
export function stepsOf(days: readonly string[]): readonly number[] {
  return days
    .slice(1)
    .map((day, index) => (Date.parse(day) - Date.parse(days[index] ?? day)) / dayMs);
}

interface Span {
  readonly first: number;
  readonly count: number;
  readonly stepDays: number;
}

function spansOf(days: readonly string[]): readonly Span[] {
  const steps = stepsOf(days);
  const spans: Span[] = [];
  let first = 0;
  while (first < days.length) {
    const stepDays = steps[first] ?? 0;
    let count = 1;
    while (first + count < days.length && steps[first + count - 1] === stepDays) count += 1;
    if (count < leastInSpan) count = 1;
    spans.push({ first, count, stepDays });
    first += count;
  }
  return spans;
}
