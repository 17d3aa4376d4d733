// One proof of a certificate: from each of its states, whatever can come next is in a state that it names. So whatever
// can ever come is in some state, and the extreme decision and delivery over all states are bounds for every course.
// Nothing goes on undecided for ever: each check comes at least 1 ms after the one before, and no state lets an opening
// without its alert last longer than its clock bounds say.
import type { Proof, StateRow } from './format.js';
import { eased, hull, least, most, type Readings } from './readings.js';
import { differences, refuse, refuseDifference } from './refusal.js';
import type { Rules } from './rules.js';
import type { Situations } from './situations.js';
import type { Spot } from './spot.js';
import { noStates, rowOf, type States, spotOf } from './states.js';
import { afterCheck, beginning, type Outcome } from './steps.js';

/** When an opening that never ends gets its alert, at the latest or the earliest; null: never. */
export interface Extremes {
  readonly decisionMs: number | null;
  readonly deliveryMs: number | null;
}

export interface Task {
  readonly seek: 'latest' | 'earliest';
  /** What the first checks of all courses can be. */
  readonly start: () => Iterable<Outcome>;
}

export interface Proved extends Extremes {
  readonly states: readonly Spot[];
}

/** How many states are checked between two signs of life. */
const statesAtOnce = 64;

/**
 * Checks a proof state by state; yields how many of its states are done.
 * @param on.place JSON pointer to it.
 * @throws RefusedError at the first thing that does not hold.
 */
export function* checkProof(
  proof: Proof,
  task: Task,
  on: { readonly rules: Rules; readonly situations: Situations; readonly place: string },
): Generator<number, Proved> {
  const { rules, situations, place } = on;
  const walk: Walk = {
    ...{ situations, task, place, rows: proof.states },
    ...{ states: statesOf(proof, place, situations), reached: new Set() },
    ...{ decisionMs: null, deliveryMs: null },
  };
  checkNext(walk, `${place}/first`, { named: proof.first, outcomes: task.start() });
  for (const [index, { next }] of proof.states.entries()) {
    const at = `${place}/states/${String(index)}`;
    const spot = walk.states.list[index];
    if (spot === undefined || !walk.reached.has(index)) {
      refuse(at, 'nothing before it leads to this state');
    }
    checkNext(walk, `${at}/next`, { named: next, outcomes: outcomesOf(rules, spot) });
    if (index % statesAtOnce === 0) yield index;
  }
  const { decisionMs, deliveryMs } = walk;
  return { decisionMs, deliveryMs, states: walk.states.list };
}

function statesOf(proof: Proof, place: string, situations: Situations): States {
  const states = noStates(situations);
  for (const [index, row] of proof.states.entries()) {
    const spot = spotOf(row, situations);
    if (spot === undefined) {
      const at = `${place}/states/${String(index)}/situation`;
      return refuse(at, 'there is no such situation', { found: row.situation });
    }
    states.add(spot);
  }
  return states;
}

/** What can come after a state; before the opening, it may begin now, or not yet. */
export function* outcomesOf(rules: Rules, spot: Spot): Generator<Outcome> {
  yield* afterCheck(rules, spot);
  if (spot.phase === 'before') yield* afterCheck(rules, beginning(spot));
}

interface Walk {
  readonly task: Task;
  readonly place: string;
  readonly situations: Situations;
  readonly rows: readonly StateRow[];
  readonly states: States;
  readonly reached: Set<number>;
  decisionMs: number | null;
  deliveryMs: number | null;
}

/** Exactly the named states hold what comes next, each where it is the first to hold it. */
function checkNext(
  walk: Walk,
  place: string,
  from: { readonly named: readonly number[]; readonly outcomes: Iterable<Outcome> },
): void {
  const { seek } = walk.task;
  const met = new Map<number, Spot>();
  const unheld: Spot[] = [];
  for (const outcome of from.outcomes) {
    if (outcome.kind === 'hold') {
      refuse(place, 'from here the device may stay awake and idle for ever, and report nothing');
    }
    note(walk, outcome);
    if (outcome.kind === 'delivery') continue;
    const spot = { ...outcome.spot, readings: eased(outcome.spot.readings, seek) };
    const index = walk.states.holding(spot, from.named);
    if (index < 0) unheld.push(spot);
    else met.set(index, joined(met.get(index), spot));
  }
  const strays = [...met].filter(([index]) => !from.named.includes(index)).map(([, spot]) => spot);
  refuseStrays(walk, place, { named: from.named, met, strays: [...unheld, ...strays], unheld });
  const targets = [...met.keys()].sort((one, other) => one - other);
  refuseDifference(from.named, targets, { place, message: 'this is not what can come next' });
  for (const [index, spot] of met) {
    if (!walk.reached.has(index)) refuseRow(walk, index, spot);
    walk.reached.add(index);
  }
}

/** All of both, with the most that either has left to go wrong. */
function joined(known: Spot | undefined, spot: Spot): Spot {
  if (known === undefined) return spot;
  return {
    ...spot,
    outage: known.outage === 'unused' ? 'unused' : spot.outage,
    chatter: known.chatter === 'unused' ? 'unused' : spot.chatter,
    lossesLeft: Math.max(known.lossesLeft, spot.lossesLeft),
    resetsLeft: Math.max(known.resetsLeft, spot.resetsLeft),
    readings: hull(known.readings, spot.readings),
  };
}

/** A state is written down as it is first come to. @throws RefusedError when it says anything else. */
function refuseRow(walk: Walk, index: number, spot: Spot): void {
  const row = walk.rows[index];
  const expected = { ...rowOf(spot, walk.situations), next: row?.next };
  const message = 'this is not what first comes to this state';
  refuseDifference(row, expected, { place: `${walk.place}/states/${String(index)}`, message });
}

/** What comes next is not all held where it should be: the place is the state that was to hold it, if one can be told. */
function refuseStrays(
  walk: Walk,
  place: string,
  at: {
    readonly named: readonly number[];
    readonly met: ReadonlyMap<number, Spot>;
    readonly strays: readonly Spot[];
    readonly unheld: readonly Spot[];
  },
): void {
  const [first] = at.strays;
  if (first === undefined) return;
  const alike = at.strays.filter((spot) => isAlike(spot, first)).reduce(joined);
  const expected = rowOf(alike, walk.situations);
  for (const index of at.named) {
    if (walk.reached.has(index)) continue;
    const known = at.met.get(index);
    const whole = known !== undefined && isAlike(known, alike) ? joined(known, alike) : alike;
    const row = walk.rows[index];
    const wanted = { ...rowOf(whole, walk.situations), next: row?.next };
    if (differences(row, wanted) === 1) refuseRow(walk, index, whole);
  }
  if (at.unheld.length === 0) return;
  refuse(place, 'something can come next that no state holds', { found: at.named, expected });
}

function isAlike(one: Spot, other: Spot): boolean {
  const facts = (spot: Spot): string => JSON.stringify({ ...spot, readings: null });
  return facts(one) === facts(other);
}

/** Keeps the extreme decision and delivery. */
export function note(
  walk: { readonly task: Task; decisionMs: number | null; deliveryMs: number | null },
  outcome: Exclude<Outcome, { kind: 'hold' }>,
): void {
  const { seek } = walk.task;
  if (outcome.kind === 'delivery') {
    walk.deliveryMs = further(seek, walk.deliveryMs, outcome.readings);
  } else if (outcome.decidesFirst) {
    walk.decisionMs = further(seek, walk.decisionMs, outcome.spot.readings);
  }
}

function further(seek: Task['seek'], known: number | null, readings: Readings): number {
  const reading = seek === 'latest' ? most(readings, 'opening') : least(readings, 'opening');
  if (known === null) return reading;
  return seek === 'latest' ? Math.max(known, reading) : Math.min(known, reading);
}
