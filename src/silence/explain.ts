// What no message means: the probability of each explanation, given the messages that came. Faults come at their prior rates
// until somebody comes, the life of a charge is log-normal around the computed one, messages are lost independently, and the
// door does what simulated years do. A case is named by the fault that came first. The integrals run over a grid of instants
// between the last alert (or the charge) and now:
//
//   weight of a fault that silences = ∫ density(t) · no other fault before t · E[p^alerts(t)] · missed(heartbeats(t)) dt
//
// with p the share of messages lost, alerts(t) those of a sound device since the start, heartbeats(t) the count of those due since
// the last message, and missed(k) the chance that none of k arrives (heartbeats.ts): p^k where the network has no outages. A contact that reads shut for good ends alerts only: heartbeats go on until another fault. A device that holds after
// its alert sends nothing more until a reset, also after an alert that was lost on the way: then nobody knows that it waits. Only
// an alert that the network took makes it hold; one that finds no network is tried again.
import jStat from 'jstat';
import { cellAt, dayMs, invariant, yearMs } from '../base/index.js';
import { answerAfterMs } from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';
import { type BeatsMissed, beatsDue, beatsMissed } from './heartbeats.js';
import { meanBreakMs, type Priors } from './priors.js';
import { answerOf, type SoundYears, silenceStarts } from './sound-years.js';

export type Explanation =
  | 'quiet'
  | 'lost'
  | 'outage'
  | 'flat'
  | 'holding'
  | 'holding-lost'
  | 'network'
  | 'contact'
  | 'firmware';

/** What is known: instants since the epoch, and the local time of the charge. */
export interface Observed {
  readonly chargedMs: number;
  readonly nowMs: number;
  /** The last of its kind since the charge; null: none. */
  readonly lastAlertMs: number | null;
  readonly lastHeartbeatMs: number | null;
  /** Low-battery messages since the charge; absent or null: none. */
  readonly lowBattery?: LowBatteryHeard | null;
  /** Monday: 0. */
  readonly chargedWeekday: number;
  /** Of the day, in ms. */
  readonly chargedLocalMs: number;
}

/** The first and the last that came, and what was left of the usable charge at the first; null: unknown. */
export interface LowBatteryHeard {
  readonly firstMs: number;
  readonly lastMs: number;
  readonly leftShare: number | null;
}

export interface Explained {
  readonly explanation: Explanation;
  readonly probability: number;
  /** When it began, in the middle and at both ends of 90 %; null: nothing began, or it is known. */
  readonly sinceMs: { readonly middle: number; readonly from: number; readonly to: number } | null;
  /**
   * The chance that the charge is used up by now, if this ended the messages: without network a device still uses its charge, and
   * one that holds uses it faster.
   */
  readonly emptyByNow: number;
}

/** With these the device works, and nothing has begun that ended its messages. */
export const soundExplanations: ReadonlySet<Explanation> = new Set(['quiet', 'lost', 'outage']);

export interface SilenceAnswer {
  /** Since the last message, or the charge. */
  readonly silentSinceMs: number;
  /** Most probable first; empty: with these priors the messages are impossible. */
  readonly explanations: readonly Explained[];
  /** How often a sound device raises no alert since the start, and sends none of the heartbeats due since the last message; one that waits for a reset, its alert lost, is not sound. */
  readonly soundShare: number;
  /** Silences of a sound device: half are longer, and one in 20; null: longer than the simulated years show. */
  readonly soundMiddleMs: number | null;
  readonly soundLongMs: number | null;
  /** Heartbeats that a sound device would have sent since, at least: those of the slowest clock. */
  readonly heartbeatsDue: number;
  /** The computed life of a charge; null: unknown, so that an empty battery is not among the explanations. */
  readonly lifeMs: number | null;
}

const steps = 800;

export interface SilenceQuestion {
  readonly watchFile: Pick<WatchFile, 'watch' | 'timing' | 'answer' | 'environment'>;
  readonly sound: SoundYears;
  readonly priors: Priors;
  readonly observed: Observed;
  /** In place of the computed life of a charge. */
  readonly lifeMs?: number;
}

/** Instants are from here on counted from the start: the last alert, or the charge where none came since. */
interface Case {
  readonly startMs: number;
  readonly lengthMs: number;
  /** The last message after the start; 0: none. */
  readonly heardMs: number;
  /** How long before the start the charge was. */
  readonly sinceChargeMs: number;
  /** When heartbeats are due after the last message. */
  readonly beatsMs: readonly number[];
  /** How probable it is that a device that works is not heard through the first of them. */
  readonly missed: BeatsMissed;
  readonly holds: boolean;
  /** The chance that it still waits for a reset after its last alert. */
  readonly heldShare: number;
  readonly lifeMs: number | null;
  /** How many times as fast as in everyday use the charge goes while it holds; 1 where that is not known. */
  readonly holdSpeed: number;
}

export function explainSilence(question: SilenceQuestion): SilenceAnswer {
  const { sound, priors, observed } = question;
  const one = caseOf(question);
  const starts = startsOf(sound, observed, one.lengthMs);
  invariant(starts.length > 0, 'the simulated years have room for the silence', { one });
  const alerts = alertsSince(sound, starts, { one, priors });
  const weights = weigh(one, priors, alerts);
  const sums = weights.map(({ explanation, masses }) => ({
    explanation,
    masses,
    weight: masses.reduce((sum, mass) => sum + mass, 0),
  }));
  const total = sums.reduce((sum, { weight }) => sum + weight, 0);
  const explanations = sums
    .filter(({ weight }) => weight > 0)
    .map(({ explanation, masses, weight }): Explained => {
      const began = soundExplanations.has(explanation) ? null : masses;
      return {
        explanation,
        probability: total > 0 ? weight / total : 0,
        sinceMs: began === null ? null : sinceOf(one, began, weight),
        emptyByNow: began === null ? 0 : emptyByNow(one, explanation, { masses, priors }),
      };
    })
    .sort((a, b) => b.probability - a.probability);
  const waits = waitsOf(sound, startsOf(sound, observed, 0));
  return {
    silentSinceMs: one.startMs + one.heardMs,
    explanations,
    soundShare: cellAt(silentOf(one, alerts), steps) * cellAt(one.missed.all, one.beatsMs.length),
    soundMiddleMs: waits(0.5),
    soundLongMs: waits(0.95),
    heartbeatsDue: one.beatsMs.length,
    lifeMs: one.lifeMs,
  };
}

/** From the alerts of the simulated years; where none has room for the silence, from the weekday and time at which one came. */
function startsOf(sound: SoundYears, observed: Observed, forMs: number): Float64Array {
  const { lastAlertMs, chargedMs, chargedWeekday, chargedLocalMs } = observed;
  if (lastAlertMs !== null) {
    const starts = silenceStarts(sound, { kind: 'alert' }, forMs);
    if (starts.length > 0) return starts;
  }
  const localMs = chargedLocalMs + ((lastAlertMs ?? chargedMs) - chargedMs);
  const weekday = (chargedWeekday + Math.floor(localMs / dayMs)) % 7;
  return silenceStarts(sound, { kind: 'day', weekday, localMs: localMs % dayMs }, forMs);
}

function caseOf({ watchFile, sound, priors, observed, lifeMs }: SilenceQuestion): Case {
  const { watch } = watchFile;
  const { chargedMs, nowMs, lastAlertMs, lastHeartbeatMs, chargedLocalMs } = observed;
  const startMs = lastAlertMs ?? chargedMs;
  const low = observed.lowBattery ?? null;
  const heardMs = Math.max(0, (lastHeartbeatMs ?? startMs) - startMs, (low?.lastMs ?? 0) - startMs);
  const lengthMs = nowMs - startMs;
  const holds = watch.afterAlert === 'hold-until-reset';
  const localMs = chargedLocalMs + (startMs - chargedMs);
  const missingMs = beatsDue(watchFile, {
    fromMs: (lastHeartbeatMs ?? chargedMs) - startMs,
    lengthMs,
  });
  const arrivedMs = [lastAlertMs, lastHeartbeatMs, low?.lastMs ?? null].flatMap((atMs) =>
    atMs === null ? [] : [atMs - startMs],
  );
  const { longestOutageMs } = watchFile.environment;
  return {
    startMs,
    lengthMs,
    heardMs,
    sinceChargeMs: startMs - chargedMs,
    beatsMs: missingMs.filter((atMs) => atMs > heardMs),
    missed: beatsMissed({ arrivedMs, missingMs, heardMs }, priors, longestOutageMs),
    holds,
    heldShare:
      holds && lastAlertMs !== null && heardMs === 0
        ? heldShare(watchFile, priors, { localMs, forMs: lengthMs })
        : 0,
    lifeMs: lifeMs ?? lifeByWarning(observed) ?? sound.lifeMs,
    holdSpeed: holdSpeedOf(sound),
  };
}

function holdSpeedOf({ lifeMs, heldLifeMs }: SoundYears): number {
  return lifeMs === null || heldLifeMs === null ? 1 : Math.max(1, lifeMs / heldLifeMs);
}

/** From the first low-battery message: how long a whole charge lasts at the rate until then. Null: there was none, or its level is unknown. */
export function lifeByWarning({ chargedMs, lowBattery }: Observed): number | null {
  const leftShare = lowBattery?.leftShare ?? null;
  if (lowBattery == null || leftShare === null) return null;
  const { firstMs } = lowBattery;
  const gone = 1 - leftShare;
  return firstMs > chargedMs && gone > 0 ? (firstMs - chargedMs) / gone : null;
}

/** Nobody answered, or the answer takes longer than this. */
function heldShare(
  { answer }: SilenceQuestion['watchFile'],
  { unansweredShare }: Priors,
  at: { readonly localMs: number; readonly forMs: number },
): number {
  const { afterAlert: delay } = answerOf({ answer });
  const later =
    delay === null
      ? 1
      : delay.kind === 'lognormal'
        ? outlasts(at.forMs, delay.medianMs, delay.sigma)
        : answerAfterMs(delay, at.localMs) > at.forMs
          ? 1
          : 0;
  return unansweredShare + (1 - unansweredShare) * later;
}

/** The share of a log-normal time that is longer than this. */
function outlasts(ms: number, medianMs: number, sigma: number): number {
  if (ms <= 0) return 1;
  if (sigma === 0) return ms < medianMs ? 1 : 0;
  return jStat.normal.cdf(-Math.log(ms / medianMs), 0, sigma);
}

/** Over the grid. */
interface AlertsSince {
  /** That a sound device has sent no alert up to here. */
  readonly none: Float64Array;
  /** That all alerts up to here were lost, or there was none. */
  readonly silent: Float64Array;
}

function alertsSince(
  { alertsMs, longestGapMs }: SoundYears,
  starts: Float64Array,
  { one, priors }: { readonly one: Case; readonly priors: Priors },
): AlertsSince {
  const { lostShare, unusedShare } = priors;
  const none = new Float64Array(steps + 1);
  const silent = new Float64Array(steps + 1);
  none[0] = 1;
  silent[0] = 1;
  const each = 1 / starts.length;
  for (const startMs of starts) {
    let share = 1;
    let next = firstAfterMs(alertsMs, startMs);
    for (; share > negligible; next += 1) {
      const afterMs = (alertsMs[next] ?? Number.POSITIVE_INFINITY) - startMs;
      if (afterMs > one.lengthMs) break;
      const step = Math.ceil((afterMs / one.lengthMs) * steps);
      if (share === 1) none[step] = cellAt(none, step) - each;
      silent[step] = cellAt(silent, step) - each * share * (1 - lostShare);
      share *= lostShare;
    }
  }
  const breaks = { share: unusedShare, meanMs: meanBreakMs(priors, longestGapMs) };
  // Each start counts for as much, so that less than half of one is a rounding error, which is not to be the only explanation.
  const least = each / 2;
  const of = (changes: Float64Array, from: number): Float64Array =>
    withBreaks(summed(changes, from), one, breaks);
  return { none: of(none, least), silent: of(silent, lostShare === 0 ? least : 0) };
}

/**
 * Behind a door that nobody uses there is nothing to report, until it is used again as before: some silences begin with such a
 * break. In those the chance is that of a break this long, and of the rest as if the silence had begun after the break.
 */
function withBreaks(
  chances: Float64Array,
  { lengthMs }: Case,
  { share, meanMs }: { readonly share: number; readonly meanMs: number },
): Float64Array {
  if (share === 0) return chances;
  const lasting = chances.map((_, step) => Math.exp(((-step / steps) * lengthMs) / meanMs));
  const ending = lasting.map((chance, step) =>
    step === 0 ? 0 : cellAt(lasting, step - 1) - chance,
  );
  return chances.map((chance, step) => {
    let after = cellAt(lasting, step);
    for (let end = 1; end <= step; end += 1) {
      after += cellAt(ending, end) * cellAt(chances, step - end);
    }
    return (1 - share) * chance + share * after;
  });
}

/** A chance this small, times that of any fault, changes no figure. */
const negligible = 1e-15;

/** From changes to values, of which none is below zero; those below `least` are zero. */
function summed(changes: Float64Array, least: number): Float64Array {
  let sum = 0;
  return changes.map((change) => {
    sum += change;
    return sum < least ? 0 : Math.max(0, sum);
  });
}

function firstAfterMs(list: Float64Array, ms: number): number {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (cellAt(list, middle) <= ms) low = middle + 1;
    else high = middle;
  }
  return low;
}

interface Weight {
  readonly explanation: Explanation;
  /** By the step of the grid in which it began; of one that did not begin, in its last cell. */
  readonly masses: Float64Array;
}

/** Faults after which nothing is sent, with the chance of being without each up to an instant, given the last message. */
function silencers(
  one: Case,
  { networkPerYear, firmwarePerYear, lifeSpread }: Priors,
): readonly { readonly explanation: Explanation; readonly without: (ms: number) => number }[] {
  const { heardMs } = one;
  const steadily = (perYear: number) => (ms: number) =>
    Math.exp((-perYear * Math.max(0, ms - heardMs)) / yearMs);
  return [
    { explanation: 'network', without: steadily(networkPerYear) },
    { explanation: 'firmware', without: steadily(firmwarePerYear) },
    { explanation: 'flat', without: chargeLeft(one, lifeSpread) },
  ];
}

/** The chance that the charge lasts up to an instant, given the last message. */
function chargeLeft(
  { heardMs, sinceChargeMs, lifeMs }: Case,
  lifeSpread: number,
): (ms: number) => number {
  const lasts = (ms: number): number =>
    lifeMs === null ? 1 : outlasts(sinceChargeMs + ms, lifeMs, lifeSpread);
  // A charge that has outlasted all expectation says that the computed life is wrong, not that it cannot be.
  const lastedThen = Math.max(1e-12, lasts(heardMs));
  return (ms) => (ms <= heardMs ? 1 : Math.min(1, lasts(ms) / lastedThen));
}

/**
 * The charge goes on being used after another fault as before it: it lasts until now as it does given that it lasted until then.
 * Time in which the device holds counts as many times as it uses the charge faster.
 */
function emptyByNow(
  one: Case,
  explanation: Explanation,
  { masses, priors }: { readonly masses: Float64Array; readonly priors: Priors },
): number {
  if (explanation === 'flat') return 1;
  const left = chargeLeft(one, priors.lifeSpread);
  const speed = explanation === 'holding' || explanation === 'holding-lost' ? one.holdSpeed : 1;
  let all = 0;
  let empty = 0;
  masses.forEach((mass, step) => {
    const thenMs = (step / steps) * one.lengthMs;
    const leftThen = left(thenMs);
    const leftNow = left(thenMs + (one.lengthMs - thenMs) * speed);
    all += mass;
    empty += leftThen > 0 ? mass * (1 - leftNow / leftThen) : mass;
  });
  return all > 0 ? empty / all : 0;
}

function weigh(one: Case, priors: Priors, alerts: AlertsSince): readonly Weight[] {
  const { contactPerYear, lostShare } = priors;
  const { missed } = one;
  const cells = (): Float64Array<ArrayBuffer> => new Float64Array(steps + 1);
  const at = (step: number): number => (step / steps) * one.lengthMs;
  const silent = silentOf(one, alerts);
  const kinds = silencers(one, priors);
  const faults = kinds.map(({ explanation, without }) => ({
    explanation,
    without: Float64Array.from({ length: steps + 1 }, (_, step) => without(at(step))),
    masses: cells(),
  }));
  const without = (step: number): number =>
    faults.reduce((product, fault) => product * cellAt(fault.without, step), 1);
  const contactWithout = (step: number): number => Math.exp((-contactPerYear * at(step)) / yearMs);
  const beats = (step: number): number =>
    cellAt(missed.all, one.beatsMs.filter((beatMs) => beatMs <= at(step)).length);
  const contact = cells();
  const held = cells();
  const heldUnheard = cells();
  const lost = cells();
  // From the end: what goes on after a contact that reads shut, as far as heartbeats are concerned.
  let rest = without(steps) * beats(steps);
  for (let step = steps - 1; step >= 0; step -= 1) {
    const [beat, quiet] = [(beats(step) + beats(step + 1)) / 2, mean(silent, step)];
    const [noFault, noFaultNext] = [without(step), without(step + 1)];
    const ends = (noFault - noFaultNext) * beat;
    const contactMean = (contactWithout(step) + contactWithout(step + 1)) / 2;
    const logs = faults.map((fault) =>
      Math.log(cellAt(fault.without, step) / Math.max(1e-300, cellAt(fault.without, step + 1))),
    );
    const allLogs = logs.reduce((sum, log) => sum + log, 0);
    faults.forEach(({ masses }, index) => {
      const part = allLogs > 0 ? (logs[index] ?? 0) / allLogs : 0;
      masses[step] = ends * part * contactMean * quiet;
    });
    contact[step] = (contactWithout(step) - contactWithout(step + 1)) * quiet * (rest + ends / 2);
    if (one.holds && at(step) >= one.heardMs) {
      const first = cellAt(alerts.none, step) - cellAt(alerts.none, step + 1);
      heldUnheard[step] = first * lostShare * ((noFault + noFaultNext) / 2) * contactMean * beat;
    }
    rest += ends;
  }
  const sound = without(steps) * contactWithout(steps);
  const quiet = cells();
  const outage = cells();
  const due = one.beatsMs.length;
  const unmet = cellAt(missed.unmet, due);
  quiet[steps] = due > 0 ? 0 : sound * cellAt(alerts.none, steps);
  lost[steps] = sound * unmet * cellAt(silent, steps) - cellAt(quiet, steps);
  outage[steps] = sound * (cellAt(missed.all, due) - unmet) * cellAt(silent, steps);
  held[0] = 1;
  const all: readonly Weight[] = [
    { explanation: 'quiet', masses: quiet },
    { explanation: 'lost', masses: lost },
    { explanation: 'outage', masses: outage },
    { explanation: 'holding-lost', masses: heldUnheard },
    { explanation: 'contact', masses: contact },
    ...faults,
  ];
  return [
    ...all.map(({ explanation, masses }) => ({
      explanation,
      masses: masses.map((mass) => mass * (1 - one.heldShare)),
    })),
    { explanation: 'holding', masses: held.map((mass) => mass * one.heldShare) },
  ];
}

/** That a device without a fault is silent up to here: one that holds sends no second alert after one that was lost. */
function silentOf({ holds }: Case, { none, silent }: AlertsSince): Float64Array {
  return holds ? none : silent;
}

function mean(list: Float64Array, step: number): number {
  return (cellAt(list, step) + cellAt(list, step + 1)) / 2;
}

function sinceOf(one: Case, masses: Float64Array, weight: number): Explained['sinceMs'] {
  const at = (share: number): number => {
    let sum = 0;
    for (let step = 0; step <= steps; step += 1) {
      const mass = cellAt(masses, step);
      if (sum + mass >= share * weight) {
        const part = mass > 0 ? (share * weight - sum) / mass : 0;
        return Math.round(one.startMs + (Math.min(steps, step + part) / steps) * one.lengthMs);
      }
      sum += mass;
    }
    return Math.round(one.startMs + one.lengthMs);
  };
  return { middle: at(0.5), from: at(0.05), to: at(0.95) };
}

/** Quantiles of the time to the next alert of a sound device; null: beyond what the simulated years show. */
function waitsOf({ alertsMs, lengthMs }: SoundYears, starts: Float64Array) {
  const waits = Float64Array.from(starts, (startMs) => {
    const next = alertsMs[firstAfterMs(alertsMs, startMs)];
    return next === undefined ? Number.POSITIVE_INFINITY : next - startMs;
  }).sort((a, b) => a - b);
  return (share: number): number | null => {
    const wait = waits[Math.min(waits.length - 1, Math.floor(share * waits.length))];
    return wait === undefined || wait > lengthMs ? null : wait;
  };
}
