// A histogram of delays in letters: a dozen bins of a round width, and one for the few that are longer.
import { durationText, greatestOf, tenthsText } from '../../base/index.js';
import type { DelaySpread } from '../../estimate/index.js';

const mostBars = 12;
const mostBarColumns = 40;
const leastBarColumns = 8;
/** Blanks around a label, and the share with the blanks after it. */
const besideLabel = 4 + 8;
const bar = '█';
const sliver = '▏';

/** Round widths, from a second to a day. */
const widthsMs = [
  1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1_800, 3_600, 7_200, 21_600, 43_200, 86_400,
].map((seconds) => seconds * 1_000);

export function delayChart(
  { histogram, percentiles, worstMs }: DelaySpread,
  width: number,
): string {
  const most = percentiles.find(({ percent }) => percent === 99)?.ms ?? worstMs ?? 0;
  const fits = (widthMs: number): boolean => (mostBars - 1) * widthMs > most;
  const widthMs = widthsMs.find(fits) ?? Math.ceil((most + 1) / (mostBars - 1));
  const last = Math.floor(most / widthMs) + 1;
  const counts = Array.from({ length: last + 1 }, () => 0);
  for (const { fromMs, count } of histogram) {
    const at = Math.min(last, Math.floor(fromMs / widthMs));
    counts[at] = (counts[at] ?? 0) + count;
  }
  const highest = greatestOf(counts);
  const total = counts.reduce((sum, count) => sum + count, 0);
  const labels = counts.map((_, at) => labelOf(at, last, widthMs));
  const labelColumns = greatestOf(labels.map(({ length }) => length));
  const room = width - labelColumns - besideLabel;
  const barColumns = Math.max(leastBarColumns, Math.min(mostBarColumns, room));
  const lines = counts.map((count, at) => {
    const length = Math.round((count / highest) * barColumns);
    const drawn = count === 0 ? '' : bar.repeat(length) || sliver;
    return `  ${(labels[at] ?? '').padEnd(labelColumns)}  ${shareText(count, total).padStart(6)}  ${drawn}`.trimEnd();
  });
  // Nothing to see before the first delay and in an empty last bin.
  const first = counts.findIndex((count) => count > 0);
  const shown = counts[last] === 0 ? lines.slice(first, last) : lines.slice(first);
  return `${shown.join('\n')}\n`;
}

function labelOf(at: number, last: number, widthMs: number): string {
  const from = durationText(at * widthMs);
  return at === last ? `${from} or longer` : `${from} to ${durationText((at + 1) * widthMs)}`;
}

function shareText(count: number, total: number): string {
  if (count === 0) return 'none';
  return tenthsText((100 * count) / total, ['<', '>']);
}
