// What `hunt --json` prints.
import type { Adversity } from '../../hunt/index.js';
import type { HuntView } from './report.js';

export const huntSchema = 'dozewatch/hunt/1';

/** @param view null: the fault that was named makes no difference, and nothing was tried. */
export function huntJson(view: HuntView | null): string {
  return `${JSON.stringify(view === null ? noDifference : bodyOf(view), null, 2)}\n`;
}

const noDifference = { schema: huntSchema, found: false, noDifference: true, timelines: 0 };

function bodyOf(view: HuntView): object {
  const base = {
    schema: huntSchema,
    found: view.found !== null,
    noDifference: false,
    timelines: view.runs,
    latestOpeningMs: view.latestOpeningMs,
    excused: view.excused.each.reduce((sum, { count }) => sum + count, 0),
    excusedTimelines: view.excused.timelines,
    properties: view.properties.map(({ name }) => name),
    fault: view.fault?.name ?? null,
    adversity: adversityJson(view.adversity),
    timelineMs: view.lengthMs,
  };
  if (view.found === null) return { ...base, seed: view.seed, path: null, counterexample: null };
  const { finding, verdict, mutantSummary, scenario, saved, again, deciding } = view.found;
  const { breach, trial } = finding;
  const openings = Array.from({ length: verdict.openings.count }, (_, index) =>
    verdict.openings.at(index),
  );
  return {
    ...base,
    seed: finding.seed,
    path: finding.path,
    counterexample: {
      property: breach.property,
      what: breach.what,
      opening: breach.subject?.kind === 'opening' ? breach.subject.index : null,
      alert: breach.subject?.kind === 'alert' ? breach.subject.index : null,
      lengthMs: trial.lengthMs,
      file: saved,
      scenario,
      again,
      // As replay prints it.
      summary: { ...verdict.summary, undelivered: undefined },
      mutantSummary,
      openings,
      alerts: verdict.alerts,
      ...(deciding.length === 0 ? {} : { deciding }),
    },
  };
}

/** By the names of the schema. */
function adversityJson(adversity: Adversity) {
  return {
    outages: adversity.outages,
    longestOutageMs: adversity.longestOutageMs,
    outagesApartMs: adversity.outagesApartMs,
    powerCuts: adversity.powerLosses,
    longestPowerCutMs: adversity.longestPowerLossMs,
    resets: adversity.resets,
    misreads: adversity.misreads,
    longestMisreadMs: adversity.longestChatterMs,
  };
}
