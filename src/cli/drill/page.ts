// A drill as a page, in the words of the checklist.
import { durationText, nameOfFile, plain } from '../../base/index.js';
import type { Drill, Step } from '../../drill/index.js';
import type { PageScript } from '../../report/index.js';
import { drillPage, type SheetStep } from '../../sheets/index.js';
import { cautionWords } from '../layout/caution.js';
import type { DrillView } from './report.js';
import {
  actionLines,
  exactness,
  expectation,
  goAbout,
  purpose,
  safety,
  summaryLines,
} from './words.js';

export interface DrillPageParts {
  readonly script: PageScript;
  /** The command line that judges the record of this drill. */
  readonly judge: string;
}

export function drillHtml(view: DrillView, { script, judge }: DrillPageParts): string {
  const { drill, quickOf } = view;
  const watch = nameOfFile(view.watch);
  return drillPage({
    data: { watch: plain(watch), steps: drill.steps.map((step) => sheetStep(step, drill)), judge },
    title: `Drill of ${plain(watch)}`,
    summary: summaryLines(drill, quickOf),
    cautions: safety(drill.steps, view.supply),
    howTo: goAbout(drill, quickOf),
    footer: cautionWords,
    script,
  });
}

function sheetStep(step: Step, drill: Drill): SheetStep {
  const { actions, endsMs, windows } = step;
  const instants = [0, ...actions.map(({ atMs }) => atMs), endsMs];
  return {
    lasts: durationText(endsMs),
    endsMs,
    actions: actionLines(step).map(([at, deed], index) => ({
      at,
      deed,
      atMs: instants[index] ?? 0,
    })),
    windows,
    expectation: expectation(step),
    purpose: purpose(step),
    exactness: exactness(step, drill),
  };
}
