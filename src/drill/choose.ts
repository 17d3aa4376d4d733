// The fewest and shortest steps that show all that can be shown: greedily by what each shows a minute, then without
// those that the others make superfluous.
import { itemAt } from '../base/index.js';
import type { Candidate } from './explore.js';

/** A candidate, and the names of all that it shows. */
export interface Choice {
  readonly candidate: Candidate;
  readonly shows: ReadonlySet<string>;
}

/** What setting up a step costs a person, besides its length. */
const setUpMs = 60_000;

export function costOf({ candidate }: Choice): number {
  return candidate.endsMs + setUpMs;
}

export function covering(choices: readonly Choice[]): readonly Choice[] {
  const wanted = new Set(choices.flatMap(({ shows }) => [...shows]));
  const chosen: Choice[] = [];
  while (wanted.size > 0) {
    let best = 0;
    let bestRate = 0;
    for (const [index, choice] of choices.entries()) {
      let gain = 0;
      for (const name of choice.shows) if (wanted.has(name)) gain += 1;
      const rate = gain / costOf(choice);
      if (rate > bestRate) {
        bestRate = rate;
        best = index;
      }
    }
    const choice = itemAt(choices, best);
    chosen.push(choice);
    for (const name of choice.shows) wanted.delete(name);
  }
  return chosen;
}

/** Without those whose every showing that matters is in another, the longest looked at first. */
export function pruned(
  choices: readonly Choice[],
  matters: (name: string) => boolean,
): readonly Choice[] {
  let kept = [...choices].sort((a, b) => costOf(b) - costOf(a));
  for (const choice of [...kept]) {
    const others = kept.filter((one) => one !== choice);
    const shown = new Set(others.flatMap(({ shows }) => [...shows]));
    if ([...choice.shows].every((name) => !matters(name) || shown.has(name))) kept = others;
  }
  return kept.sort((a, b) => costOf(a) - costOf(b));
}
