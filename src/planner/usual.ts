// What holds where a field is empty: the defaults of watch files, and what a preset fills in.
import { presetNumbers, type RangeMs, supplyPresetNames } from '../model/index.js';
import { defaultWatchFile, parseWatchFile, writeDuration } from '../scenarios/index.js';
import { fieldNamed } from './fields.js';
import type { Settings } from './settings.js';
import { writtenOf } from './written.js';

let known: ReadonlyMap<string, string> | null = null;

/** '': nothing is set. */
export function usualOf(key: string, set: Settings): string {
  known ??= new Map(Object.entries(defaults()));
  if (key === 'watch.recheckInterval') {
    return set['watch.checkInterval'] ?? known.get('watch.checkInterval') ?? '';
  }
  return known.get(key) ?? presetText(key, set['supply.preset'] ?? '');
}

function presetText(key: string, preset: string): string {
  const field = fieldNamed(key);
  if (field === undefined || !supplyPresetNames.some((name) => name === preset)) return '';
  const number = presetNumbers(preset).find((one) => `supply.${one.key}` === key);
  return number === undefined ? '' : writtenOf(number.value, field.form);
}

function defaults(): Readonly<Record<string, string>> {
  const { watch, timing, judge, sealGapUm, environment } = defaultWatchFile();
  const { open, outOf } = watch.escalationThreshold;
  const orNothing = (ms: number | null, nothing: string): string =>
    ms === null ? nothing : writeDuration(ms);
  const range = ({ least, most }: RangeMs): string =>
    least === most ? writeDuration(least) : `${writeDuration(least)}..${writeDuration(most)}`;
  return {
    'watch.checkInterval': writeDuration(watch.checkIntervalMs),
    'watch.escalationThreshold': open === outOf ? String(open) : `${String(open)}/${String(outOf)}`,
    'watch.clearThreshold': String(watch.clearThreshold),
    'watch.alertCooldown': writeDuration(watch.alertCooldownMs),
    'watch.cooldownEndsWhenShut': String(watch.cooldownEndsWhenShut),
    'watch.afterAlert': watch.afterAlert,
    'watch.wakeOn': watch.wakeOn,
    'watch.retry.interval': writeDuration(watch.retryIntervalMs),
    'watch.retry.attempts': String(watch.retryAttempts),
    'watch.unsentWhenShut': watch.unsentWhenShut,
    'watch.heartbeatInterval': orNothing(watch.heartbeatIntervalMs, 'off'),
    'device.bootTime': range(timing.bootTime),
    'device.connectTime': range(timing.connectTime),
    'device.clockError': errorText(timing.clockError),
    'judge.leaveOpenAfter': writeDuration(judge.leaveOpenAfterMs),
    'judge.reportWithin': orNothing(judge.reportWithinMs, ''),
    'judge.quietUpTo': orNothing(judge.quietUpToMs, ''),
    'door.sealGap': `${String(sealGapUm / 1_000)}mm`,
    'contact.bounceTime': usualBounce(),
    'environment.longestOutage': writeDuration(environment.longestOutageMs),
    'environment.outages': String(environment.outages),
    'environment.outagesApart': writeDuration(environment.outagesApartMs),
    'environment.powerLosses': String(environment.powerLosses),
    'environment.powerLossLasting': writeDuration(environment.longestPowerLossMs),
    'environment.resets': String(environment.resets),
    'environment.longestChatter': writeDuration(environment.longestChatterMs),
  };
}

function errorText(error: ReturnType<typeof defaultWatchFile>['timing']['clockError']): string {
  if (error.kind === 'byTemperature') return '';
  const percent = (ppm: number): string => `${String(ppm / 10_000)}%`;
  return error.least === error.most
    ? percent(error.least)
    : `${percent(error.least)}..${percent(error.most)}`;
}

/** A contact has a bounce once it has gaps. */
function usualBounce(): string {
  const read = parseWatchFile('contact: { operateGap: 8mm, releaseGap: 12mm }', 'contact');
  return read.ok && read.value.contact !== null ? writeDuration(read.value.contact.bounceMs) : '';
}
