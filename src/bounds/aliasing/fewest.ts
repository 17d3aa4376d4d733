// The fewest brief openings with which an alert is decided: courses in the order of their openings, from rest, until
// one decides or nothing new is left.
import { effectBit } from '../../machine/index.js';
import { restNodes } from '../rest.js';
import { draftOf, type Model, type Steps } from '../track.js';
import { TooManyStatesError } from '../visited.js';
import { includes, relaxed, type Zone } from '../zone.js';
import { type CountedCheck, nextChecks } from './next-checks.js';

/** A course as a chain of what lies between checks, the newest first. */
export interface Chain {
  readonly steps: Steps;
  readonly earlier: Chain | null;
}

export interface Fewest {
  /** Null: no brief openings do it. */
  readonly alarm: { readonly openings: number; readonly chain: Chain } | null;
  readonly states: number;
}

interface CountedNode {
  readonly at: CountedCheck;
  readonly chain: Chain;
}

/** @throws TooManyStatesError */
export function fewestOpenings(model: Model, leaveOpenAfterMs: number, mostStates: number): Fewest {
  const met = new Map<number, Zone[]>();
  const queues: CountedNode[][] = [[]];
  let states = 0;
  const add = (at: CountedCheck, earlier: Chain | null): void => {
    const zone = relaxed(at.draft.zone, { seek: 'least', outage: 'none' });
    const key = keyOf(at);
    const zones = met.get(key);
    if (zones?.some((known) => includes(known, zone)) === true) return;
    if (zones === undefined) met.set(key, [zone]);
    else zones.push(zone);
    states += 1;
    if (states > mostStates) throw new TooManyStatesError(mostStates);
    const queue = (queues[at.openings] ??= []);
    queue.push({ at, chain: { steps: at.draft.steps, earlier } });
  };
  for (const node of restNodes(model)) {
    const { at } = node;
    add({ draft: draftOf(at), open: false, openings: 0, effects: at.effects }, chainBefore(node));
  }
  for (let openings = 0; openings < queues.length; openings += 1) {
    const queue = queues[openings] ?? [];
    // The queue grows while it is walked.
    for (const node of queue) {
      if ((node.at.effects & effectBit.decideAlert) !== 0) {
        return { alarm: { openings, chain: node.chain }, states };
      }
      const draft = draftOf(node.at.draft);
      draft.steps = null;
      for (const at of nextChecks(model, { ...node.at, draft }, leaveOpenAfterMs)) {
        add(at, node.chain);
      }
    }
  }
  return { alarm: null, states };
}

interface Linked {
  readonly at: { readonly steps: Steps };
  readonly parent: Linked | null;
}

function chainBefore({ parent }: Linked): Chain | null {
  return parent === null ? null : { steps: parent.at.steps, earlier: chainBefore(parent) };
}

/** What the zone does not tell apart. */
function keyOf({ draft, effects, open }: CountedCheck): number {
  return ((draft.state * 256 + effects) * 2 + (open ? 1 : 0)) * 2 + (draft.heartbeatDue ? 1 : 0);
}
