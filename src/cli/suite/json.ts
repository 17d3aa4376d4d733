// What `suite --json` prints.
import { scenes } from '../../mutants/index.js';
import { nameOf, outcomeOf, type SuiteCase } from './case.js';
import type { AgainstMutants } from './mutants-view.js';

const suiteSchema = 'dozewatch/suite/1';

/** @param against null: faulty watches were not asked for. */
export function suiteJson(
  cases: readonly SuiteCase[],
  against: AgainstMutants | null = null,
): string {
  const outcomes = cases.map(outcomeOf);
  const count = (wanted: string): number => outcomes.filter((one) => one === wanted).length;
  const counts = {
    total: cases.length,
    passed: count('passed'),
    failed: count('failed'),
    errors: count('error'),
  };
  const scenarios = cases.map((one, index) => ({
    file: one.path,
    name: nameOf(one),
    outcome: outcomes[index],
    ...(one.result.kind === 'judged'
      ? {
          summary: one.result.summary,
          unmet: one.result.unmet,
          reasons: one.result.reasons,
          errors: [],
        }
      : { summary: null, unmet: [], reasons: [], errors: one.result.errors }),
  }));
  const faults = against === null ? {} : { againstMistakes: mutantsJson(against) };
  return `${JSON.stringify({ schema: suiteSchema, ...counts, scenarios, ...faults }, null, 2)}\n`;
}

export function mutantsJson({ faults, leftOut, watches }: AgainstMutants): object {
  return {
    faults: faults.map(({ name, mistake, scene, outcome, by, add }) => ({
      name,
      mistake,
      scene: scenes[scene].kind,
      outcome,
      by,
      add,
    })),
    leftOut: leftOut.length,
    leftOutFiles: leftOut.map(({ path, why }) => ({ file: path, why })),
    watches: watches.map(({ file, coverage: { states, transitions } }) => ({
      file,
      states: states.length,
      transitions: transitions.length,
      statesNeverVisited: states.filter(({ visited }) => !visited).map(({ words }) => words),
      transitionsNeverTaken: transitions
        .filter(({ visited }) => !visited)
        .map(({ words, kind }) => ({ words, kind })),
    })),
  };
}
