// The settings of a watch file in words: all of them for comparing, the ones that matter for a heading.
import { counted, durationText, ppmText } from '../base/index.js';
import type { EscalationThreshold } from '../machine/index.js';
import {
  type ClockErrorRange,
  clockErrorsOf,
  type Environment,
  type RangeMs,
} from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';

export interface SettingText {
  /** Its key in the watch file. */
  readonly key: string;
  readonly text: string;
}

/** Every setting that bounds depend on, in the order of the watch file. */
export function settingTexts({ watch, timing, judge, ...rest }: WatchFile): readonly SettingText[] {
  const { contact, sealGapUm, opensAtLeastUm, environment } = rest;
  const texts: Readonly<Record<string, string>> = {
    checkInterval: durationText(watch.checkIntervalMs),
    recheckInterval: durationText(watch.recheckIntervalMs),
    escalationThreshold: thresholdText(watch.escalationThreshold),
    clearThreshold: String(watch.clearThreshold),
    alertCooldown: durationText(watch.alertCooldownMs),
    cooldownEndsWhenShut: String(watch.cooldownEndsWhenShut),
    afterAlert: watch.afterAlert,
    retry: `${durationText(watch.retryIntervalMs)}, ${counted(watch.retryAttempts, 'attempt')}`,
    unsentWhenShut: watch.unsentWhenShut,
    wakeOn: watch.wakeOn,
    heartbeatInterval: durationOr(watch.heartbeatIntervalMs, 'off'),
    bootTime: rangeText(timing.bootTime),
    connectTime: rangeText(timing.connectTime),
    joinWait: durationText(timing.joinWaitMs),
    clockError: clockErrorText(timing.clockError),
    leaveOpenAfter: durationText(judge.leaveOpenAfterMs),
    reportWithin: durationOr(judge.reportWithinMs, 'not required'),
    quietUpTo: durationOr(judge.quietUpToMs, 'not required'),
    contact:
      contact === null
        ? 'ideal'
        : `operates at ${mm(contact.operateGapUm)}, releases at ${mm(contact.releaseGapUm)}`,
    sealGap: mm(sealGapUm),
    opensAtLeast: opensAtLeastUm === null ? 'not given' : mm(opensAtLeastUm),
    environment: environmentText(environment),
  };
  return Object.entries(texts).map(([key, text]) => ({ key, text }));
}

/** What the watch does, in a line. */
export function watchText({ watch }: WatchFile): string {
  const { checkIntervalMs, recheckIntervalMs, alertCooldownMs } = watch;
  const ends = watch.cooldownEndsWhenShut ? ' or until it sees the door shut' : '';
  const clauses = [
    `checks every ${durationText(checkIntervalMs)}`,
    // Where the first open check decides an alert, nothing uses the recheck interval.
    recheckIntervalMs === checkIntervalMs || watch.escalationThreshold.open === 1
      ? ''
      : `after an open check every ${durationText(recheckIntervalMs)}`,
    `alerts after ${openChecksText(watch.escalationThreshold)}`,
    watch.clearThreshold === 1
      ? ''
      : `forgets them after ${String(watch.clearThreshold)} shut checks in a row`,
    watch.afterAlert === 'hold-until-reset' ? 'then does nothing until a reset' : '',
    alertCooldownMs === 0 ? 'no cooldown' : `cooldown ${durationText(alertCooldownMs)}${ends}`,
    watch.unsentWhenShut === 'drop' ? 'drops an unsent alert when it sees the door shut' : '',
    watch.wakeOn === 'timer' ? '' : `the contact also wakes it (wakeOn: ${watch.wakeOn})`,
  ];
  return clauses.filter((clause) => clause !== '').join('; ');
}

export function deviceText({ timing }: WatchFile): string {
  const waits =
    timing.joinWaitMs === 0
      ? ''
      : `, waits up to ${durationText(timing.joinWaitMs)} for the network`;
  return `boots in ${rangeText(timing.bootTime)}, connects in ${rangeText(timing.connectTime)}${waits}, clock error ${clockErrorText(timing.clockError)}`;
}

export function environmentText(environment: Environment): string {
  const { powerLosses, longestPowerLossMs, resets, longestChatterMs } = environment;
  const clauses = [
    outagesText(environment),
    powerLosses === 0
      ? ''
      : `up to ${counted(powerLosses, 'power loss', 'power losses')} of up to ${durationText(longestPowerLossMs)}`,
    resets === 0 ? '' : `up to ${counted(resets, 'reset')}`,
    longestChatterMs === 0
      ? ''
      : `one stretch of up to ${durationText(longestChatterMs)} in which the contact may read shut wrongly`,
  ];
  return clauses.filter((clause) => clause !== '').join('; ') || 'nothing';
}

function outagesText({ outages, outagesApartMs, longestOutageMs }: Environment): string {
  if (longestOutageMs === 0) return '';
  const longest = `of up to ${durationText(longestOutageMs)}`;
  if (outages === 1) return `up to 1 network outage ${longest}`;
  const apart = outagesApartMs === 0 ? '' : ` and at least ${durationText(outagesApartMs)} apart`;
  return `up to ${counted(outages, 'network outage')}, each ${longest}${apart}`;
}

function openChecksText({ open, outOf }: EscalationThreshold): string {
  if (open === outOf) return open === 1 ? '1 open check' : `${String(open)} open checks in a row`;
  return `${String(open)} open checks of the last ${String(outOf)}`;
}

function thresholdText({ open, outOf }: EscalationThreshold): string {
  return open === outOf ? `${String(open)} in a row` : `${String(open)} of ${String(outOf)}`;
}

function durationOr(ms: number | null, none: string): string {
  return ms === null ? none : durationText(ms);
}

function rangeText({ least, most }: RangeMs): string {
  return least === most ? durationText(least) : `${durationText(least)} to ${durationText(most)}`;
}

function clockErrorText(error: ClockErrorRange): string {
  const { least, most } = clockErrorsOf(error);
  const range = least === most ? ppmText(least) : `${ppmText(least)} to ${ppmText(most)}`;
  return error.kind === 'range' ? range : `${range} (over the temperatures of its curve)`;
}

function mm(um: number): string {
  return `${String(um / 1_000)} mm`;
}
