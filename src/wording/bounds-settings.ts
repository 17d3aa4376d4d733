// The settings of a watch file in words: the ones that matter, for a heading.
import { counted, durationText, ppmText } from '../base/index.js';
import type { EscalationThreshold } from '../machine/index.js';
import {
  type ClockErrorRange,
  clockErrorsOf,
  type Environment,
  type RangeMs,
} from '../model/index.js';
import type { WatchFile } from '../scenarios/index.js';

/** What the watch does, in a line. */
export function watchText({ watch }: WatchFile): string {
  const { checkIntervalMs, recheckIntervalMs, alertCooldownMs } = watch;
  const inARow =
    watch.clearThreshold === 1 ? '' : ` at ${String(watch.clearThreshold)} checks in a row`;
  const ends = watch.cooldownEndsWhenShut ? ` or until it sees the door shut${inARow}` : '';
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
    watch.heartbeatIntervalMs === null
      ? ''
      : `a heartbeat every ${durationText(watch.heartbeatIntervalMs)}`,
    watch.lowBattery === undefined ? '' : 'a message when the battery is low',
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

/** `400 ms`, `2 s to 8 s`. */
export function rangeText({ least, most }: RangeMs): string {
  return least === most ? durationText(least) : `${durationText(least)} to ${durationText(most)}`;
}

/** `0.5 %`, `−2 % to 2 %`. */
export function clockErrorText(error: ClockErrorRange): string {
  const { least, most } = clockErrorsOf(error);
  const range = least === most ? ppmText(least) : `${ppmText(least)} to ${ppmText(most)}`;
  return error.kind === 'range' ? range : `${range} (over the temperatures of its curve)`;
}
