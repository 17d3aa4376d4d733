// The sheet to fill in at the door, for a terminal and as a page to print.
import { durationText } from '../../base/index.js';

/** Gaps to try, in mm: every second one, three passes each way. */
const gapsMm = [2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 30] as const;
const passes = 3;

const readAfterMs = 5_000;

export const sheetSteps: readonly string[] = [
  'Mount the switch and the magnet as they are to stay, and make the device show what the contact reads: a lamp, a log line, or a message.',
  'Have shims of known thickness, or a ruler beside the edge of the door at the height of the switch.',
  'Closing: begin each trial with the door wide open, and push it slowly to the gap, never past it. Note what the contact reads.',
  'Opening: begin each trial with the door shut, and pull it slowly to the gap, never past it. Note what the contact reads.',
  `Wait ${durationText(readAfterMs)} before you read. Go through all gaps ${String(passes)} times each way; near the change, also try the gaps between.`,
  'Note also where the door comes to rest when nobody takes care: give that gap as --sticks-at.',
];

export const sheetColumns = ['direction', 'gap in mm', 'first', 'second', 'third'] as const;

export const sheetRows: readonly (readonly [string, string])[] = (
  ['closing', 'opening'] as const
).flatMap((direction) => gapsMm.map((gap) => [direction, String(gap)] as const));

export const afterSheet =
  'Type a row for each trial into a file: closing,12,open. Then run: dozewatch place trials.csv';

export function sheetPage(): string {
  const items = sheetSteps.map((step) => `<li>${escaped(step)}</li>`).join('\n');
  const head = sheetColumns.map((name) => `<th>${name}</th>`).join('');
  const rows = sheetRows
    .map(
      ([direction, gap]) =>
        `<tr><td>${direction}</td><td>${gap}</td><td></td><td></td><td></td></tr>`,
    )
    .join('\n');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Where the magnet goes</title>
<style>
body{font:15px/1.4 system-ui,sans-serif;max-width:46rem;margin:1.5rem auto;padding:0 1rem}
table{border-collapse:collapse;width:100%}
td,th{border:1px solid #888;padding:.2rem .5rem;text-align:left;height:1.4em}
tr{break-inside:avoid}
</style>
</head>
<body>
<h1>Where the magnet goes</h1>
<ol>
${items}
</ol>
<table>
<thead><tr>${head}</tr></thead>
<tbody>
${rows}
</tbody>
</table>
<p>${escaped(afterSheet)}</p>
</body>
</html>
`;
}

function escaped(text: string): string {
  return text.replace(/[&<>]/gu, (character) => `&#${String(character.charCodeAt(0))};`);
}
