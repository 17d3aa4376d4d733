// The bar of lengths for a terminal: never, maybe, always, with its borders and the limit that counts as left open.
import { durationText, roundedDurationText } from '../../base/index.js';
import type { LengthBar, Paint } from '../../wording/index.js';

const mostColumns = 76;
const leastColumns = 20;
const indent = '  ';

interface Placed {
  readonly column: number;
  readonly words: string;
}

interface Zone {
  readonly name: string;
  readonly sign: string;
  readonly columns: number;
}

/** @param isJudged whether the limit of left-open is a requirement, which the bar then shows. */
export function lengthBarText(
  bar: LengthBar,
  width: number,
  paint: Paint,
  isJudged: boolean,
): string {
  const columns = Math.max(leastColumns, Math.min(mostColumns, width) - indent.length);
  const columnOf = (ms: number): number =>
    Math.min(columns - 1, Math.max(1, Math.round((ms / bar.endMs) * columns)));
  const quiet = bar.quietMs === null ? columns : columnOf(bar.quietMs);
  const sure = bar.sureMs === null ? columns : Math.max(quiet, columnOf(bar.sureMs));
  const zones: readonly Zone[] = [
    { name: 'never', sign: '░', columns: quiet },
    { name: 'maybe', sign: '▒', columns: sure - quiet },
    { name: 'always', sign: '█', columns: columns - sure },
  ];
  const borders: Placed[] = [
    ...(bar.quietMs === null || bar.quietMs === 0
      ? []
      : [{ column: quiet, words: roundedDurationText(bar.quietMs, 'at least') }]),
    ...(bar.sureMs === null
      ? []
      : [{ column: sure, words: roundedDurationText(bar.sureMs, 'at most') }]),
  ];
  const flag = { column: columnOf(bar.leaveOpenMs), words: flagWords(bar) };
  const flagPaint = bar.isMet === null ? paint.doubtful : bar.isMet ? paint.good : paint.bad;
  return [
    paint.dim(bar.caption),
    paint.dim(namesLine(zones)),
    zones.map(({ sign, columns: count }) => sign.repeat(count)).join(''),
    ...placedLines(borders, columns),
    ...(isJudged ? placedLines([flag], columns).map(flagPaint) : []),
  ]
    .map((line) => `${indent}${line}\n`)
    .join('');
}

function flagWords({ leaveOpenMs, sureMs, isMet }: LengthBar): string {
  // The bar is of openings that the contact sees, and these are reported: it is smaller gaps that fail, as the table says.
  const isForGaps = isMet === false && sureMs !== null && leaveOpenMs >= sureMs;
  const met = isMet === null || isForGaps ? '' : isMet ? ': met at rest' : ': NOT met';
  return `▲ left open from ${durationText(leaveOpenMs)}${met}`;
}

/** The name of each zone in its middle, where it has room. */
function namesLine(zones: readonly Zone[]): string {
  return zones
    .map(({ name, columns }) => {
      if (name.length > columns) return ' '.repeat(columns);
      const left = Math.floor((columns - name.length) / 2);
      return name.padStart(left + name.length).padEnd(columns);
    })
    .join('')
    .trimEnd();
}

/** Words at their columns; those that would touch others or the edge move left, or to a line of their own. */
function placedLines(items: readonly Placed[], columns: number): readonly string[] {
  const lines: string[] = [];
  for (const { column, words } of items) {
    const at = Math.max(0, Math.min(column, columns - words.length));
    const free = lines.findIndex((line) => line.length === 0 || line.length < at);
    const line = lines[free] ?? '';
    const text = line.padEnd(at) + words;
    if (free < 0) lines.push(text);
    else lines[free] = text;
  }
  return lines;
}
