// A counterexample made smaller and rounder, after shrinking, within the adversity that it was looked for in.
import { dayMs } from '../base/index.js';
import { mostSimplified } from '../model/index.js';
import { cutAt, niceLengthsMs, reduced, type Span, spanLengthMs } from '../timeline/index.js';
import type { HuntQuestion } from './question.js';
import { breachOf } from './run-trial.js';
import type { Trial } from './trial.js';

/** Of a step in making a trial smaller, against limits on their number: a long timeline takes longer to run. */
export function effortOf({ lengthMs }: Trial): number {
  return 1 + Math.floor(lengthMs / (4 * dayMs));
}

/** A trial that breaks the same property, and that no single step makes simpler. */
export function simplest(question: HuntQuestion, found: Trial): Trial {
  const property = breachOf(question, found)?.property;
  return reduced(found, {
    shows: (trial) => breachOf(question, trial)?.property === property,
    allows: (trial) => isWithin(question, trial),
    ranges: question.timing,
    steady: 'fixed',
    rounded: ['openings', 'networkDown', 'powerLost', 'resets', 'contactFaults'],
    effortOf,
    mostTries: mostSimplified,
  });
}

/** Whether no more goes wrong than the question allows. */
function isWithin({ adversity }: HuntQuestion, trial: Trial): boolean {
  const { longestOutageMs, longestPowerLossMs, longestChatterMs } = adversity;
  const last = (spans: readonly Span[], mostMs: number): boolean =>
    spans.every((span) => spanLengthMs(span, trial) <= mostMs);
  const apartMs = Math.max(1, adversity.outagesApartMs);
  const { networkDown, powerLost, contactFaults } = trial;
  return (
    last(networkDown, longestOutageMs) &&
    networkDown.every(
      ([fromMs], index) => fromMs - (networkDown[index - 1]?.[1] ?? -apartMs) >= apartMs,
    ) &&
    last(powerLost, longestPowerLossMs) &&
    contactFaults.every(({ fromMs, toMs }) => toMs - fromMs <= longestChatterMs)
  );
}

/** As much of the timeline as the same breach needs, and no more of it. */
export function shortest(question: HuntQuestion, found: Trial): Trial {
  const property = breachOf(question, found)?.property;
  for (const lengthMs of niceLengthsMs) {
    if (lengthMs >= found.lengthMs) break;
    const candidate = cutAt(found, lengthMs);
    if (breachOf(question, candidate)?.property === property) return candidate;
  }
  return found;
}
