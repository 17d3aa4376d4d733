// Findings aligned at the moment of opening, as a picture for a page.
import type { Explanation } from '../verdict/index.js';
import { alignedBlock } from './aligned/aligned.js';
import { findingGroups, sharedWindow, shownFindings } from './aligned/findings.js';
import { longestStripMs } from './close-ups.js';
import type { Window } from './facts/window.js';
import { documentText, Sheet, sheetWidthPx } from './page/sheet.js';
import { type ChartInput, sceneOf } from './scene.js';
import { themes } from './theme.js';

/** Draws every kind of finding, worst first. @returns null where nothing went wrong. */
export function alignedChart(
  input: ChartInput,
  explanations: readonly Explanation[],
  wantedPx: number,
): string | null {
  const widthPx = sheetWidthPx(wantedPx, true);
  const scene = sceneOf(input, explanations);
  const block = alignedBlock(scene, shownFindings(findingGroups(scene)), widthPx);
  if (block === null) return null;
  return documentText(
    <Sheet
      title="Findings, aligned at the moment of opening"
      description={block.words}
      theme={themes.page}
      widthPx={widthPx}
      blocks={[block, block.legend]}
      bare
    />,
  );
}

/** The stretches whose wakes are shown, of a timeline that has an overview of its own. */
export function wakesOnPage(
  input: ChartInput,
  explanations: readonly Explanation[],
): 'all' | readonly (readonly [fromMs: number, toMs: number])[] {
  if (input.trace.lengthMs <= longestStripMs) return 'all';
  const scene = sceneOf(input, explanations);
  const rows = shownFindings(findingGroups(scene)).groups.flatMap((group) => group.rows);
  const shared: Window = sharedWindow(scene, rows);
  return rows
    .map(({ zeroMs }) => [zeroMs + shared.fromMs, zeroMs + shared.toMs] as const)
    .toSorted((a, b) => a[0] - b[0]);
}
