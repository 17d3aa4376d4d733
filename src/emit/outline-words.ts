// The words of a diagram's states.
import { counted, durationText } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';

/** States of a diagram, in the order in which it shows them. */
export type OutlineKind = 'off' | 'watching' | 'counting' | 'unsent' | 'delivered' | 'held';

const titles: Readonly<Record<OutlineKind, string>> = {
  off: 'No power',
  watching: 'Watching',
  counting: 'After the first open check',
  unsent: 'Alert unsent',
  delivered: 'Alert delivered',
  held: 'Held',
};

export function titleOf(kind: OutlineKind): string {
  return titles[kind];
}

export function noteOf(kind: OutlineKind, watch: WatchSettings): string {
  const { open, outOf } = watch.escalationThreshold;
  const clear =
    watch.clearThreshold === 1 ? 'one shut check' : `a run of ${watch.clearThreshold} shut checks`;
  switch (kind) {
    case 'off':
      return 'nothing is remembered';
    case 'watching':
      return 'asleep, the door was seen shut';
    case 'counting':
      return `asleep, seen open; an alert at ${open} open of the last ${outOf}; ${clear} clears`;
    case 'unsent':
      return `asleep, to be sent again; after ${counted(watch.retryAttempts, 'failure')} in a row it sleeps ${durationText(watch.checkIntervalMs)}, the check interval`;
    case 'delivered': {
      const ends = watch.cooldownEndsWhenShut ? `, which ${clear} ends` : '';
      return `asleep, cooldown of ${durationText(watch.alertCooldownMs)}${ends}`;
    }
    case 'held':
      return 'awake, doing nothing until reset';
  }
}

export function alwaysWords(watch: WatchSettings): readonly string[] {
  const edges = {
    timer: '',
    opening: ' or a contact that opens',
    'any-change': ' or any contact edge',
  };
  return [
    `A sleep ends by its timer${edges[watch.wakeOn]}; each step is one wake with its check.`,
    ...(watch.heartbeatIntervalMs === null
      ? []
      : [
          `A check without an attempt to send an alert sends a heartbeat once ${durationText(watch.heartbeatIntervalMs)} has passed since the last.`,
        ]),
    ...(watch.lowBattery === undefined
      ? []
      : [
          `While the battery is low, a check also sends the low-battery message, after an alert or alone, unless one was delivered less than ${durationText(watch.lowBattery.repeatMs)} ago.`,
        ]),
    'At any time a loss of power leads to No power, and a reset wakes the device. If the reset keeps retained memory, the device remembers all; if it clears it (device.reset in the watch file), nothing.',
  ];
}
