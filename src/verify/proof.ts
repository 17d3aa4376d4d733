// One proof of a certificate. The checker makes the states itself: what can come first, and from each state in turn all
// that can come next, is either in a state that is there already, the one that the certificate names, or is the next state,
// and then the certificate has to say the same of it. So whatever can ever come is in some state, and the extreme decision
// and delivery over all of them are bounds for every course.
// Nor does an opening go on unreported for ever: there are finitely many states, each with a bound on how long it has lasted.
import { invariant } from '../base/index.js';
import { refuseChanged } from './checksum.js';
import type { Proof } from './format.js';
import { refuse, refuseDifference } from './refusal.js';
import { rowOf } from './row.js';
import type { Rules } from './rules.js';
import { after, firstOf, isOpen, type Outcome, type Spot } from './steps.js';
import { eased, includes, spanOf } from './zone.js';

/** Which openings a proof is about, and which end of their delays. */
export interface Task {
  readonly from: 'rest' | 'any state';
  readonly seek: 'latest' | 'earliest';
}

/** When an opening that never ends gets its alert, at the latest or the earliest; null: never. */
export interface Extremes {
  decisionMs: number | null;
  deliveryMs: number | null;
}

/**
 * Checks a proof; yields how many of its states are done.
 * @param on.place JSON pointer to it.
 * @throws RefusedError at the first thing that does not hold.
 */
export function* checkProof(
  rules: Rules,
  proof: Proof,
  on: { readonly task: Task; readonly place: string },
): Generator<number, Extremes> {
  const { task, place } = on;
  const states: Spot[] = [];
  const extremes: Extremes = { decisionMs: null, deliveryMs: null };
  const refuseStray = (spot: Spot, index: number, from: string): void => {
    const known = states[index];
    if (known !== undefined && holds(known, spot)) return;
    const expected = rowOf(rules, spot);
    const row = index === states.length ? proof.states[index] : undefined;
    if (row === undefined) {
      const message = 'what can come next is in another state than this one';
      refuse(from, message, { found: index, expected: JSON.stringify(expected) });
    }
    const { most } = spanOf(spot.zone, 'opening');
    const ends = task.seek === 'earliest' || !isOpen(spot) || Number.isFinite(most);
    invariant(ends, 'each state says how long the opening may have lasted', { at: from });
    const message = 'this is not what first comes to this state';
    const at = `${place}/states/${String(index)}`;
    refuseDifference(row, { ...expected, next: row.next }, { place: at, message });
    states.push(spot);
  };
  const follow = (outcomes: Iterable<Outcome>, named: readonly number[], from: string): void => {
    const left = named.entries();
    for (const { spot, event } of outcomes) {
      note(extremes, { spot, event }, task);
      if (event === 'delivered') continue;
      const [used, index] = left.next().value ?? [named.length, -1];
      const at = `${from}/${String(used)}`;
      if (event === 'held') refuse(at, 'here the device may stay awake and idle for ever');
      refuseStray(easedFor(task, spot), index, at);
    }
    const [more] = left.next().value ?? [];
    if (more !== undefined) refuse(`${from}/${String(more)}`, 'nothing else can come next');
  };
  follow(firstOf(rules, task.from), proof.first, `${place}/first`);
  for (const [index, row] of proof.states.entries()) {
    const at = `${place}/states/${String(index)}`;
    const state = states[index];
    if (state === undefined) return refuse(at, 'nothing before it leads to this state');
    follow(after(rules, state), row.next, `${at}/next`);
    yield index;
  }
  // Of several states that hold the same, another one may be named: a proof as good, and still not what was written.
  refuseChanged(proof, place);
  return extremes;
}

/** Whatever the environment can do with less left to go wrong, it can do with more. */
export function holds(state: Spot, spot: Spot): boolean {
  return (
    state.device === spot.device &&
    state.phase === spot.phase &&
    state.alerted === spot.alerted &&
    (state.door === spot.door || state.door === 'either') &&
    faults.every((fault) => state.left[fault] >= spot.left[fault]) &&
    includes(state.zone, spot.zone)
  );
}

const faults = ['outage', 'chatter', 'powerLoss', 'reset'] as const;

/**
 * With readings added that are no worse for the watch, so that one state holds more: an opening that began later (or, for
 * the earliest alert, sooner), an outage and a chatter that have less of their length left. Readings too many are safe.
 */
export function easedFor({ seek }: Task, spot: Spot): Spot {
  const shorter = eased(eased(spot.zone, 'outage', 'on'), 'chatter', 'on');
  return { ...spot, zone: eased(shorter, 'opening', seek === 'latest' ? 'back' : 'on') };
}

/** Keeps the extreme decision and delivery. */
export function note(extremes: Extremes, { spot, event }: Outcome, { seek }: Task): void {
  const key = event === 'decided' ? 'decisionMs' : event === 'delivered' ? 'deliveryMs' : null;
  if (key === null) return;
  const { least, most } = spanOf(spot.zone, 'opening');
  const known = extremes[key];
  extremes[key] =
    seek === 'latest' ? Math.max(known ?? most, most) : Math.min(known ?? least, least);
}
