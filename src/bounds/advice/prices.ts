// What a remedy costs: the life of a charge, shorter openings that raise an alarm, alerts that repeat, a pin that wakes the device.
import {
  greatestOf,
  itemAt,
  numberText,
  roughDurationText,
  roundedDurationText,
  trueMs,
} from '../../base/index.js';
import { costOf, lastsText, lifeText, quietUse } from '../../battery/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { simulate } from '../../sim/index.js';
import { idealContactEdges, middleTiming, noSpans, spansOf } from '../../world/index.js';
import type { NowAndThen, Price, Remedy } from '../answer.js';
import type { BoundsQuestion } from '../question.js';
import { timesOf } from '../times.js';

/** A remedy whose life or quiet is under this share of what it is now makes it much worse. */
const muchWorse = 1 / 2;

/** An alert at every second check or oftener is one at nearly every check. */
const nearlyEvery = 2;

/** False alarms more often than this many times as now, and at least one a month more, make it much worse. */
const manyTimes = 2;
const onceAMonth = 12;

/** False alarms in a year of a watch with these settings; null: nothing can be said of it. */
export type FalseAlarmsPerYear = (watch: WatchSettings) => number | null;

/** What was found out about the two watches by other means than their settings. */
export interface PricedBy {
  /** Up to which length no opening raises an alarm; null: no opening does. */
  readonly quietMs: { readonly now: number | null; readonly then: number | null };
  /** What holds at rest where a remedy is for any state; null: it is for rest, or that is not known. */
  readonly atRest: Price['atRest'];
  readonly falseAlarmsPerYear: FalseAlarmsPerYear | undefined;
}

export function priceOf(
  now: BoundsQuestion,
  then: BoundsQuestion,
  { quietMs, atRest, falseAlarmsPerYear: inYears }: PricedBy,
): Price {
  const lifeMs = lifePrice(now, then);
  const repeats = { now: repeatsEveryMs(now), then: repeatsEveryMs(then) };
  const wakeOn = then.program.watch.wakeOn;
  const falseAlarmsPerYear = falseAlarmsPrice(now, then, inYears);
  return {
    lifeMs,
    quietUpToMs: quietMs,
    repeatsEveryMs: repeats,
    atRest,
    falseAlarmsPerYear,
    wakesOnOpening: wakeOn !== now.program.watch.wakeOn && wakeOn !== 'timer',
    muchWorse: [
      ...(lifeMs !== null && isUnder(lifeMs.then, lifeMs.now) ? (['life'] as const) : []),
      ...(quietMs.now !== null && isUnder(quietMs.then, quietMs.now) ? (['quiet'] as const) : []),
      ...(repeatsAtNearlyEveryCheck(then, repeats) ? (['repeats'] as const) : []),
      ...(areMany(falseAlarmsPerYear) ? (['falseAlarms'] as const) : []),
    ],
  };
}

function falseAlarmsPrice(
  now: BoundsQuestion,
  then: BoundsQuestion,
  inYears: FalseAlarmsPerYear | undefined,
): Price['falseAlarmsPerYear'] {
  const before = inYears?.(now.program.watch) ?? null;
  const after = inYears?.(then.program.watch) ?? null;
  return before === null || after === null ? null : { now: before, then: after };
}

function areMany(rates: Price['falseAlarmsPerYear']): boolean {
  return (
    rates !== null && rates.then > manyTimes * rates.now && rates.then >= rates.now + onceAMonth
  );
}

/** Null is without limit. */
function isUnder(then: number | null, now: number | null): boolean {
  return then !== null && then < (now ?? Number.POSITIVE_INFINITY) * muchWorse;
}

function repeatsAtNearlyEveryCheck(
  { program, timing }: BoundsQuestion,
  { now, then }: Price['repeatsEveryMs'],
): boolean {
  const { bootMs, connectMs, sleeps } = timesOf(program.watch, timing);
  const [{ mostMs }] = sleeps;
  const often = nearlyEvery * (mostMs + bootMs.most + connectMs.most);
  return then !== null && then <= often && isUnder(then, now);
}

/** At a door that nobody opens, as `battery` computes it. */
function lifePrice(now: BoundsQuestion, then: BoundsQuestion): Price['lifeMs'] {
  const { supply, timing } = now;
  if (supply === null) return null;
  const lifeOf = (watch: WatchSettings): number | null =>
    costOf(quietUse(watch, timing), supply).lifeMs;
  const cellsNah = supply.cells === undefined ? null : supply.capacityNah;
  return { now: lifeOf(now.program.watch), then: lifeOf(then.program.watch), cellsNah };
}

/** From one alert to the next while a door stays open and nothing goes wrong, with all times at the middle of their ranges; null: they do not repeat. */
export function repeatsEveryMs({
  program,
  timing,
}: Pick<BoundsQuestion, 'program' | 'timing'>): number | null {
  const { watch } = program;
  if (watch.afterAlert === 'hold-until-reset') return null;
  const { bootMs, connectMs, sleeps, cooldownMs } = timesOf(watch, timing);
  const longestSleepMs = greatestOf(sleeps.map(({ mostMs }) => mostMs));
  const cycleMs = longestSleepMs + bootMs.most + connectMs.most + 1;
  const checks = watch.escalationThreshold.outOf + watch.clearThreshold + 2;
  const lengthMs = 4 * (2 * cooldownMs + checks * cycleMs);
  const openings = spansOf([[0, lengthMs]]);
  const world = {
    lengthMs: trueMs(Math.ceil(lengthMs)),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const experiment = { program, timing: middleTiming(timing), world, seed: '' };
  const { alerts } = simulate(experiment, { record: 'none' });
  const [, last] = alerts.slice(-2);
  if (last === undefined) return null;
  return last.decidedMs - itemAt(alerts, alerts.length - 2).decidedMs;
}

/** The price in clauses: what is worse, what a charge becomes, what must be built. */
export function priceClauses({ price }: Pick<Remedy, 'price'>): readonly string[] {
  return [
    ...restClause(price),
    ...quietClause(price),
    ...falseAlarmsClause(price),
    ...lifeClause(price),
    ...repeatsClause(price.repeatsEveryMs),
    ...pinClause(price),
  ];
}

/** What gets worse at rest, for what gets better from any state. */
function restClause({ atRest }: Price): readonly string[] {
  if (atRest === null) return [];
  const { sureFromMs, worstDelayMs } = atRest;
  const upTo = (ms: number | null, none: string): string =>
    ms === null ? none : roundedDurationText(ms, 'at most');
  const worse = (
    { now, then }: NowAndThen,
    { words, none }: { readonly words: string; readonly none: string },
  ): readonly string[] => {
    const [before, after] = [upTo(now, none), upTo(then, none)];
    const isWorse = now !== null && (then === null || then > now) && before !== after;
    return isWorse ? [`${words} ${after} (now: ${before})`] : [];
  };
  const clauses = [
    ...worse(sureFromMs, { words: 'sure from', none: 'no length' }),
    ...worse(worstDelayMs, { words: 'alert within', none: 'any time' }),
  ];
  return clauses.length === 0 ? [] : [`at rest only ${clauses.join(', ')}`];
}

function quietClause({ quietUpToMs: { now, then } }: Price): readonly string[] {
  const least = (ms: number): string => roundedDurationText(ms, 'at least');
  if (then === null || (now !== null && then >= now)) return [];
  const before = now === null ? 'now: no opening can' : `now: one over ${least(now)}`;
  const shortest =
    then === 0 ? 'even the shortest opening' : `an opening of slightly over ${least(then)}`;
  return [`${shortest} can raise an alarm (${before})`];
}

function falseAlarmsClause({ falseAlarmsPerYear: rates }: Price): readonly string[] {
  if (rates === null) return [];
  const [now, then] = [rateText(rates.now), rateText(rates.then)];
  const alarms =
    then === 'no' ? 'no false alarms' : `about ${counted(then, 'false alarm')} per year`;
  return [
    now === then ? `${alarms}, as now` : `${alarms} instead of ${now === 'no' ? 'none' : now}`,
  ];
}

/** Whole from ten on: the years are few. */
function rateText(perYear: number): string {
  if (perYear === 0) return 'no';
  return perYear >= 10 ? numberText(Math.ceil(perYear)) : String(Math.ceil(perYear * 10) / 10);
}

function counted(count: string, one: string): string {
  return `${count} ${one}${count === '1' ? '' : 's'}`;
}

function lifeClause({ lifeMs }: Price): readonly string[] {
  if (lifeMs === null) return [];
  const { now, then, cellsNah } = lifeMs;
  const life = lifeText(then);
  const lasts = `at a door that nobody opens ${lastsText(cellsNah)}`;
  return [
    lifeText(now) === life
      ? `${lasts} as long, ${life}`
      : `${lasts} ${life} instead of ${lifeText(now)}`,
  ];
}

/** Alerts that come a little oftener or more seldom are no price. */
const noticed = 0.9;

/** Empty: alerts come no more often than now. */
export function repeatsClause({ now, then }: Price['repeatsEveryMs']): readonly string[] {
  if (then === null || (now !== null && then >= noticed * now)) return [];
  const before = now === null ? 'now: only one comes' : `now: every ${roughDurationText(now)}`;
  return [
    `an alert comes about every ${roughDurationText(then)} while the door stays open (${before})`,
  ];
}

function pinClause({ wakesOnOpening }: Price): readonly string[] {
  if (!wakesOnOpening) return [];
  return ['the contact must be on a pin that can wake the device, and each opening wakes it'];
}
