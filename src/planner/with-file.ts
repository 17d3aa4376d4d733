// A file that a person brings to the planner takes its place: a watch file, a scenario or a door log. One with errors
// changes nothing.
import { type Diagnostic, err, ok, type Result } from '../base/index.js';
import { parseWatchFile } from '../scenarios/index.js';
import { planning } from './plan.js';
import { settingsIn } from './settings.js';
import type { PlannerState } from './state.js';
import { usageIn } from './usage.js';

/** How a door log is to be read. */
export type LogReading = Pick<PlannerState['source'], 'lenient' | 'zone'>;

/** A file that holds neither settings nor a scenario is a door log. */
export function isLogName(name: string): boolean {
  return !/\.(?:ya?ml|json)$/iu.test(name);
}

/** @returns the state with it; the errors of the file, under its own name, where it has any. */
export function withFile(
  state: PlannerState,
  name: string,
  text: string,
  reading: LogReading = {},
): Result<PlannerState> {
  if (isLogName(name)) {
    return planned({ ...state, source: { kind: 'log', name, text, ...reading }, drawn: [] });
  }
  const set = settingsIn(text, name);
  if (set !== null) {
    return ok({
      ...state,
      watchText: null,
      filledFrom: text,
      watchName: name,
      set: { ...usageIn(state), ...set },
    });
  }
  const isWatch = /(?:^|[{,])[ \t]*"?(?:watch|device|judge|supply|environment)"?[ \t]*:/mu.test(
    text,
  );
  const isScenario = /(?:^|[{,])[ \t]*"?(?:start|name|length)"?[ \t]*:/mu.test(text);
  const watch = parseWatchFile(text, name);
  if (isWatch && !isScenario && !watch.ok) return err(...watch.errors);
  return planned({ ...state, source: { kind: 'scenario', name, text }, drawn: [] });
}

/** The state, if a plan can be made of it, or if what is wrong is not in the file. */
function planned(state: PlannerState): Result<PlannerState> {
  const made = planning()(state);
  if (made.ok) return ok(state);
  const own = made.errors.filter(({ source }: Diagnostic) => source.file === state.source.name);
  return own.length === 0 ? ok(state) : err(...own);
}
