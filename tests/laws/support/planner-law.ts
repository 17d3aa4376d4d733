// The planner shows what the command line proves.
import { initialState, planning } from '../../../src/planner/index.js';
import type { AtRestAndAnyState, CommandCase } from './command-case.js';
import type { Broken } from './law-case.js';

/** The planner shows the bounds that the command line proves. */
export function plannerLaw({ one, bounds }: CommandCase): Broken {
  const planned = planning()({
    ...initialState,
    watchText: one.watchText,
    set: {},
    source: { kind: 'scenario', name: 'scenario.yaml', text: one.scenarioText },
  });
  if (!planned.ok) return [`the planner refuses a file: ${JSON.stringify(planned.errors)}`];
  const shown = planned.plan.bounds;
  if (shown === null) return [];
  const quiet = Number.isFinite(shown.neverAlarmedUpToMs) ? shown.neverAlarmedUpToMs : null;
  const isSame =
    same(shown.alwaysReportedFromMs, bounds.alwaysReportedFromMs) &&
    same(shown.worstDelayMs, bounds.worstDelayMs) &&
    quiet === bounds.neverAlarmedUpToMs &&
    shown.bestDelayMs === bounds.bestDelayMs;
  return isSame ? [] : [`the planner shows ${JSON.stringify({ ...shown, courses: null })}`];
}

function same(one: AtRestAndAnyState<unknown>, other: AtRestAndAnyState<unknown>): boolean {
  return one.atRest === other.atRest && one.anyState === other.anyState;
}
