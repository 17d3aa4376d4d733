// Writes a proof down: state after state, until nothing comes that no state holds.
import type { Proof } from './format.js';
import { note, outcomesOf, type Proved, type Task } from './proof.js';
import { eased } from './readings.js';
import type { Rules } from './rules.js';
import type { Situations } from './situations.js';
import type { Spot } from './spot.js';
import { noStates, rowOf } from './states.js';
import type { Outcome } from './steps.js';

/** Why there is no proof. */
export type Unproved = 'the device may hold for ever' | 'too many states';

export interface Explored extends Proved {
  readonly proof: Proof;
}

/** Explores what a task is about; yields the number of states so far. */
export function* explore(
  rules: Rules,
  task: Task,
  on: { readonly situations: Situations; readonly mostStates: number },
): Generator<number, Explored | Unproved> {
  const { situations, mostStates } = on;
  const states = noStates(situations);
  const walk = { task, decisionMs: null, deliveryMs: null };
  const namesOf = (outcomes: Iterable<Outcome>): readonly number[] | null => {
    const named = new Set<number>();
    for (const outcome of outcomes) {
      if (outcome.kind === 'hold') return null;
      note(walk, outcome);
      if (outcome.kind === 'delivery') continue;
      const spot: Spot = { ...outcome.spot, readings: eased(outcome.spot.readings, task.seek) };
      if (situations.indexOf(spot) < 0) situations.add(spot);
      const held = states.holding(spot, []);
      named.add(held < 0 ? states.list.length : held);
      if (held < 0) states.add(spot);
    }
    return [...named].sort((one, other) => one - other);
  };
  const first = namesOf(task.start());
  if (first === null) return 'the device may hold for ever';
  const rows: Proof['states'][number][] = [];
  for (let index = 0; index < states.list.length; index += 1) {
    const spot = states.list[index];
    if (spot === undefined) break;
    const next = namesOf(outcomesOf(rules, spot));
    if (next === null) return 'the device may hold for ever';
    if (states.list.length > mostStates) return 'too many states';
    rows.push({ ...rowOf(spot, situations), next });
    yield index;
  }
  return { ...walk, states: states.list, proof: { first, states: rows } };
}
