// The ranges of `tune`: a value fixes a setting, a list gives the values to try, a range bounds them.

import { type DeviceMs, deviceMs } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { parseDuration, parseWatchFile, writeDuration } from '../../scenarios/index.js';
import { type Axes, gridOf, type Tuned } from '../../tune/index.js';
import { overridesOf, rangeEnds, type WatchOptions } from '../arguments/watch-overrides.js';
import { problem, valueOf } from '../problem.js';
import type { TuneOptions } from './options.js';

/** A watch file as it was loaded. */
export interface WatchText {
  readonly name: string | null;
  readonly text: string | null;
  readonly watch: WatchSettings;
}

/** More settings than this are no longer a choice. */
const mostSettings = 20_000;
const mostValues = 2_000;

const usualIntervals = '30s 1m 1m30s 2m 2m30s 3m 4m 5m 6m 8m 10m 15m 20m 30m'.split(' ');
const usualRechecks = '10s 20s 30s 1m 1m30s 2m 3m 5m'.split(' ');
const usualCooldowns = '0s 5m 10m 30m 1h 2h'.split(' ');
const usualThresholds = '1 2 3 2/3 2/4 3/4'.split(' ');
const usualWakes = ['timer', 'opening'];

/** @throws InputProblem when a range cannot be read, or all of them come to too much. */
export function settingsToTry(options: TuneOptions, on: WatchText): readonly Tuned[] {
  const { watch } = on;
  const written = writeDuration;
  const { open, outOf } = watch.escalationThreshold;
  // At rest the cooldown changes no bound, so that without being asked none but the file's is tried.
  const cooldowns = options.anyState === true ? usualCooldowns : [];
  const axes: Axes = {
    checkIntervalMs: durations('interval', options.interval, {
      ...on,
      usual: [...usualIntervals, written(watch.checkIntervalMs)],
    }),
    recheckIntervalMs: durations('recheck', options.recheck, {
      ...on,
      usual: [...usualRechecks, written(watch.recheckIntervalMs)],
    }),
    alertCooldownMs: durations('cooldown', options.cooldown, {
      ...on,
      usual: [...cooldowns, written(watch.alertCooldownMs)],
      inside: usualCooldowns,
    }),
    escalationThreshold: unique(
      thresholdTexts(options.threshold, [...usualThresholds, `${String(open)}/${String(outOf)}`]),
      (text) => settingOf('threshold', text, on).escalationThreshold,
    ),
    wakeOn: unique(
      options.wakeOn?.split(',') ?? [...usualWakes, watch.wakeOn],
      (text) => settingOf('wakeOn', text.trim(), on).wakeOn,
    ),
  };
  const count = Object.values(axes).reduce((product, values) => product * values.length, 1);
  if (count > 10 * mostSettings) throw tooMany(count);
  const grid = gridOf(axes);
  if (grid.length > mostSettings) throw tooMany(grid.length);
  return grid;
}

function tooMany(count: number) {
  return problem('too-many-settings', 'tune', {
    message: 'the ranges come to more settings than can be weighed',
    found: `${String(count)} settings`,
    expected: `at most ${String(mostSettings)}`,
    hint: 'fix one of them, such as --wake-on timer, or bound one, such as --interval 1m..5m',
  });
}

type Axis = 'interval' | 'recheck' | 'cooldown' | 'threshold' | 'wakeOn';

/** One setting in place of the file's, read and checked as the file's own would be. */
function settingOf(axis: Axis, text: string, { name, text: file }: WatchText): WatchSettings {
  const options: WatchOptions = { [axis]: text };
  return valueOf(parseWatchFile(file, name ?? 'the defaults', overridesOf(options))).watch;
}

/** The values of texts, ascending where they have an order, each once. */
function unique<Value>(texts: readonly string[], valueFor: (text: string) => Value): Value[] {
  const seen = new Map<string, Value>();
  for (const text of texts) {
    const value = valueFor(text);
    const key = JSON.stringify(value);
    if (!seen.has(key)) seen.set(key, value);
  }
  return [...seen.values()];
}

function durations(
  axis: 'interval' | 'recheck' | 'cooldown',
  given: string | undefined,
  on: WatchText & { readonly usual: readonly string[]; readonly inside?: readonly string[] },
): DeviceMs[] {
  const msOf = (text: string): DeviceMs => {
    const settings = settingOf(axis, text, on);
    return axis === 'interval'
      ? settings.checkIntervalMs
      : axis === 'recheck'
        ? settings.recheckIntervalMs
        : settings.alertCooldownMs;
  };
  const values =
    given?.includes('..') === true
      ? within(axis, given, { msOf, usual: on.inside ?? on.usual })
      : unique(given?.split(',') ?? on.usual, (text) => msOf(text.trim()));
  return values.toSorted((a, b) => a - b);
}

/** `1m..10m`: both ends, and round values between; `1m..10m/30s`: every 30 s from the first on. */
function within(
  axis: string,
  given: string,
  of: { readonly msOf: (text: string) => DeviceMs; readonly usual: readonly string[] },
): DeviceMs[] {
  const option = `--${axis}`;
  const [from, rest] = rangeEnds(given) ?? ['', ''];
  const slash = rest.indexOf('/');
  const to = slash < 0 ? rest : rest.slice(0, slash);
  const step = slash < 0 ? undefined : rest.slice(slash + 1);
  const [least, most] = [of.msOf(from.trim()), of.msOf(to.trim())];
  if (least > most) {
    throw problem('range-upside-down', option, {
      message: 'the range ends before it begins',
      found: given,
      expected: `the least first: ${to.trim()}..${from.trim()}`,
    });
  }
  if (step === undefined) {
    const round = of.usual.map(of.msOf).filter((ms) => ms > least && ms < most);
    return [...new Set([least, ...round, most])];
  }
  const stepMs = valueOf(parseDuration(step.trim(), { file: option }));
  const count = stepMs < 1 ? mostValues + 1 : Math.floor((most - least) / stepMs) + 1;
  if (count > mostValues) {
    throw problem('out-of-range', option, {
      message: 'the steps of the range are too small',
      found: given,
      expected: `at most ${String(mostValues)} values`,
    });
  }
  return Array.from({ length: count }, (_, index) => deviceMs(least + index * stepMs));
}

/** `1..3` is 1, 2, 3. */
function thresholdTexts(given: string | undefined, usual: readonly string[]): readonly string[] {
  if (given === undefined) return usual;
  return given.split(',').flatMap((text) => {
    const [, from, to] = /^\s*(\d{1,3})\s*\.\.\s*(\d{1,3})\s*$/u.exec(text) ?? [];
    if (from === undefined || to === undefined) return [text.trim()];
    const [first, last] = [Number(from), Number(to)];
    if (first <= last)
      return Array.from({ length: last - first + 1 }, (_, index) => String(first + index));
    throw problem('range-upside-down', '--threshold', {
      message: 'the range ends before it begins',
      found: text,
      expected: `the least first: ${to}..${from}`,
    });
  });
}
