// Trials for a question, as fast-check draws and shrinks them.
import fc from 'fast-check';
import type { ResetEffect } from '../world/index.js';
import type { HuntQuestion } from './question.js';
import { scripts } from './script.js';
import { staged } from './stage.js';
import { timings } from './timings.js';
import type { Trial } from './trial.js';

/** Door timelines built around what the device of a question is about to do, with what befalls it meanwhile. */
export function trials(question: HuntQuestion): fc.Arbitrary<Trial> {
  return fc
    .tuple(scripts(question), timings(question.timing), resetEffects(question))
    .map(([script, timing, reset]) => staged(question, script, { timing, reset }));
}

/** Both kinds where both are possible; nothing is drawn where one is. */
export function resetEffects({ adversity }: HuntQuestion): fc.Arbitrary<ResetEffect> {
  const { keeping, clearing } = adversity.possibleResets;
  const kept: ResetEffect = { kind: keeping ?? 'button', clears: false };
  if (adversity.resets === 0 || clearing === null) return fc.constant(kept);
  const cleared: ResetEffect = { kind: clearing, clears: true };
  // What goes wrong after a reset mostly needs what was remembered before it.
  return keeping === null ? fc.constant(cleared) : fc.constantFrom(kept, kept, cleared);
}
