// Writes a proof down: state after state, as the checker will meet them, until nothing comes that no state holds.
import {
  after,
  type Extremes,
  easedFor,
  firstOf,
  noExtremes,
  note,
  type Outcome,
  type Proof,
  type Rules,
  rowOf,
  type Spot,
  type StateRow,
  type Task,
} from '../../verify/index.js';
import { openShelf } from './shelf.js';

/** Why there is no proof. */
export type Unproved = 'the device may hold for ever' | 'too many states';

/** A proof but for its runs. */
export interface Proved extends Pick<Proof, 'first' | 'states'> {
  readonly extremes: Extremes;
}

/** Writes the proof of a task; yields the number of states so far. */
export function* prove(
  rules: Rules,
  task: Task,
  mostStates: number,
): Generator<number, Proved | Unproved> {
  const states: Spot[] = [];
  const shelf = openShelf();
  const extremes: Extremes = { ...noExtremes };
  const indexOf = (spot: Spot): number => {
    const number = shelf.numberOf(spot);
    if (number === states.length) states.push(spot);
    return number;
  };
  const named = (outcomes: Iterable<Outcome>): number[] | null => {
    const next: number[] = [];
    for (const outcome of outcomes) {
      if (outcome.event === 'held') return null;
      note(extremes, outcome, task);
      if (outcome.event !== 'delivered') next.push(indexOf(easedFor(rules, task, outcome.spot)));
    }
    return next;
  };
  const first = named(firstOf(rules, task.from));
  if (first === null) return 'the device may hold for ever';
  const rows: StateRow[] = [];
  for (let index = 0; ; index += 1) {
    const state = states[index];
    if (state === undefined) break;
    const next = named(after(rules, state));
    if (next === null) return 'the device may hold for ever';
    if (states.length > mostStates) return 'too many states';
    rows.push({ ...rowOf(rules, state), next });
    yield index;
  }
  return { extremes, first, states: rows };
}
