// Years of a device, added up: as its watch file has it, and with one thing changed.
import {
  addYear,
  type Estimate,
  emptyTally,
  estimateOf,
  type Tally,
  withEvidence,
  yearsOfResample,
} from '../estimate/index.js';
import type { WatchSettings } from '../machine/index.js';
import {
  evidenceOf,
  livingOf,
  resampleCount,
  resampled,
  type UsageProfile,
  type WatchFile,
  yearsLivedWith,
  yearWorlds,
} from '../scenarios/index.js';
import { compileWatch, type Experiment, simulate } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import { deviceTiming } from '../world/index.js';

export interface YearQuestion {
  readonly watchFile: WatchFile;
  readonly profile: UsageProfile;
  readonly seed: string;
  readonly years: number;
  /** Network outages; absent or null: none. */
  readonly outages?: Parameters<typeof yearWorlds>[0]['outages'];
  /** Each charge comes so much later after the one before it. */
  readonly chargesLateMs?: number;
  /** The watch does this after an alert, and not what its file says. */
  readonly afterAlert?: WatchSettings['afterAlert'];
}

/** Sums over all years. */
export interface LivedYears {
  readonly years: number;
  readonly openings: number;
  readonly leaveOpens: number;
  readonly reported: number;
  readonly late: number;
  readonly missed: number;
  readonly unpowered: number;
  readonly falseAlarms: number;
  readonly alertsDelivered: number;
  readonly heartbeatsDelivered: number;
  readonly lowBatteryDelivered: number;
  readonly charges: number;
  readonly answeredAlerts: number;
  readonly answeredSilences: number;
  readonly flatMs: number;
  readonly worstDelayMs: number | null;
  /** The same years as an estimate counts them. */
  readonly tally: Tally;
}

type Sums = { -readonly [Key in keyof LivedYears]: LivedYears[Key] };

/** What an estimate of the same years says of them: the same rates, with the same intervals. */
export function expectedOf(question: YearQuestion, set: LivedYears, confidence: number): Estimate {
  const { profile, seed } = question;
  const count = resampleCount(profile);
  const years = yearsOfResample(question.years, count);
  const resamples = Array.from({ length: count }, (_, row) => {
    const other = { profile: resampled(profile, row), seed: `${seed} resample ${String(row)}` };
    return livedYears({ ...question, ...other, years }).tally;
  });
  return withEvidence(
    estimateOf(set.tally, confidence, resamples),
    evidenceOf(profile, question.watchFile.judge.leaveOpenAfterMs),
  );
}

export function livedYears(question: YearQuestion): LivedYears {
  const { watchFile, profile, seed, years } = question;
  const watch: WatchSettings = {
    ...watchFile.watch,
    afterAlert: question.afterAlert ?? watchFile.watch.afterAlert,
  };
  const program = compileWatch(watch);
  const timing = deviceTiming({}, watchFile.timing);
  const worlds = yearWorlds({
    profile,
    contact: watchFile.contact,
    outages: question.outages ?? null,
    powerCuts: null,
  });
  const people = yearsLivedWith(livingOf(watchFile));
  const sums = noYears(years);
  for (let year = 0; year < years; year += 1) {
    const ownSeed = `${seed} year ${String(year)}`;
    const plain = worlds(seed, year);
    const lived = people.livedWith(watch, ownSeed);
    const experiment = lateCharges(
      { program, timing, world: plain, seed: ownSeed, ...lived },
      question.chargesLateMs ?? 0,
    );
    const trace = simulate(experiment, { record: 'none' });
    const seen = people.asSeen(trace, ownSeed);
    const verdict = judge(plain.openings, seen, watchFile.judge);
    const { summary } = verdict;
    addYear(sums.tally, verdict, trace.alerts);
    sums.openings += summary.openings;
    sums.leaveOpens += summary.leaveOpens;
    sums.reported += summary.reported;
    sums.late += summary.late;
    sums.missed += summary.missed;
    sums.unpowered += summary.unpowered;
    sums.falseAlarms += summary.falseAlarms;
    sums.alertsDelivered += trace.tally.alertSends.delivered;
    sums.heartbeatsDelivered += trace.tally.heartbeatSends.delivered;
    sums.lowBatteryDelivered += trace.lowBattery.length;
    sums.charges += trace.charges.length;
    sums.answeredAlerts += trace.answers.filter(({ to }) => to === 'alert').length;
    sums.answeredSilences += trace.answers.filter(({ to }) => to === 'silence').length;
    sums.flatMs += trace.tally.flatMs;
    if (summary.worstDelayMs !== null) {
      sums.worstDelayMs = Math.max(sums.worstDelayMs ?? 0, summary.worstDelayMs);
    }
  }
  return sums;
}

/** Each charge comes so much later after the one before it. */
function lateCharges(experiment: Experiment, lateMs: number): Experiment {
  const { charge } = experiment;
  if (charge === null || charge === undefined) return experiment;
  const { everyMs, afterWarningMs } = charge.charging;
  const charging = {
    everyMs: everyMs === null ? null : everyMs + lateMs,
    ...(afterWarningMs === undefined ? {} : { afterWarningMs: afterWarningMs + lateMs }),
  };
  return { ...experiment, charge: { ...charge, charging } };
}

function noYears(years: number): Sums {
  return {
    years,
    openings: 0,
    leaveOpens: 0,
    reported: 0,
    late: 0,
    missed: 0,
    unpowered: 0,
    falseAlarms: 0,
    alertsDelivered: 0,
    heartbeatsDelivered: 0,
    lowBatteryDelivered: 0,
    charges: 0,
    answeredAlerts: 0,
    answeredSilences: 0,
    flatMs: 0,
    worstDelayMs: null,
    tally: emptyTally(),
  };
}
