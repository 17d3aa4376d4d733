// What the proofs of a certificate are about: which courses, from where.
import type { Task } from './proof.js';
import type { Rules } from './rules.js';
import { restSpot, type Spot } from './spot.js';
import { afterCheck, beginning, firstPowerOn, type Outcome } from './steps.js';

export const tasks = {
  /** Every check of a device at rest. */
  rest: (rules: Rules): Task => ({
    seek: 'latest',
    start: () => [{ kind: 'check', spot: restSpot(rules), decidesFirst: false }],
  }),
  /** Every opening that meets the device at rest. */
  atRest: (rules: Rules, resting: readonly Spot[], seek: Task['seek']): Task => ({
    seek,
    *start(): Generator<Outcome> {
      for (const spot of resting) yield* afterCheck(rules, beginning(spot));
    },
  }),
  /** Every opening, whatever went before. */
  fromAnyState: (rules: Rules): Task => ({ seek: 'latest', start: () => firstPowerOn(rules) }),
} as const;
