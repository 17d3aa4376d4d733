// What `suite --json` prints.
import { nameOf, outcomeOf, type SuiteCase } from './suite-case.js';

const suiteSchema = 'dozewatch/suite/1';

export function suiteJson(cases: readonly SuiteCase[]): string {
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
      ? { summary: one.result.summary, unmet: one.result.unmet, errors: [] }
      : { summary: null, unmet: [], errors: one.result.errors }),
  }));
  return `${JSON.stringify({ schema: suiteSchema, ...counts, scenarios }, null, 2)}\n`;
}
