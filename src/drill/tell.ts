// Which faulty watches a step tells from the sound one.
import type { Program } from '../sim/index.js';
import { type Corner, drawnCases } from './corners.js';
import type { Candidate } from './endings.js';
import { messagesIn, type Scene, sceneOf } from './play.js';
import { wrongs } from './wrongs.js';

/** Devices and people drawn, besides those at the corners. */
const drawn = 60;

/** Where a step is tried, the same for each faulty watch: in all corners, and wherever between them. */
interface Scenes {
  readonly corners: readonly Scene[];
  /** Made where the first faulty watch fails in all corners. */
  between: readonly Scene[] | null;
}

const known = new WeakMap<Candidate, Scenes>();

function scenesOf(step: Candidate): Scenes {
  const scenes = known.get(step) ?? { corners: scenesIn(step, step.stage.corners), between: null };
  known.set(step, scenes);
  return scenes;
}

function scenesIn(step: Candidate, corners: readonly Corner[]): readonly Scene[] {
  const { question } = step.stage;
  return corners.map((corner) => sceneOf({ ...step, corner, question }));
}

function betweenCorners(step: Candidate): readonly Scene[] {
  const { timing, toleranceMs } = step.stage.question;
  const { length: actions } = step.actions;
  return scenesIn(step, drawnCases(timing, toleranceMs, { actions, count: drawn }));
}

/** Whether a faulty watch fails a step in all corners, and wherever between them it was tried. */
export function fails(program: Program, step: Candidate): boolean {
  const failsIn = (scene: Scene): boolean => wrongs(step, messagesIn(program, scene)).length > 0;
  const scenes = scenesOf(step);
  if (!scenes.corners.every(failsIn)) return false;
  scenes.between ??= betweenCorners(step);
  return scenes.between.every(failsIn);
}
