// Settings in words and cells.

import {
  dayMs,
  durationText,
  figure,
  numberText,
  type Rounded,
  roundedDurationText,
} from '../base/index.js';
import { lifeText } from '../battery/index.js';
import type { WatchSettings } from '../machine/index.js';
import { settings } from '../model/index.js';
import { overrideWith, settingLines, type WatchOverride } from '../scenarios/index.js';
import {
  type RequirementName,
  type Shortfall,
  type Trial,
  type TuneAnswer,
  type Tuned,
  tunedOf,
} from '../tune/index.js';
import { spanText } from './estimate-words.js';

export function thresholdText({ open, outOf }: Tuned['escalationThreshold']): string {
  return open === outOf ? String(open) : `${String(open)} of ${String(outOf)}`;
}

/** A proved bound, which may be none: rounded up, since it is what may happen at most. */
export function boundText(ms: number, none: string): string {
  return Number.isFinite(ms) ? roundedDurationText(ms, 'at most') : none;
}

export function livesText(ms: number): string {
  return lifeText(Number.isFinite(ms) ? ms : null);
}

/** A life beside others and beside what is required: in whole days, however many, so that no two units are to be compared. */
function lifeInDaysText(ms: number): string {
  const text = livesText(ms).replace(/ \(.*\)/u, '');
  return Number.isFinite(ms) && text.endsWith(' years')
    ? `${numberText(Math.floor(ms / dayMs))} d`
    : text;
}

/** Three figures, as an option takes them. */
export function countText(perYear: number, rounded: Rounded): string {
  return figure(perYear, rounded).replaceAll(',', '');
}

/** The settings that are searched, in place of a file's. */
export function tunedOverrides(tuned: Tuned): readonly WatchOverride[] {
  const {
    checkInterval,
    recheckInterval,
    escalationThreshold,
    alertCooldown,
    wakeOn,
    clearThreshold,
    retry,
    heartbeatInterval,
  } = settings.watch.keys;
  const given = <Value>(
    value: Value | undefined,
    override: (value: Value) => WatchOverride,
  ): readonly WatchOverride[] => (value === undefined ? [] : [override(value)]);
  const source = 'tune';
  return [
    overrideWith(checkInterval, tuned.checkIntervalMs, source),
    overrideWith(recheckInterval, tuned.recheckIntervalMs, source),
    overrideWith(escalationThreshold, tuned.escalationThreshold, source),
    overrideWith(alertCooldown, tuned.alertCooldownMs, source),
    overrideWith(wakeOn, tuned.wakeOn, source),
    ...given(tuned.clearThreshold, (count) => overrideWith(clearThreshold, count, source)),
    ...given(tuned.retryIntervalMs, (ms) => overrideWith(retry.keys.interval, ms, source)),
    ...given(tuned.retryAttempts, (count) => overrideWith(retry.keys.attempts, count, source)),
    ...given(tuned.heartbeatIntervalMs, (ms) => overrideWith(heartbeatInterval, ms, source)),
  ];
}

/** What is to be written into a watch file for settings, a line each; empty: it has them. */
export function linesToWrite(watch: WatchSettings, tuned: Tuned): readonly string[] {
  const was = new Set(settingLines(tunedOverrides(tunedOf(watch, tuned))));
  // A recheck interval that is not written down follows the check interval.
  const follows =
    watch.recheckIntervalMs === watch.checkIntervalMs &&
    tuned.checkIntervalMs !== watch.checkIntervalMs;
  return settingLines(tunedOverrides(tuned)).filter(
    (line) => !was.has(line) || (follows && line.startsWith('recheckInterval:')),
  );
}

const requirementNouns: Readonly<Record<RequirementName, string>> = {
  sureFrom: 'sure from',
  worstDelay: 'worst latency',
  quietUpTo: 'quiet up to',
  life: 'life on a charge',
  falseAlarms: 'false alarms per year (the upper end of the interval)',
};

/** What a requirement asks for or what settings come to, rounded to the side on which it stays true. */
function measureText(name: RequirementName, value: number): string {
  if (name === 'falseAlarms') return countText(value, 'up');
  if (!Number.isFinite(value)) return name === 'quietUpTo' ? 'without limit' : 'no bound';
  if (name === 'life') return lifeInDaysText(value);
  return roundedDurationText(value, name === 'quietUpTo' ? 'at least' : 'at most');
}

/**
 * The requirements that cannot be met, a clause each: those that fail alone, each with the best of the settings that meet all
 * others; else first those that no settings meet at all, then what else the nearest settings fail. Empty: some settings meet every
 * requirement.
 */
export function failuresOf({
  recommended,
  relaxations,
  outOfReach,
  nearest,
}: TuneAnswer): readonly string[] {
  if (recommended !== null) return [];
  const clause = ({ name, asked, got }: Shortfall, which: string): string => {
    const side = name === 'life' || name === 'quietUpTo' ? 'at least' : 'at most';
    const required = name === 'life' ? durationText(asked) : measureText(name, asked);
    return `Fails on ${requirementNouns[name]}: ${side} ${required} is required, ${measureText(name, got)} is ${which}`;
  };
  const alone = relaxations.map((shortfall) =>
    clause(shortfall, 'the best with everything else met'),
  );
  if (alone.length > 0 || nearest === null) return alone;
  const isOut = ({ name }: Shortfall): boolean => outOfReach.some((one) => one.name === name);
  return [
    ...outOfReach.map((shortfall) =>
      clause(shortfall, 'the best of any setting tried, whatever else it fails'),
    ),
    ...nearest.shortfalls
      .filter((one) => !isOut(one))
      .map((shortfall) => clause(shortfall, 'what the nearest settings have')),
  ];
}

/** The columns of a trial. */
export const trialColumns = [
  { title: 'check', align: 'right' },
  { title: 'recheck', align: 'right' },
  { title: 'alert at' },
  { title: 'cooldown', align: 'right' },
  { title: 'wakes on' },
  { title: 'sure from', align: 'right' },
  { title: 'worst latency', align: 'right' },
  { title: 'life', align: 'right' },
  { title: 'missed' },
  { title: 'late' },
  { title: 'false alarms' },
] as const;

/** Settings that are searched only where values are given for them: a column each. */
export const givenColumns = [
  { title: 'clears at', align: 'right' },
  { title: 'retry', align: 'right' },
  { title: 'attempts', align: 'right' },
  { title: 'heartbeat', align: 'right' },
] as const;

/** The cells of these columns; null: not searched. */
export function givenCells({ settings }: Trial): readonly (string | null)[] {
  const { clearThreshold, retryIntervalMs, retryAttempts, heartbeatIntervalMs } = settings;
  const heartbeat = heartbeatIntervalMs === null ? 'off' : heartbeatIntervalMs;
  return [clearThreshold, retryIntervalMs, retryAttempts, heartbeat].map((value, index) => {
    if (value === undefined) return null;
    if (typeof value === 'string') return value;
    return index === 1 || index === 3 ? durationText(value) : String(value);
  });
}

/** @param spans whether rates have their intervals. */
export function trialCells({ settings, proved, years }: Trial, spans: boolean): readonly string[] {
  const rate = spans ? knownRate : meanRate;
  return [
    durationText(settings.checkIntervalMs),
    settings.escalationThreshold.open === 1 ? '-' : durationText(settings.recheckIntervalMs),
    thresholdText(settings.escalationThreshold),
    durationText(settings.alertCooldownMs),
    settings.wakeOn,
    boundText(proved.sureFromMs, 'never'),
    boundText(proved.worstDelayMs, 'no limit'),
    lifeInDaysText(years.lifeMs),
    rate(years.rates.missed),
    rate(years.rates.late),
    rate(years.rates.falseAlarms),
  ];
}

/** A rate as one figure; where nothing was seen, what it is at most. */
export function meanRate({ count, perYear, high }: Trial['years']['rates']['falseAlarms']): string {
  return count === 0 ? `at most ${countText(high, 'up')}` : countText(perYear, 'up');
}

export function knownRate({
  count,
  perYear,
  low,
  high,
}: Trial['years']['rates']['falseAlarms']): string {
  if (count === 0) return `at most ${countText(high, 'up')}`;
  return `${countText(perYear, 'up')} (${spanText({ low, high }, countText)})`;
}
