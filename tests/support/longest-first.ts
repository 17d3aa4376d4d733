// The order in which test files start: those known to take longest first, so that no core waits for one that began last.
// What the runner remembers of earlier runs orders the rest; on a fresh clone it remembers nothing.
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const longest = [
  'golden/',
  'rig/zoo',
  'browser/planner',
  'cli/help-examples',
  'docs/commands',
  'laws/growth',
  'rig/late',
  'rig/hostile',
  'cli/program-run',
  'library/soak',
  'drill/drill',
  'laws/files',
  'browser/',
  'laws/one-question',
  'cli/logic',
  'emit/c',
  'mutants/hunt',
  'docs/blocks',
  'cli/verify',
  'laws/commands',
  'laws/delivery',
  'cli/run-compiler',
  'laws/proved',
  'rig/calls',
  'drill/',
  'laws/device-logic',
  'agreement/',
  'rig/agreement',
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
