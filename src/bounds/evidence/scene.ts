// A world that shows a bound, made as plain as it still shows it. The opening in question and the timeline's length stay: what is
// shown is said of them.
import { mostWitnessTries } from '../../model/index.js';
import {
  partsOfWorld,
  reduced,
  type Scene,
  spanLengthMs,
  worldOfScene,
} from '../../timeline/index.js';
import type { RunWorld } from '../answer.js';
import type { BoundsQuestion } from '../question.js';

export const sceneOf: (world: RunWorld) => Scene = partsOfWorld;

export function worldOf(scene: Scene): RunWorld {
  const { contactFaults, timing } = scene;
  return { world: worldOfScene(scene, null, ''), timing, contactFaults };
}

/** @param shows whether a scene still shows what it is for. */
export function simplified(
  question: BoundsQuestion,
  scene: Scene,
  shows: (scene: Scene) => boolean,
): Scene {
  return reduced(scene, {
    shows,
    allows: (candidate) => isAbout(candidate, scene) && outagesFit(question, candidate),
    ranges: question.timing,
    steady: 'inTurn',
    // What else goes wrong may be left out; moved, it could come before the device was at rest.
    rounded: ['openings', 'networkDown'],
    mostTries: mostWitnessTries,
  });
}

/** Whether the opening in question and the end of the timeline are where they were. */
function isAbout(candidate: Scene, scene: Scene): boolean {
  const [one, other] = [candidate.openings.at(-1), scene.openings.at(-1)];
  return (
    candidate.lengthMs === scene.lengthMs && one?.[0] === other?.[0] && one?.[1] === other?.[1]
  );
}

function outagesFit({ environment }: BoundsQuestion, scene: Scene): boolean {
  const { longestOutageMs, outagesApartMs } = environment;
  const apartMs = Math.max(1, outagesApartMs);
  return scene.networkDown.every((span, index) => {
    const sinceMs = scene.networkDown[index - 1]?.[1] ?? -apartMs;
    return span[0] - sinceMs >= apartMs && spanLengthMs(span, scene) <= longestOutageMs;
  });
}
