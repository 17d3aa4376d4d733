// Every limit of a setting, once: what a watch file accepts, and so what advice, remedies, `tune`, the planner and options may
// propose. Each with its reason; a limit of one picture or table stays where it is.
import { invariant } from '../base/index.js';

/** Both included. */
export interface Limits {
  readonly least: number;
  readonly most: number;
}

/** A door monitor that sleeps for longer watches nothing. */
export const monthMs = 30 * 86_400_000;

/** At 10 ms a year has three thousand million checks, which is the most that a run can count through. */
export const sleepLimits: Limits = { least: 10, most: monthMs };

/** Cooldowns and quiet times: none at all is allowed. */
export const lengthLimits: Limits = { least: 0, most: monthMs };

/** Lengths of openings, and of faults that happen at all. */
export const stretchLimits: Limits = { least: 1, most: monthMs };

/** Boot and connect time: an hour is longer than any device takes. */
export const workLimits: Limits = { least: 0, most: 3_600_000 };

/** Waiting awake for the network: more than an hour empties the battery, and no board waits for an hour. */
export const joinWaitLimits: Limits = { least: 0, most: 3_600_000 };

/** Checks that are remembered, and shut checks in a row that are counted: each doubles the patterns to remember. */
export const checkLimits: Limits = { least: 1, most: 10 };

/** Failed attempts in a row, each of them a state of the logic. */
export const attemptLimits: Limits = { least: 1, most: 100 };

/** Heartbeats more often than once a second would be another device. */
export const heartbeatLimits: Limits = { ...sleepLimits, least: 1_000 };

/** From one low-battery message to the next: more often than once a minute it would empty the battery itself. */
export const repeatLimits: Limits = { ...sleepLimits, least: 60_000 };

/** In ppm: a clock never runs backwards, and none here sleeps three times too long. */
export const clockErrorLimits: Limits = { least: -900_000, most: 2_000_000 };

/** Faults of a kind in an environment: with more of them no search comes to its end. */
export const faultLimits: Limits = { least: 0, most: 10 };

/** Where there are outages at all. */
export const outageLimits: Limits = { ...faultLimits, least: 1 };

/** In µm: no contact or seal reaches half a metre. */
export const gapLimits: Limits = { least: 0, most: 500_000 };

/** No contact bounces for a second. */
export const bounceLimits: Limits = { least: 0, most: 1_000 };

/** In °C: no battery, room or clock works outside. */
export const celsiusLimits: Limits = { least: -100, most: 200 };

/** In ppm, from none to all. */
export const shareLimits: Limits = { least: 0, most: 1_000_000 };

/** In ppm: a battery of which nothing can be used is none. */
export const usableLimits: Limits = { ...shareLimits, least: 1 };

/** In nAh, from 1 µAh to a million Ah: a life on it, in ms and nA, is still exact in whole numbers. */
export const capacityLimits: Limits = { least: 1_000, most: 1_000_000_000_000_000 };

/** In nA: a board that draws ten amperes has no battery. */
export const currentLimits: Limits = { least: 0, most: 10_000_000_000 };

/** In pC, up to 3,600 coulombs: one ampere for an hour. */
export const actChargeLimits: Limits = { least: 0, most: 3_600_000_000_000_000 };

/** In ohms: less shorts the battery, more reads as an open line. */
export const resistanceLimits: Limits = { least: 100, most: 1_000_000_000 };

/** In mV: cells, and what they are pulled up to. */
export const voltageLimits: Limits = { least: 100, most: 60_000 };

/** How long a person takes: within a month, or they do not come. */
export const answerLimits: Limits = { least: 0, most: monthMs };

/** From one charge to the next: a year is the longest that anybody plans for. */
export const chargeIntervalLimits: Limits = { least: 60_000, most: 366 * 86_400_000 };

/** In ppm: a channel that loses every message is none. */
export const lostLimits: Limits = { least: 0, most: 999_999 };

/** Cells in series, and strings of them in parallel: more is no battery for a small device. */
export const cellCountLimits: Limits = { least: 1, most: 12 };

/** In px: a narrower picture has no room for its words, and a wider one is no longer looked at as a whole. */
export const pictureWidthLimits: Limits = { least: 560, most: 4_000 };

/** Points of a curve: a bench measures no more, and a bound looks at each. */
export const mostCurvePoints = 1_000;

/** The settings whose states multiply. */
export interface CountedLogic {
  readonly escalationThreshold: { readonly open: number; readonly outOf: number };
  readonly clearThreshold: number;
  readonly retryAttempts: number;
}

/**
 * The logic is compiled into a table of all its states. Every remembered pattern of checks is one, times every count of
 * failed attempts: some settings, each fine by itself, together make a table that takes minutes. This many patterns times
 * attempts is about 20,000 states, and six seconds.
 */
export const mostCombinations = 10_000;

/** Whether settings, each within its limits, together make a table that can be compiled. */
export function isCompilable(logic: CountedLogic): boolean {
  return logic.retryAttempts <= mostAttempts(logic);
}

/** The most retry attempts with which the table of such a threshold can be compiled; below 1: none. */
export function mostAttempts({
  escalationThreshold,
  clearThreshold,
}: Pick<CountedLogic, 'escalationThreshold' | 'clearThreshold'>): number {
  const patterns = patternCount(escalationThreshold.outOf, clearThreshold);
  return Math.floor(mostCombinations / patterns) - 3;
}

/** The patterns of open and shut checks that memory can hold: at most `outOf` long, shut runs below the clear threshold. */
function patternCount(outOf: number, clearThreshold: number): number {
  // By the length of the shut run at the pattern's end.
  let ending = [1];
  let total = 1;
  for (let length = 1; length <= outOf; length += 1) {
    total += ending.reduce((sum, count) => sum + count, 0);
    const open = ending.reduce((sum, count) => sum + count, 0);
    ending = [open, ...ending.slice(0, clearThreshold - 1)];
  }
  return total;
}

/**
 * Commas, colons and ends of lines in a watch file, a scenario or a profile. A parser of YAML keeps about a kilobyte for each
 * and takes some 20 µs, so that four million end it for want of memory; ten years of thirty openings a day have half a million.
 */
export const mostMarks = 1_000_000;

/** Levels of brackets in a file, a row, a link: our own have seven. A parser that goes down for each has only so much stack. */
export const mostLevels = 40;

/** Whether a value lies within limits. */
export function isWithin(value: number, { least, most }: Limits): boolean {
  return value >= least && value <= most;
}

/** States of one limit what it must be to another, beside them. */
export function related(lesser: number, greater: number, why: string): void {
  invariant(lesser <= greater, why, { lesser, greater });
}
