// What a sound device sends: the alerts of simulated years, one after the other, and how long its charge lasts with such a door.

import { cellAt, dayMs, hourMs, invariant, yearMs } from '../base/index.js';
import { lastsAtMs, lifeMs, spend, useOf } from '../battery/index.js';
import {
  type AnswerDelay,
  type AnswerSettings,
  holdNa,
  mostSilenceStarts,
} from '../model/index.js';
import {
  livingOf,
  type UsageProfile,
  type WatchFile,
  yearsLivedWith,
  yearWorlds,
} from '../scenarios/index.js';
import { compileWatch, simulate } from '../sim/index.js';
import { deviceTiming, type Spans } from '../world/index.js';

export interface SoundQuestion {
  readonly watchFile: WatchFile;
  readonly profile: UsageProfile;
  readonly seed: string;
  readonly years: number;
}

export interface SoundYears {
  /** When alerts arrived, from the start of the first year, which is a Monday's midnight; ascending. */
  readonly alertsMs: Float64Array;
  readonly lengthMs: number;
  /** The longest time between two openings of the door. */
  readonly longestGapMs: number;
  /** How long a charge lasts with this door; null: no supply is given, or it outlasts a hundred years. */
  readonly lifeMs: number | null;
  /** How long a full charge lasts a device that holds, awake until a reset; null: not known, or over a hundred years. */
  readonly heldLifeMs: number | null;
}

const usualAnswer: AnswerDelay = { kind: 'fixed', ms: hourMs };

/** Of the person, what matters here: where the file says nothing, somebody resets a device that holds after an hour. */
export function answerOf({ answer }: Pick<WatchFile, 'answer'>): AnswerSettings {
  const afterAlert = answer?.afterAlert ?? usualAnswer;
  return { afterAlert, afterMissedHeartbeatMs: null, charges: null };
}

export function soundYears({ watchFile, profile, seed, years }: SoundQuestion): SoundYears {
  const { watch, contact, timing, supply } = watchFile;
  const program = compileWatch(watch);
  const worlds = yearWorlds({ profile, contact, outages: null, powerCuts: null });
  const people = yearsLivedWith({
    ...livingOf(watchFile),
    answer: answerOf(watchFile),
    // A device that holds after an alert that was lost waits for the rest of its year: that one is not sound.
    delivery: { ...watchFile.delivery, lostPpm: 0 },
    supply: null,
  });
  const alerts: number[] = [];
  let life: number | null = null;
  let longestGapMs = 0;
  for (let year = 0; year < years; year += 1) {
    const world = worlds(seed, year);
    longestGapMs = Math.max(longestGapMs, longestGapIn(world.openings));
    const ownSeed = `${seed} year ${String(year)}`;
    const lived = people.livedWith(watch, ownSeed);
    const run = { program, timing: deviceTiming({}, timing), world, seed: ownSeed, ...lived };
    const trace = simulate(run, { record: 'none' });
    if (year === 0 && supply !== null) life = lifeMs(spend(useOf(trace, world), supply), supply);
    const delivered = trace.alerts.flatMap(({ deliveredMs }) => deliveredMs ?? []);
    for (const atMs of delivered.sort((a, b) => a - b)) alerts.push(year * yearMs + atMs);
  }
  invariant(years >= 1, 'there is a year', { years });
  const alertsMs = Float64Array.from(alerts);
  const heldLifeMs = supply === null ? null : lastsAtMs(holdNa(supply), supply);
  return { alertsMs, lengthMs: years * yearMs, longestGapMs, lifeMs: life, heldLifeMs };
}

function longestGapIn({ fromMs, toMs }: Spans): number {
  let longest = 0;
  for (let index = 1; index < fromMs.length; index += 1) {
    longest = Math.max(longest, cellAt(fromMs, index) - cellAt(toMs, index - 1));
  }
  return longest;
}

/** Where silences of a sound device begin: at its alerts, or at this weekday (Monday: 0) and time. */
export type SilenceStart =
  | { readonly kind: 'alert' }
  | { readonly kind: 'day'; readonly weekday: number; readonly localMs: number };

/** The starts, each with room for this long after it; at most some thousand, evenly spread. */
export function silenceStarts(
  { alertsMs, lengthMs }: SoundYears,
  start: SilenceStart,
  forMs: number,
): Float64Array {
  const all = start.kind === 'alert' ? alertsMs : weekly(lengthMs, start);
  const fit = all.filter((atMs) => atMs + forMs <= lengthMs);
  const every = Math.max(1, Math.ceil(fit.length / mostSilenceStarts));
  return fit.filter((_, index) => index % every === 0);
}

/** Year n of an estimate begins on weekday n mod 7. */
function weekly(lengthMs: number, at: { readonly weekday: number; readonly localMs: number }) {
  const days: number[] = [];
  for (let day = 0; day * dayMs < lengthMs; day += 1) {
    const weekday = (Math.floor(day / 365) + (day % 365)) % 7;
    if (weekday === at.weekday) days.push(day * dayMs + at.localMs);
  }
  return Float64Array.from(days);
}
