// The part of `suite --json` that `--against-faults` adds.
import type { AgainstFaults } from './faults-view.js';

export function faultsJson({ faults, leftOut, watches }: AgainstFaults): object {
  return {
    faults: faults.map(({ name, mistake, outcome, by }) => ({ name, mistake, outcome, by })),
    leftOut,
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
