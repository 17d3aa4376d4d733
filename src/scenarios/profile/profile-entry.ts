// A usage profile as a file writes it.
import { writeDuration } from '../../base/index.js';
import { shareMeasure, writeMeasure } from '../quantity/measure.js';
import type {
  CountDistribution,
  DurationDistribution,
  FittedTo,
  LoggedDay,
  UsageProfile,
} from '../types.js';

export function profileEntry(profile: UsageProfile) {
  const { days, fitted } = profile;
  return {
    ...(days === undefined ? habitsEntry(profile) : { days: days.map(dayEntry) }),
    ...(fitted === undefined ? {} : { fitted: fittedEntry(fitted) }),
  };
}

function fittedEntry({ leaveOpenAfterMs, resamples, ...counts }: FittedTo) {
  return {
    ...counts,
    ...(leaveOpenAfterMs === undefined ? {} : { leaveOpenAfter: writeDuration(leaveOpenAfterMs) }),
    resamples,
  };
}

function habitsEntry(profile: UsageProfile) {
  const { leaveOpen } = profile;
  return {
    ...ratesEntry(profile),
    duration: distributionEntry(profile.duration),
    ...(leaveOpen === null
      ? {}
      : {
          leaveOpen: {
            share: writeMeasure(shareMeasure, Math.round(leaveOpen.share * 1_000_000), '%'),
            duration: distributionEntry(leaveOpen.duration),
          },
        }),
  };
}

function ratesEntry({ openingsPerHour, weekdayFactor, weekendFactor, visits }: UsageProfile) {
  if (visits === undefined) {
    return { openingsPerHour: [...openingsPerHour], weekdayFactor, weekendFactor };
  }
  const { openings, gap, dependence } = visits;
  return {
    visits: {
      perHour: [...openingsPerHour],
      weekday: weekdayFactor,
      weekend: weekendFactor,
      openings: countsEntry(openings),
      gap: gapEntry(gap),
      ...(dependence === undefined ? {} : { dependence }),
    },
  };
}

function countsEntry(openings: CountDistribution) {
  return openings.kind === 'drawn' ? { ...openings, counts: [...openings.counts] } : openings;
}

function gapEntry(gap: DurationDistribution) {
  const { kind } = gap;
  switch (kind) {
    case 'fixed':
      return { kind, time: writeDuration(gap.ms) };
    case 'exponential':
      return { kind, mean: writeDuration(gap.meanMs) };
    case 'lognormal':
      return { kind, median: writeDuration(gap.medianMs), sigma: gap.sigma };
    case 'drawn':
      return { kind, times: gap.ms.map((ms) => writeDuration(ms)) };
  }
}

function dayEntry({ weekend, openings }: LoggedDay) {
  return { on: weekend ? 'weekend' : 'weekday', openings: openings.map(openingEntry) };
}

function openingEntry({ atMs, forMs }: LoggedDay['openings'][number]): string {
  const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
  const seconds = Math.floor(atMs / 1_000);
  const clock = [seconds / 3_600, (seconds / 60) % 60, seconds % 60].map(two).join(':');
  const ms = atMs % 1_000;
  const fraction = ms === 0 ? '' : `.${String(ms).padStart(3, '0')}`;
  return `${clock}${fraction} for ${writeDuration(forMs)}`;
}

function distributionEntry(distribution: DurationDistribution): unknown {
  switch (distribution.kind) {
    case 'fixed':
      return writeDuration(distribution.ms);
    case 'exponential':
      return { exponential: { mean: writeDuration(distribution.meanMs) } };
    case 'lognormal': {
      const { medianMs, sigma } = distribution;
      return { lognormal: { median: writeDuration(medianMs), sigma } };
    }
    case 'drawn':
      return { drawn: distribution.ms.map((ms) => writeDuration(ms)) };
  }
}
