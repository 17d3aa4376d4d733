// Writes a proof down: state after state, as the checker will meet them, until nothing comes that no state holds.
import {
  after,
  type Extremes,
  easedFor,
  firstOf,
  holds,
  note,
  type Outcome,
  type Proof,
  type Rules,
  rowOf,
  type Spot,
  type StateRow,
  sealed,
  type Task,
} from '../../verify/index.js';

/** Why there is no proof. */
export type Unproved = 'the device may hold for ever' | 'too many states';

export interface Proved extends Extremes {
  readonly proof: Proof;
}

/** Writes the proof of a task; yields the number of states so far. */
export function* prove(
  rules: Rules,
  task: Task,
  mostStates: number,
): Generator<number, Proved | Unproved> {
  const states: Spot[] = [];
  const indexes = new Map<string, number[]>();
  const extremes: Extremes = { decisionMs: null, deliveryMs: null };
  const indexOf = (spot: Spot): number => {
    const key = [spot.device.name, spot.phase, spot.alerted].join();
    const alike = indexes.get(key) ?? [];
    const held = alike.findLast((index) => holdsAt(states[index], spot));
    if (held !== undefined) return held;
    indexes.set(key, alike);
    alike.push(states.length);
    return states.push(spot) - 1;
  };
  const named = (outcomes: Iterable<Outcome>): number[] | null => {
    const next: number[] = [];
    for (const outcome of outcomes) {
      if (outcome.event === 'held') return null;
      note(extremes, outcome, task);
      if (outcome.event !== 'delivered') next.push(indexOf(easedFor(task, outcome.spot)));
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
  return { ...extremes, proof: sealed({ first, states: rows }) };
}

function holdsAt(state: Spot | undefined, spot: Spot): boolean {
  return state !== undefined && holds(state, spot);
}
