// The steps that a drill is chosen from: docs/drill.md lists their kinds.

import { pushAll } from '../base/index.js';
import { mostDrillPlaces } from '../model/index.js';
import {
  type Candidate,
  candidatesOf,
  cooldownSidesOf,
  endingsOf,
  lateAlertsOf,
  sidesOf,
} from './endings.js';
import { type Explored, explored } from './explore.js';
import { type DrillProgress, setUpMs } from './plan.js';
import { startOf } from './route.js';
import type { Stage } from './stage.js';
import { tourOf } from './tours.js';

/** How many actions a person may have in a step that shows one thing after another. */
const tourActions = [4, 8, 12, 16, 20] as const;

/** Every step that might be in the drill of a watch. */
export function* candidatesFor(stage: Stage): Generator<DrillProgress, readonly Candidate[]> {
  const found = yield* explore(stage);
  const { routes } = found;
  const candidates = [...sidesOf(stage), ...cooldownSidesOf(stage)];
  if (!stage.question.without.has('network')) pushAll(candidates, lateAlertsOf(stage));
  for (const [index, route] of routes.entries()) {
    yield { doing: 'making steps', share: index / routes.length };
    for (const one of endingsOf(stage, route)) candidates.push(one);
  }
  if (!stage.question.short) pushAll(candidates, yield* toured(stage, found));
  return candidates;
}

function* explore(stage: Stage): Generator<DrillProgress, Explored> {
  const steps = explored(stage, { mostPlaces: mostDrillPlaces });
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    yield { doing: 'finding what the watch can be led to', share: null };
  }
}

/** Tours until all is shown that a way out of some place shows; again for each number of actions. */
function* toured(stage: Stage, found: Explored): Generator<DrillProgress, readonly Candidate[]> {
  const from = startOf(stage);
  if (from === null) return [];
  const { outOf } = stage.question.program.watch.escalationThreshold;
  const anewMs = setUpMs + (outOf + 1) * stage.horizonMs;
  const all = [...found.places.values()].flatMap(({ ways }) => ways.flatMap(({ makes }) => makes));
  const candidates: Candidate[] = [];
  for (const mostActions of tourActions) {
    const wanted = new Set(all);
    for (;;) {
      yield { doing: 'joining steps', share: 1 - wanted.size / all.length };
      const before = wanted.size;
      const points = tourOf(stage, found, { from, wanted, mostActions, anewMs });
      for (const point of points) {
        pushAll(candidates, candidatesOf(stage, point));
        for (const one of point.made) wanted.delete(one);
      }
      if (wanted.size === before) break;
    }
  }
  return candidates;
}
