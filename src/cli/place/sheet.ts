// The sheet to fill in at the door, for a terminal and as a page to print.
import { durationText } from '../../base/index.js';
import { paperPage } from '../../sheets/index.js';
import { cautionWords } from '../layout/caution.js';

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
  'Where the gap itself is in doubt (a warped edge, a ruler held at a distance), note under ± by how many mm it may be wrong.',
  'Note also where the door comes to rest when nobody takes care: give that gap as --sticks-at.',
];

export const sheetColumns = ['direction', 'gap in mm', '± mm', 'first', 'second', 'third'] as const;

export const sheetRows: readonly (readonly [string, string])[] = (
  ['closing', 'opening'] as const
).flatMap((direction) => gapsMm.map((gap) => [direction, String(gap)] as const));

export const afterSheet =
  'Type a row for each trial into a file: closing,12,open (with ± as a fourth cell where you noted one: closing,12,open,1). Then run: dozewatch place trials.csv';

/** Rows for gaps between. */
const spareRows = 4;

export function sheetPage(): string {
  const rows = [
    ...gapsMm.map((gap) => [String(gap)]),
    ...Array.from({ length: spareRows }, (): string[] => []),
  ];
  const columns = ['gap, mm', '± mm', 'first', 'second', 'third'];
  return paperPage({
    title: 'Where the magnet goes',
    cautions: [],
    steps: sheetSteps,
    tables: [
      { name: 'Closing: reads open or shut', columns, rows },
      { name: 'Opening: reads open or shut', columns, rows },
    ],
    after: afterSheet,
    footer: cautionWords,
  });
}
