// The `environment:` section: what may go wrong around a watch at worst. A replay takes what happens from its
// timeline; proofs and hunts take what may happen from here.
import type * as z from 'zod';
import { durationField, numberField, section } from '../text/fields.js';
import type { EnvironmentSettings } from '../types.js';

const month = 30 * 86_400_000;
const upToAMonth = { least: 0, most: month };

/** With more of them nothing is searched to its end. */
const mostFaults = 10;
const faults = { least: 0, most: mostFaults };

/** How long the power stays away where only the number of losses is given. */
const usualLossMs = 60_000;

export const environmentSection = section(
  'What may go wrong around the watch while its bounds are sought; without it, nothing.',
  {
    longestOutage: durationField(
      'The network is down once, for at most so long.',
      upToAMonth,
    ).prefault('0s'),
    powerLosses: numberField('At most so many losses of power.', faults).prefault(0),
    powerLossLasting: durationField('How long the power stays away at most, each time.', {
      least: 1,
      most: month,
    }).optional(),
    resets: numberField('At most so many resets.', faults).prefault(0),
    longestChatter: durationField(
      'For at most so long, once, the contact may read shut while the door is open.',
      upToAMonth,
    ).prefault('0s'),
  },
).transform((given, context): EnvironmentSettings => {
  const { powerLosses, powerLossLasting, resets } = given;
  if (powerLossLasting !== undefined && powerLosses === 0) noLossToLast(context);
  return {
    longestOutageMs: given.longestOutage,
    powerLosses,
    longestPowerLossMs: powerLossLasting ?? usualLossMs,
    resets,
    longestChatterMs: given.longestChatter,
  };
});

function noLossToLast(context: z.core.$RefinementCtx): void {
  context.addIssue({
    code: 'custom',
    path: ['powerLossLasting'],
    message: 'contradicts powerLosses: there is no loss that could last',
    params: { code: 'no-loss-to-last', hint: 'say how many: powerLosses: 1' },
  });
}
