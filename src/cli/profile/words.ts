// A fitted profile in words: what it was fitted to, how, how well, and what so little evidence leaves open.
import {
  counted,
  type Diagnostic,
  dayMs,
  durationText,
  figure,
  listText,
  roughDurationText,
  tenthsText,
  withArticle,
} from '../../base/index.js';
import { countInterval, isTooShort, leaveOpensIn } from '../../estimate/index.js';
import {
  type DurationDistribution,
  type DurationFit,
  evidenceOf,
  longBriefsPerYear,
  openingsAYear,
  type ProfileFit,
} from '../../scenarios/index.js';
import { longerLogText } from '../../wording/index.js';

/** One sentence each: of the log, when openings happen, the brief ones, the leave-opens. */
export function fitLines(fit: ProfileFit, asLogged: boolean): string[] {
  const { openings, seenMs, brief } = fit;
  return [
    `${counted(openings, 'opening')} in ${roughDurationText(seenMs)}${cutText(fit)}${unseenText(fit)}`,
    yearText(fit),
    ...(asLogged
      ? [
          'years are put together from days of the log, picked at random (bootstrap of one-day blocks)',
        ]
      : [
          `openings: ${processText(fit)}`,
          ...(brief === null ? [] : [`lengths of brief openings: ${fitText(brief)}`]),
        ]),
    leaveOpenText(fit, asLogged),
  ];
}

/** What of the log nobody saw. */
function unseenText({ lengthMs, seenMs }: ProfileFit): string {
  if (seenMs === lengthMs) return '';
  return `; ${roughDurationText(lengthMs - seenMs)} in which the log has no state are left out`;
}

/** Openings of no known length, and what they count as. */
function cutText({ unbegun, unended, unknown }: ProfileFit): string {
  const cut = [
    ...(unbegun === 0 ? [] : [`${String(unbegun)} without a beginning`]),
    ...(unended === 0 ? [] : [`${String(unended)} without an end`]),
  ];
  if (cut.length === 0) return '';
  const left =
    unknown === 0 ? '' : `; ${String(unknown)} may be brief or a leave-open, and counts as neither`;
  return `, ${cut.join(' and ')} in it (a leave-open if it was seen open for leaveOpenAfter, of at least that length${left})`;
}

/** The average count of openings per year of the profile, some of which fall while the door is already open and are left out; what that is computed from, and what the log alone would have. */
export interface OpeningsPerYear {
  readonly mean: number;
  /** The keys of the profile. */
  readonly from: readonly string[];
  readonly ofLog: number;
}

export function openingsPerYear({
  profile,
  openings,
  unbegun,
  seenMs,
}: ProfileFit): OpeningsPerYear {
  const { days, visits } = profile;
  const hours = ['weekday', 'weekend'];
  const from =
    days !== undefined
      ? ['days']
      : visits === undefined
        ? ['openingsPerHour', ...hours.map((key) => `${key}Factor`)]
        : ['perHour', ...hours, 'openings'].map((key) => `visits.${key}`);
  const ofLog = ((openings - unbegun) * daysAYear) / Math.max(1, seenMs / dayMs);
  return { mean: openingsAYear(profile), from, ofLog };
}

const daysAYear = 365;

function yearText(fit: ProfileFit): string {
  const { mean, from, ofLog } = openingsPerYear(fit);
  const year = `about ${figure(mean)} (${figure(mean / daysAYear)} per day)`;
  const log = `The log alone, ${counted(fit.openings - fit.unbegun, 'opening')} in ${roughDurationText(fit.seenMs)}, would be ${figure(ofLog)}${shortText(fit.seenMs)}`;
  const source = fit.profile.days === undefined ? listText(from) : 'the days of the log';
  return `openings per year: ${year}, computed from ${source}, with 5 weekdays and 2 weekend days per week; some of these fall while the door is already open and are left out. ${log}`;
}

function processText({ process, profile }: ProfileFit): string {
  const { model, gain } = process;
  const { visits } = profile;
  if (model === 'flat') return 'too few to distinguish the hours, so every hour is alike';
  if (visits === undefined) {
    return 'one by one, with a rate for each hour (a Poisson process, by maximum likelihood); visits of several openings do not fit better';
  }
  const depends = visits.dependence === undefined ? '' : '; lengths and gaps depend on each other';
  return `in visits of several (a Bartlett-Lewis cluster process, by maximum likelihood), which fits better than openings one by one (AIC better by ${figure(gain)})${depends}`;
}

function leaveOpenText(fit: ProfileFit, asLogged: boolean): string {
  const { leaveOpen, seenMs, profile } = fit;
  const evidence = evidenceOf(profile, profile.fitted?.leaveOpenAfterMs ?? 0);
  if (leaveOpen === null || evidence === null)
    return `leave-opens: none; ${noneText(seenMs)}${addedText(fit, asLogged)}`;
  const { low, high } = leaveOpensIn(evidence, 0.95);
  const rate = `${figure(low, 'down')} to ${figure(high, 'up')} per year (95 %${shortText(seenMs)})`;
  const lengths = asLogged ? String(leaveOpen.count) : fitText(leaveOpen);
  return `leave-opens: ${lengths}; ${rate}${addedText(fit, asLogged)}`;
}

/** Fewer per year are not worth a word. */
const fewAdded = 0.5;

function addedText(fit: ProfileFit, asLogged: boolean): string {
  const added = asLogged ? 0 : longBriefsPerYear(fit);
  if (added < fewAdded) return '';
  return `; simulated years have about ${figure(Number(added.toPrecision(2)))} more per year, because the lengths fitted to brief openings go on beyond leaveOpenAfter`;
}

/** A log of less than a day counts as a day: at other hours the door may rest. */
function shortText(lengthMs: number): string {
  return lengthMs < dayMs ? `; ${roughDurationText(lengthMs)} count as a whole day` : '';
}

/** `1.9 times a day`, `once in 12 days`, rounded to the rarer side. @param days from one to the next. */
export function onceIn(days: number): string {
  if (days < 1) return `${String(Math.floor(10 / days) / 10)} times a day`;
  return `once in ${days < 2 ? figure(days, 'up') : String(Math.ceil(days))} days`;
}

/** What days without one show: the rule of three, -ln 0.05 over them. */
function noneText(lengthMs: number): string {
  const days = Math.max(1, lengthMs / dayMs);
  const every = days / -Math.log(0.05);
  return `even a door left open ${onceIn(every)} can show none in ${roughDurationText(lengthMs)} (95 %${shortText(lengthMs)})`;
}

function fitText({ distribution, count, worstGap, chanceGap, rejected }: DurationFit): string {
  const many = `${String(count)}, ${distributionText(distribution)}`;
  if (rejected !== null) {
    return `${many}, since ${withArticle(rejected)} distribution is off by ${tenthsText(worstGap * 100)} of the openings, MORE than chance explains (${tenthsText(chanceGap * 100)})`;
  }
  if (distribution.kind === 'drawn' || distribution.kind === 'fixed') return many;
  return `${many}; off by at most ${tenthsText(worstGap * 100)} of the openings, no more than chance explains (${tenthsText(chanceGap * 100)}, by a parametric bootstrap)`;
}

function distributionText(distribution: DurationDistribution): string {
  switch (distribution.kind) {
    case 'fixed':
      return `all of ${durationText(distribution.ms)}`;
    case 'exponential':
      return `exponential, ${roughDurationText(distribution.meanMs)} on average`;
    case 'lognormal':
      return `lognormal around ${roughDurationText(distribution.medianMs)}, sigma ${String(distribution.sigma)}`;
    case 'drawn':
      return 'picked at random from those in the log';
  }
}

export function isShortLog({ openings, seenMs }: Pick<ProfileFit, 'openings' | 'seenMs'>): boolean {
  return isTooShort({ days: seenMs / dayMs, openings });
}

/** What a log leaves open, as warnings. */
export function evidenceWarnings(
  { openings, seenMs, leaveOpen }: ProfileFit,
  file: string,
): readonly Diagnostic[] {
  const warnings: Diagnostic[] = [];
  if (isShortLog({ openings, seenMs })) {
    const { low, high } = countInterval(openings, 0.95);
    const days = Math.max(1, seenMs / dayMs);
    warnings.push({
      code: 'log-too-short',
      severity: 'warning',
      source: { file },
      message: `${counted(openings, 'opening')} in ${roughDurationText(seenMs)} ${openings === 1 ? 'shows' : 'show'} little: ${figure(low / days, 'down')} to ${figure(high / days, 'up')} openings a day (95 %), if every day is like this${shortText(seenMs)}`,
      hint:
        seenMs < 7 * dayMs
          ? `log the door for ${longerLogText({ days, openings })}; --from and --until say what the log covers`
          : `log the door for ${longerLogText({ days, openings })}`,
    });
  }
  if (leaveOpen === null) {
    warnings.push({
      code: 'no-leave-opens',
      severity: 'warning',
      source: { file },
      message: `the log has no leave-open, so simulated years have none, and misses cannot be estimated; ${noneText(seenMs)}`,
      hint: 'write what you know into the profile, such as leaveOpen: { share: 0.5%, duration: { lognormal: { median: 15m, sigma: 0.8 } } }',
    });
  }
  return warnings;
}
