// A fitted profile in words: what it was fitted to, how, how well, and what so little evidence leaves open.
import {
  counted,
  type Diagnostic,
  dayMs,
  figure,
  roughDurationText,
  tenthsText,
} from '../../base/index.js';
import { countInterval } from '../../estimate/index.js';
import type { DurationDistribution, DurationFit, ProfileFit } from '../../scenarios/index.js';

/** One sentence each: of the log, when openings happen, the brief ones, the leave-opens. */
export function fitLines(fit: ProfileFit, asLogged: boolean): string[] {
  const { openings, lengthMs, unended, brief } = fit;
  const cut = unended === 0 ? '' : `, ${String(unended)} without an end in it`;
  return [
    `${counted(openings, 'opening')} in ${roughDurationText(lengthMs)}${cut}`,
    ...(asLogged
      ? [
          'years are put together from the days of the log, drawn again (bootstrap of one-day blocks)',
        ]
      : [
          `openings: ${processText(fit)}`,
          ...(brief === null ? [] : [`lengths of brief openings: ${fitText(brief)}`]),
        ]),
    leaveOpenText(fit, asLogged),
  ];
}

function processText({ process, profile }: ProfileFit): string {
  const { model, gain } = process;
  const { visits } = profile;
  if (model === 'flat') return 'too few to distinguish the hours, so every hour is alike';
  if (visits === undefined) {
    return 'single, a Poisson process with a rate for each hour, by maximum likelihood; a model with visits of several openings does not fit better';
  }
  const depends = visits.dependence === undefined ? '' : '; lengths and gaps depend on each other';
  return `in visits (Bartlett-Lewis cluster process), by maximum likelihood (expectation-maximisation); AIC better by ${figure(gain)} than single openings${depends}`;
}

function leaveOpenText({ leaveOpen, lengthMs }: ProfileFit, asLogged: boolean): string {
  if (leaveOpen === null) return `leave-opens: none; ${noneText(lengthMs)}`;
  const { low, high } = countInterval(leaveOpen.count, 0.95);
  const perYear = (count: number): number => (count * 365 * dayMs) / Math.max(dayMs, lengthMs);
  const rate = `${figure(perYear(low), 'down')} to ${figure(perYear(high), 'up')} per year (95 %${shortText(lengthMs)})`;
  const lengths = asLogged ? String(leaveOpen.count) : fitText(leaveOpen);
  return `leave-opens: ${lengths}; ${rate}`;
}

/** A log of less than a day counts as a day: at other hours the door may rest. */
function shortText(lengthMs: number): string {
  return lengthMs < dayMs ? `; ${roughDurationText(lengthMs)} count as a whole day` : '';
}

/** What days without one show: the rule of three, -ln 0.05 over them. */
function noneText(lengthMs: number): string {
  const days = Math.max(1, lengthMs / dayMs);
  const every = Math.floor((10 * days) / -Math.log(0.05)) / 10;
  return `${roughDurationText(lengthMs)} without one: at most 1 in ${every < 2 ? figure(every, 'down') : String(Math.floor(every))} days (95 %${shortText(lengthMs)})`;
}

function fitText({ distribution, count, worstGap, chanceGap, rejected }: DurationFit): string {
  const many = `${String(count)}, ${distributionText(distribution)}`;
  if (rejected !== null) {
    return `${many}: ${rejected} differs from the log by ${tenthsText(worstGap * 100)}, MORE than by chance (${tenthsText(chanceGap * 100)})`;
  }
  if (distribution.kind === 'drawn' || distribution.kind === 'fixed') return many;
  return `${many}; differs from the log by at most ${tenthsText(worstGap * 100)}, no more than by chance (${tenthsText(chanceGap * 100)}, parametric bootstrap)`;
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
      return 'drawn from those in the log';
  }
}

/** Fewer days or openings than this show little of how a door is used in a year. */
const fewDays = 7;
const fewOpenings = 20;

/** What a log leaves open, as warnings. */
export function evidenceWarnings(
  { openings, lengthMs, leaveOpen }: ProfileFit,
  file: string,
): readonly Diagnostic[] {
  const warnings: Diagnostic[] = [];
  const isShort = lengthMs < fewDays * dayMs || openings < fewOpenings;
  if (isShort) {
    const { low, high } = countInterval(openings, 0.95);
    const days = Math.max(1, lengthMs / dayMs);
    warnings.push({
      code: 'log-too-short',
      severity: 'warning',
      source: { file },
      message: `${counted(openings, 'opening')} in ${roughDurationText(lengthMs)} show little: ${figure(low / days, 'down')} to ${figure(high / days, 'up')} openings a day (95 %), if every day is like this${shortText(lengthMs)}`,
      hint: 'give a log of at least a week, with a few dozen openings; --from and --until say what it covers',
    });
  }
  if (leaveOpen === null) {
    warnings.push({
      code: 'no-leave-opens',
      severity: 'warning',
      source: { file },
      message: `the log has no leave-open, so drawn years have none, and misses cannot be estimated: ${noneText(lengthMs)}`,
      hint: 'write what you know into the profile, such as leaveOpen: { share: 0.5%, duration: { lognormal: { median: 15m, sigma: 0.8 } } }',
    });
  }
  return warnings;
}
