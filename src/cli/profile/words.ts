// A fitted profile in words: what it was fitted to, and how well.
import { counted, roughDurationText } from '../../base/index.js';
import type { DurationDistribution, DurationFit, ProfileFit } from '../../scenarios/index.js';

/** One sentence each: of the log, the brief openings, the leave-opens, and what the number means. */
export function fitLines({ openings, lengthMs, unended, brief, leaveOpen }: ProfileFit): string[] {
  const cut = unended === 0 ? '' : `, ${String(unended)} without an end in it`;
  const fits = [
    ...(brief === null ? [] : [`brief openings: ${fitText(brief)}`]),
    ...(leaveOpen === null
      ? ['leave-opens: none in the log, so that the profile has none']
      : [`leave-opens: ${fitText(leaveOpen)}`]),
  ];
  return [
    `${counted(openings, 'opening')} in ${roughDurationText(lengthMs)}${cut}`,
    ...fits,
    'off by: the greatest difference, at any length, between the share of openings up to it in the log and in the fit',
  ];
}

function fitText({ distribution, count, worstGap, chanceGap }: DurationFit): string {
  const many = `${String(count)}, ${distributionText(distribution)}`;
  if (distribution.kind === 'drawn' || distribution.kind === 'fixed') return many;
  const verdict = worstGap <= chanceGap ? 'no more than chance' : 'MORE than chance';
  return `${many}; off by ${percentText(worstGap)}, ${verdict} (${percentText(chanceGap)})`;
}

function distributionText(distribution: DurationDistribution): string {
  switch (distribution.kind) {
    case 'fixed':
      return `all of ${roughDurationText(distribution.ms)}`;
    case 'exponential':
      return `exponential, ${roughDurationText(distribution.meanMs)} on average`;
    case 'lognormal':
      return `lognormal around ${roughDurationText(distribution.medianMs)}, sigma ${String(distribution.sigma)}`;
    case 'drawn':
      return 'drawn from as they were logged';
  }
}

function percentText(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}
