// The device at rest: the door shut and seen shut long before, and nothing wrong with it now.
import type { Checked } from './checks.js';
import { firstChecks, runsFrom } from './successors.js';
import { type Model, type Track, warningAtRest } from './track.js';
import { type Node, visitedNodes } from './visited.js';
import { zeroZone } from './zone.js';

/** A device without power, long before anything. */
export function offTrack(model: Model): Track {
  return {
    state: model.table.initial,
    phase: 'before',
    decidedOnce: false,
    cooldownOver: true,
    heartbeatDue: false,
    beat: model.heartbeats === 'seldom' ? 'once' : 'timed',
    warning: warningAtRest(model),
    outage: 'none',
    outagesLeft: model.environment.outages,
    chatter: 'unused',
    lossesLeft: model.environment.powerLosses,
    resetsLeft: model.environment.resets,
    zone: zeroZone(),
    steps: null,
  };
}

/**
 * The checks that a device at rest comes back to for ever.
 * @param mostNodes of the search that begins with them: where they alone are half of that, it would outgrow it, and they take
 *   the longest.
 * @throws TooManyStatesError
 */
export function restNodes(model: Model, mostNodes: number): readonly Node[] {
  const calm: Model = {
    ...model,
    wakeOn: 'timer',
    environment: { ...model.environment, longestOutageMs: 0, longestChatterMs: 0 },
  };
  const untouched = (at: Checked): boolean =>
    !at.readsOpen &&
    at.lossesLeft === model.environment.powerLosses &&
    at.resetsLeft === model.environment.resets;
  const roots = firstChecks(calm, offTrack(model)).filter(untouched);
  const on = { mostNodes: Math.ceil(mostNodes / 2), wanted: untouched };
  const first = closure(
    calm,
    roots.map((at) => ({ at, parent: null })),
    on,
  );
  if (model.heartbeats === 'free') return first;
  // With heartbeats, what comes after one repeats; without, everything does.
  const beats = first.filter(({ at }) => at.heartbeatDue);
  return beats.length === 0 ? first : closure(calm, beats, on);
}

function closure(
  model: Model,
  roots: readonly Node[],
  { mostNodes, wanted }: { readonly mostNodes: number; readonly wanted: (at: Checked) => boolean },
): readonly Node[] {
  const visited = visitedNodes(model, { mostNodes, relaxed: false });
  const nodes = roots.filter((node) => visited.add(node));
  // The list grows while it is walked.
  for (const node of nodes) {
    for (const at of runsFrom(model, { ...node.at, steps: null }).checks) {
      if (!wanted(at)) continue;
      const next: Node = { at, parent: node };
      if (visited.add(next)) nodes.push(next);
    }
  }
  return nodes;
}
