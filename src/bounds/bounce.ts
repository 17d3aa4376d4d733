// The searches are of a contact that follows the door at once. One that bounces may read anything for `bounceTime` after each move of
// the door. What is then left of a bound is worked out here; tests/bounds/bounce.test.ts tries every reading of a short bounce.
//
// - Checks further apart than the bounce lasts: one at most falls into it, and reads as if the door had moved a little later. So an opening
//   counts as shorter or longer by no more than the bounce.
// - A check that falls into the bounce of a contact whose edges wake the device: the device sleeps again, the next edge wakes it, and it
//   looks once more. That is what it would do had the door opened a recheck interval sooner: the second open check comes sooner by that.
import { greatestOf, leastOf } from '../base/index.js';
import type { AtRestAndAnyState } from './answer.js';
import type { BoundsQuestion } from './question.js';
import { timesOf } from './times.js';

/** By how much a bound must be better than what is required, so that the requirement is met in spite of the bounce. Infinity: by no margin is it shown. */
export interface BounceMargins {
  /** Of the length that is sure, and of the latency. */
  readonly lateMs: Readonly<Record<keyof AtRestAndAnyState, number>>;
  /** Of the length that is quiet. */
  readonly quietMs: number;
}

/** With a shorter bounce no whole millisecond can see it. */
const leastBounceMs = 2;

const none: BounceMargins = { lateMs: { atRest: 0, anyState: 0 }, quietMs: 0 };
const notShown = Number.POSITIVE_INFINITY;

/** What the margins depend on. */
type Bouncing = Pick<BoundsQuestion, 'contact' | 'timing' | 'ownLogic'> & {
  readonly program: Pick<BoundsQuestion['program'], 'watch'>;
};

export function bounceMarginsOf(question: Bouncing): BounceMargins {
  const bounceMs = bounceOf(question);
  if (bounceMs === null) return none;
  const { program, timing, ownLogic } = question;
  const { sleeps, bootMs } = timesOf(program.watch, timing);
  // Bounces are brief openings, and from any state those have been looked at.
  const late = (atRest: number) => ({ atRest, anyState: bounceMs });
  if (program.watch.wakeOn === 'timer') {
    const shortestMs = leastOf(sleeps.map(({ leastMs }) => leastMs)) + bootMs.least;
    const marginMs = shortestMs > bounceMs ? bounceMs : notShown;
    return { lateMs: late(marginMs), quietMs: marginMs };
  }
  // Logic of the owner's need not count checks.
  if (ownLogic) return { lateMs: late(notShown), quietMs: notShown };
  const [, recheck] = sleeps;
  // A longer one may be looked at several times.
  const isOverAtCheck = bounceMs <= bootMs.least;
  return {
    lateMs: late(bounceMs),
    quietMs: isOverAtCheck ? bounceMs - 1 + recheck.leastMs : notShown,
  };
}

/** How long the contact bounces; null: not so long that a check can see it. */
export function bounceOf({ contact }: Pick<BoundsQuestion, 'contact'>): number | null {
  return contact === null || contact.bounceMs < leastBounceMs ? null : contact.bounceMs;
}

/** Up to which length no opening raises an alert in spite of the bounce; 0: none is shown. @param quietMs Infinity: none ever does. */
export function quietInSpiteOf({ quietMs: marginMs }: BounceMargins, quietMs: number): number {
  return Number.isFinite(marginMs) ? greatestOf([0, quietMs - marginMs]) : 0;
}
