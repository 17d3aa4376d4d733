// One proof of a certificate. The checker makes the states itself: what can come first, and from each state in turn all
// that can come next, is either in a state that is there already, the one that the certificate names, or is the next state,
// and then the certificate has to say the same of it. So whatever can ever come is in some state, and the extreme decision
// and delivery over all of them are bounds for every run.
// Nor does an opening go on unreported for ever: there are finitely many states, each with a bound on how long it has lasted.
import { invariant } from '../base/index.js';
import { refuseChanged } from './checksum.js';
import { easedFor } from './eased.js';
import type { Proof, Run, Task } from './format.js';
import { refuse, refuseDifference } from './refusal.js';
import { refuseOtherRow, refuseStray } from './row.js';
import type { Rules } from './rules.js';
import { after, firstOf, isOpen, type Outcome, type Spot } from './steps.js';
import { includes, spanOf } from './zone.js';

/**
 * When an opening that never ends gets its alert, at the latest or the earliest; null: never. And how long one may last that is
 * never reported; null where the earliest is sought.
 */
export interface Extremes {
  decided: number | null;
  delivered: number | null;
  unreported: number | null;
}

export const noExtremes: Readonly<Extremes> = { decided: null, delivered: null, unreported: null };

/**
 * Checks a proof; yields the share that is done.
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
  const extremes: Extremes = { ...noExtremes };
  const follow = (outcomes: readonly Outcome[], named: readonly number[], from: string): void => {
    for (const outcome of outcomes) note(extremes, outcome, task);
    const going = outcomes.filter(({ event }) => event !== 'delivered');
    for (const [order, { spot, event }] of going.entries()) {
      const found = `${from}/${String(Math.min(order, named.length))}`;
      if (event === 'held') refuse(found, 'here the device may stay awake and do nothing for ever');
      const index = named[order] ?? -1;
      const next = easedFor(rules, task, spot);
      invariant(holds(next, spot), 'a widened state has lost nothing', { found });
      const state = states[index];
      if (state !== undefined && holds(state, next)) continue;
      const row = index === states.length ? proof.states[index] : undefined;
      if (row === undefined) return refuseStray(rules, next, { found, index });
      refuseOtherRow(rules, next, { row, place: `${place}/states/${String(index)}` });
      const ends = task.seek === 'earliest' || spanOf(next.zone, 'opening').most < endless;
      invariant(ends || !isOpen(next), 'a state says how long the opening lasted', { found });
      states.push(next);
    }
    if (named.length <= going.length) return;
    refuse(`${from}/${String(going.length)}`, 'this cannot come next');
  };
  follow(firstOf(rules, task.from), proof.first, `${place}/first`);
  for (const [index, row] of proof.states.entries()) {
    const at = `${place}/states/${String(index)}`;
    const state = states[index];
    if (state === undefined) return refuse(at, 'no earlier state leads to this state');
    follow([...after(rules, state)], row.next, `${at}/next`);
    yield index / proof.states.length;
  }
  for (const event of ['decided', 'delivered', 'unreported'] as const) {
    const run = proof[event];
    if (run === null) continue;
    const reached: Extremes = { ...noExtremes };
    if (extremes[event] === null) refuse(`${place}/${event}`, 'the states have no such bound');
    note(reached, endOf(rules, run, { from: task.from, place: `${place}/${event}` }), task);
    const message = 'this run does not reach the bound';
    refuseDifference(reached[event], extremes[event], { place: `${place}/${event}`, message });
  }
  // Of several states that hold the same, or runs as bad, another may be named: as good, and still not what was written.
  refuseChanged(proof, place);
  return extremes;
}

const endless = Number.POSITIVE_INFINITY;

/** Whatever the environment can do with less left to go wrong, it can do with more. */
export function holds(state: Spot, spot: Spot): boolean {
  return (
    (['device', 'phase', 'door'] as const).every((key) => state[key] === spot[key]) &&
    faults.every((fault) => state.left[fault] >= spot.left[fault]) &&
    includes(state.zone, spot.zone)
  );
}

const faults = ['outage', 'chatter', 'powerLoss', 'reset'] as const;

/** Keeps the extreme decision and delivery, and the longest opening that may go unreported. */
export function note(extremes: Extremes, { spot, event, unsure }: Outcome, { seek }: Task): void {
  const { least, most } = spanOf(spot.zone, 'opening');
  const [better, ms] = seek === 'latest' ? [Math.max, most] : [Math.min, least];
  const keep = (name: keyof Extremes): void => {
    extremes[name] = better(extremes[name] ?? ms, ms);
  };
  if (event === 'decided' || event === 'delivered') keep(event);
  if (unsure && seek === 'latest') keep('unreported');
}

/** Where a run ends that follows the rules. @throws RefusedError at its first step that nothing can come by. */
export function endOf(
  rules: Rules,
  run: Run,
  on: { readonly from: Task['from']; readonly place: string },
): Outcome {
  const none = 'this step of the run is not possible';
  let end = firstOf(rules, on.from)[run.first] ?? refuse(`${on.place}/first`, none);
  for (const [order, [lastsMs, choice]] of run.then.entries()) {
    const time = { least: lastsMs, most: lastsMs };
    const next = end.event === 'delivered' ? [] : [...after(rules, end.spot, time)];
    end = next[choice] ?? refuse(`${on.place}/then/${String(order)}`, none);
  }
  return end;
}
