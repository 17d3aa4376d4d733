// The ranges of `tune`: a value fixes a setting, a list gives the values to try, a range bounds them.

import { type DeviceMs, deviceMs } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import {
  mostTunedSettings,
  mostTunedValues,
  type Row,
  type Setting,
  settingOf,
  settings,
} from '../../model/index.js';
import { overrideOf, parseDuration, parseWatchFile } from '../../scenarios/index.js';
import { type Axes, gridOf, type Tuned } from '../../tune/index.js';
import { typedFor } from '../arguments/setting-options.js';
import { optionOf } from '../arguments/watch-overrides.js';
import { problem, valueOf } from '../problem.js';
import type { TuneOptions } from './options.js';

/** A watch file as it was loaded. */
export interface WatchText {
  readonly name: string | null;
  readonly text: string | null;
  readonly watch: WatchSettings;
}

/** @throws InputProblem when a range cannot be read, or all of them come to too much. */
export function settingsToTry(options: TuneOptions, on: WatchText): readonly Tuned[] {
  const { checkInterval, recheckInterval, alertCooldown, escalationThreshold, wakeOn } =
    settings.watch.keys;
  const axis = <Value>(row: Row, valueOf: Axis<Value>['valueOf']): Axis<Value> => {
    const setting = settingOf(row);
    const option = optionOf(setting);
    return { setting, option, typed: typedFor(setting, options), valueOf, on };
  };
  const cooldown = axis(alertCooldown, (watch) => watch.alertCooldownMs);
  const axes: Axes = {
    checkIntervalMs: durations(axis(checkInterval, (watch) => watch.checkIntervalMs)),
    recheckIntervalMs: durations(axis(recheckInterval, (watch) => watch.recheckIntervalMs)),
    // At rest the cooldown changes no bound, so that without being asked none but the file's is tried.
    alertCooldownMs:
      options.anyState === true || cooldown.typed !== undefined
        ? durations(cooldown)
        : [on.watch.alertCooldownMs],
    escalationThreshold: listed(
      axis(escalationThreshold, (watch) => watch.escalationThreshold),
      countsFor('--threshold'),
    ),
    wakeOn: listed(axis(wakeOn, (watch) => watch.wakeOn)),
    ...givenAxes(options, on),
  };
  const count = Object.values(axes).reduce((product, values) => product * values.length, 1);
  if (count > 10 * mostTunedSettings) throw tooMany(count);
  const grid = gridOf(axes);
  if (grid.length > mostTunedSettings) throw tooMany(grid.length);
  return grid;
}

/** What is tried only where values are given for it. */
function givenAxes(options: TuneOptions, on: WatchText) {
  const { clearThreshold, retry, heartbeatInterval } = settings.watch.keys;
  const axis = <Value>(
    row: Row,
    [option, typed]: readonly [option: string, typed: string | undefined],
    valueOf: Axis<Value>['valueOf'],
  ): Axis<Value> | null =>
    typed === undefined ? null : { setting: settingOf(row), option, typed, valueOf, on };
  const clears = axis(clearThreshold, ['--clear', options.clear], (watch) => watch.clearThreshold);
  const retries = axis(
    retry.keys.interval,
    ['--retry', options.retry],
    (watch) => watch.retryIntervalMs,
  );
  const attempts = axis(
    retry.keys.attempts,
    ['--attempts', options.attempts],
    (watch) => watch.retryAttempts,
  );
  const heartbeats = axis(
    heartbeatInterval,
    ['--heartbeat', options.heartbeat],
    (watch) => watch.heartbeatIntervalMs,
  );
  return {
    ...(clears === null ? {} : { clearThreshold: listed(clears, countsFor('--clear')) }),
    ...(retries === null ? {} : { retryIntervalMs: durations(retries) }),
    ...(attempts === null ? {} : { retryAttempts: listed(attempts, countsFor('--attempts')) }),
    ...(heartbeats === null ? {} : { heartbeatIntervalMs: listed(heartbeats) }),
  };
}

function tooMany(count: number) {
  return problem('too-many-settings', 'tune', {
    message: 'these ranges give too many combinations of settings',
    found: `${String(count)} settings`,
    expected: `at most ${String(mostTunedSettings)}`,
    hint: 'fix one of them, such as --wake-on timer, or narrow one, such as --interval 1m..5m',
  });
}

/** A setting that is searched: what was typed for it, and what of a watch it is. */
interface Axis<Value> {
  readonly setting: Setting;
  /** Names the option in messages. */
  readonly option: string;
  readonly typed: string | undefined;
  readonly valueOf: (watch: WatchSettings) => Value;
  readonly on: WatchText;
}

/** One setting in place of the file's, read and checked as the file's own would be. */
function readOne<Value>({ setting, option, valueOf: of, on }: Axis<Value>, text: string): Value {
  const override = overrideOf(setting, text.trim(), option);
  return of(valueOf(parseWatchFile(on.text, on.name ?? 'the defaults', [override])).watch);
}

/** The values that are tried without being asked, the file's last. */
function usual<Value>(axis: Axis<Value>): readonly Value[] {
  const { setting, valueOf: of, on } = axis;
  return [...(setting.row.tried ?? []).map((text) => readOne(axis, text)), of(on.watch)];
}

/** The values of a list, each once. @param spelledOut the single texts of an entry. */
function listed<Value>(
  axis: Axis<Value>,
  spelledOut: (text: string) => readonly string[] = (text) => [text],
): readonly Value[] {
  const values =
    axis.typed?.split(',').flatMap((text) => spelledOut(text).map((one) => readOne(axis, one))) ??
    usual(axis);
  return [...new Map(values.map((value) => [JSON.stringify(value), value])).values()];
}

function durations(axis: Axis<DeviceMs>): readonly DeviceMs[] {
  const values = axis.typed?.includes('..') === true ? within(axis, axis.typed) : listed(axis);
  return values.toSorted((a, b) => a - b);
}

/** `1m..10m`: both ends, and round values between; `1m..10m/30s`: every 30 s from the first on. */
function within(axis: Axis<DeviceMs>, given: string): readonly DeviceMs[] {
  const { option } = axis;
  const [from, rest] = rangeEnds(given) ?? ['', ''];
  const slash = rest.indexOf('/');
  const to = slash < 0 ? rest : rest.slice(0, slash);
  const step = slash < 0 ? undefined : rest.slice(slash + 1);
  const [least, most] = [readOne(axis, from), readOne(axis, to)];
  if (least > most) {
    throw problem('range-upside-down', option, {
      message: 'the range has its larger value first',
      found: given,
      expected: `the smaller value first: ${to.trim()}..${from.trim()}`,
    });
  }
  if (step === undefined) {
    const round = usual(axis).filter((ms) => ms > least && ms < most);
    return [...new Set([least, ...round, most])];
  }
  const stepMs = valueOf(parseDuration(step.trim(), { file: option }));
  if (stepMs < 1) {
    throw problem('out-of-range', option, {
      message: 'the step of this range must be longer than 0',
      found: given,
    });
  }
  const count = Math.floor((most - least) / stepMs) + 1;
  if (count > mostTunedValues) {
    throw problem('out-of-range', option, {
      message: 'the range has too many steps',
      found: given,
      expected: `at most ${String(mostTunedValues)} values`,
    });
  }
  return Array.from({ length: count }, (_, index) => deviceMs(least + index * stepMs));
}

/** `1..3` is 1, 2, 3. */
function countsFor(option: string): (text: string) => readonly string[] {
  return (text) => countTexts(text, option);
}

function countTexts(text: string, option: string): readonly string[] {
  const [, from, to] = /^\s*(\d{1,3})\s*\.\.\s*(\d{1,3})\s*$/u.exec(text) ?? [];
  if (from === undefined || to === undefined) return [text];
  const [first, last] = [Number(from), Number(to)];
  if (first <= last)
    return Array.from({ length: last - first + 1 }, (_, index) => String(first + index));
  throw problem('range-upside-down', option, {
    message: 'the range has its larger value first',
    found: text,
    expected: `the smaller value first: ${to}..${from}`,
  });
}

/** The ends of a range such as `1m..5m`; null for any other text. */
function rangeEnds(text: string): readonly [from: string, to: string] | null {
  const dots = text.indexOf('..', 1);
  return dots < 0 || dots + 2 >= text.length ? null : [text.slice(0, dots), text.slice(dots + 2)];
}
