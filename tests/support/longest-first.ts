// The order in which test files start: those known to take longest first, so that no core waits for one that began last.
// What the runner remembers of earlier runs orders the rest; on a fresh clone it remembers nothing.
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const longest = [
  'rig/zoo',
  'golden/',
  'laws/commands',
  'browser/planner',
  'cli/help-examples',
  'docs/commands',
  'laws/files',
  'laws/growth',
  'rig/late',
  'drill/',
  'laws/one-question',
  'bounds/remedies',
  'mutants/',
  'docs/blocks',
  'rig/hostile',
  'browser/',
  'emit/c',
  'agreement/',
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const others = await super.sort(files);
    return [...others].sort((a, b) => rank(a) - rank(b));
  }
}

function rank({ moduleId }: TestSpecification): number {
  const at = longest.findIndex((name) => moduleId.includes(`/tests/${name}`));
  return at < 0 ? longest.length : at;
}
