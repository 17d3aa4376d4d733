// What an explanation is asked about: a door timeline with its watch, and the sentences wanted.
import { trueMs } from '../../src/base/index.js';
import { idealContactEdges, spansOf, withFaults } from '../../src/world/index.js';
import type { experimentOf, Pairs, WorldNumbers } from '../support/experiments.js';

type Options = NonNullable<Parameters<typeof experimentOf>[1]>;

export interface Story extends Partial<WorldNumbers> {
  readonly watch?: Options['watch'];
  readonly timing?: Options['timing'];
  readonly leaveOpenAfterMs?: number;
  readonly reportWithinMs?: number | null;
}

/** The contact of a door with these openings, stuck for a while. */
export function stuck(openings: Pairs, at: 'open' | 'shut', [from, to]: readonly [number, number]) {
  const fault = { fromMs: trueMs(from), toMs: trueMs(to), reads: { kind: 'stuck' as const, at } };
  return withFaults(idealContactEdges(spansOf(openings)), [fault], 'explained');
}

export const noNetwork = { networkDown: [[0, 7_200_000]] } as const;

export interface Case {
  readonly name: string;
  readonly story: Story;
  readonly says: readonly string[];
}
