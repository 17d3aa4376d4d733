// The `environment:` section: what may go wrong around a watch at worst. A replay takes what happens from its
// timeline; proofs and hunts take what may happen from here.
import type * as z from 'zod';
import { type Environment, faultLimits, lengthLimits, stretchLimits } from '../../model/index.js';
import { durationField, numberField, section } from '../text/fields.js';

/** How long the power stays away where only the number of losses is given. */
const usualLossMs = 60_000;

export const environmentSection = section(
  'What may go wrong around the watch while its bounds are sought; without it, nothing.',
  {
    longestOutage: durationField(
      'How long the network is down at most, each time.',
      lengthLimits,
    ).prefault('0s'),
    outages: numberField('The network is down at most so many times.', {
      ...faultLimits,
      least: 1,
    }).optional(),
    outagesApart: durationField(
      'From the end of one outage to the beginning of the next at least.',
      lengthLimits,
    ).optional(),
    powerLosses: numberField('At most so many losses of power.', faultLimits).prefault(0),
    powerLossLasting: durationField(
      'How long the power stays away at most, each time.',
      stretchLimits,
    ).optional(),
    resets: numberField('At most so many resets.', faultLimits).prefault(0),
    longestChatter: durationField(
      'For at most so long, once, the contact may read shut while the door is open.',
      lengthLimits,
    ).prefault('0s'),
  },
).transform((given, context): Environment => {
  const { longestOutage, outages, outagesApart, powerLosses, powerLossLasting, resets } = given;
  if (outages !== undefined && longestOutage === 0) noOutageToCount(context);
  if (outagesApart !== undefined && (outages ?? 1) === 1) oneOutageApart(context);
  if (powerLossLasting !== undefined && powerLosses === 0) noLossToLast(context);
  return {
    outages: outages ?? 1,
    outagesApartMs: outagesApart ?? 0,
    longestOutageMs: longestOutage,
    powerLosses,
    longestPowerLossMs: powerLossLasting ?? usualLossMs,
    resets,
    longestChatterMs: given.longestChatter,
  };
});

function noOutageToCount(context: z.core.$RefinementCtx): void {
  context.addIssue({
    code: 'custom',
    path: ['outages'],
    message: 'contradicts longestOutage: an outage of no length is none',
    params: { code: 'no-outage-to-count', hint: 'say how long each may last: longestOutage: 1h' },
  });
}

function oneOutageApart(context: z.core.$RefinementCtx): void {
  context.addIssue({
    code: 'custom',
    path: ['outagesApart'],
    message: 'contradicts outages: a single one is apart from nothing',
    params: { code: 'no-outages-to-part', hint: 'say how many: outages: 2' },
  });
}

function noLossToLast(context: z.core.$RefinementCtx): void {
  context.addIssue({
    code: 'custom',
    path: ['powerLossLasting'],
    message: 'contradicts powerLosses: there is no loss that could last',
    params: { code: 'no-loss-to-last', hint: 'say how many: powerLosses: 1' },
  });
}
