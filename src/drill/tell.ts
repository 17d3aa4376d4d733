// Which faulty watches a step tells from the sound one.
import type { Program } from '../sim/index.js';
import { type Corner, drawnCases } from './corners.js';
import type { Candidate } from './endings.js';
import type { Window } from './plan.js';
import { messagesOf, play } from './play.js';

/** What is wrong with the messages seen in a step: one too few, too many, too soon or too late. */
export type Wrong =
  | { readonly kind: 'missing'; readonly window: Window }
  | { readonly kind: 'unexpected'; readonly atMs: number };

/** What does not fit, in order; empty: as it must be. */
export function wrongs(
  { windows, endsMs }: { readonly windows: readonly Window[]; readonly endsMs: number },
  seenMs: readonly number[],
): readonly Wrong[] {
  const within = ({ fromMs, toMs }: Window, atMs: number): boolean =>
    atMs >= fromMs && atMs <= toMs;
  const left = seenMs.filter((atMs) => atMs <= endsMs);
  const missing: Wrong[] = [];
  for (const window of windows) {
    const index = left.findIndex((atMs) => within(window, atMs));
    if (index < 0) missing.push({ kind: 'missing', window });
    else left.splice(index, 1);
  }
  return [...missing, ...left.map((atMs): Wrong => ({ kind: 'unexpected', atMs }))];
}

/** Devices and people drawn, besides those at the corners. */
const drawn = 60;

/** Whether a faulty watch fails a step in all corners, and wherever between them it was tried. */
export function fails(program: Program, step: Candidate): boolean {
  const { question, corners } = step.stage;
  const { timing, toleranceMs } = question;
  const failsIn = (corner: Corner): boolean => {
    const trace = play(program, { ...step, corner, question });
    return wrongs(step, messagesOf(trace)).length > 0;
  };
  if (!corners.every(failsIn)) return false;
  const { length: actions } = step.actions;
  return drawnCases(timing, toleranceMs, { actions, count: drawn }).every(failsIn);
}
