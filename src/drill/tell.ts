// Which faulty watches a step tells from the sound one.
import type { Program } from '../sim/index.js';
import { type Corner, drawnCases } from './corners.js';
import type { Candidate } from './endings.js';
import { messagesOf } from './play.js';
import { wrongs } from './wrongs.js';

/** Devices and people drawn, besides those at the corners. */
const drawn = 60;

/** Whether a faulty watch fails a step in all corners, and wherever between them it was tried. */
export function fails(program: Program, step: Candidate): boolean {
  const { question, corners } = step.stage;
  const { timing, toleranceMs } = question;
  const failsIn = (corner: Corner): boolean =>
    wrongs(step, messagesOf(program, { ...step, corner, question })).length > 0;
  if (!corners.every(failsIn)) return false;
  const { length: actions } = step.actions;
  return drawnCases(timing, toleranceMs, { actions, count: drawn }).every(failsIn);
}
