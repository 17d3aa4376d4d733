// The fields of the planner: every key of the watch file, and how the door is used.

import { leastOf } from '../base/index.js';
import { supplyPresetNames } from '../model/index.js';
import { parseDuration } from '../scenarios/index.js';
import type { Form } from './written.js';

export const groups = [
  'Watch',
  'Requirements',
  'Usage',
  'Supply',
  'Messages',
  'Device',
  'Contact and door',
  'What may go wrong',
  'Supply in detail',
] as const;
export type Group = (typeof groups)[number];

export interface Field {
  /** `watch.checkInterval` */
  readonly key: string;
  readonly label: string;
  readonly group: Group;
  readonly form: Form;
  readonly control:
    | { readonly kind: 'text' }
    /** A text that may be longer than a number and a unit; `such` is one. */
    | { readonly kind: 'line'; readonly such: string }
    | { readonly kind: 'choice'; readonly choices: readonly string[] }
    /** A slider over these, and a field for anything between. */
    | { readonly kind: 'steps'; readonly steps: readonly string[] };
}

const intervals = [
  '10s',
  '15s',
  '20s',
  '30s',
  '45s',
  '1m',
  '90s',
  '2m',
  '150s',
  '3m',
  '4m',
  '5m',
  '6m',
  '8m',
  '10m',
  '15m',
  '20m',
  '30m',
  '1h',
];
const counts = ['1', '2', '3', '4', '5', '6'];
const cooldowns = [
  '0s',
  '1m',
  '5m',
  '10m',
  '15m',
  '20m',
  '30m',
  '45m',
  '1h',
  '2h',
  '4h',
  '12h',
  '1d',
];
const gaps = ['2mm', '4mm', '6mm', '8mm', '10mm', '12mm', '16mm', '20mm', '30mm'];
const shares = ['50%', '60%', '70%', '80%', '85%', '90%', '95%', '100%'];
const outages = ['0s', '1m', '5m', '10m', '30m', '1h', '2h', '4h', '12h', '1d'];

const text = { kind: 'text' } as const;
const line = (such: string) => ({ kind: 'line', such }) as const;
const steps = (of: readonly string[]) => ({ kind: 'steps', steps: of }) as const;
const choice = (...choices: readonly string[]) => ({ kind: 'choice', choices }) as const;
const activity = line('31mA for 2s, or 3.8mC');

type Row = readonly [key: string, label: string, control: Field['control'], form?: Form];

const rows: Readonly<Record<Group, readonly Row[]>> = {
  Watch: [
    ['watch.checkInterval', 'Check every', steps(intervals)],
    ['watch.recheckInterval', 'Recheck every', steps(intervals)],
    ['watch.escalationThreshold', 'Open to alert', steps(counts), 'threshold'],
    ['watch.clearThreshold', 'Shut to clear', steps(counts)],
    ['watch.alertCooldown', 'Cooldown', steps(cooldowns)],
    ['watch.cooldownEndsWhenShut', 'Shut ends it', choice('true', 'false')],
    ['watch.wakeOn', 'Woken by', choice('timer', 'opening', 'any-change')],
    ['watch.afterAlert', 'After an alert', choice('keep-watching', 'hold-until-reset')],
  ],
  Requirements: [
    ['judge.leaveOpenAfter', 'Left open from', steps(intervals)],
    ['judge.reportWithin', 'Report within', steps(intervals)],
    ['judge.quietUpTo', 'Quiet up to', steps(intervals)],
  ],
  Usage: [
    [
      'usage.openingsPerDay',
      'Openings per day',
      steps(['1', '2', '5', '10', '15', '20', '30', '50', '100', '200']),
    ],
    [
      'usage.leaveOpenShare',
      'Of them left open',
      steps(['0%', '0.5%', '1%', '2%', '3%', '5%', '10%', '20%', '50%']),
    ],
  ],
  Supply: [
    ['supply.preset', 'Board', choice('', ...supplyPresetNames)],
    [
      'supply.capacity',
      'Battery',
      steps(['150mAh', '300mAh', '600mAh', '900mAh', '1200mAh', '2000mAh', '3000mAh']),
    ],
    ['supply.sleepCurrent', 'Asleep', text],
  ],
  Messages: [
    ['watch.retry.interval', 'Retry after', steps(intervals)],
    ['watch.retry.attempts', 'Attempts in a row', steps(counts)],
    ['watch.unsentWhenShut', 'Unsent when shut', choice('send', 'drop')],
    ['watch.heartbeatInterval', 'Heartbeat every', text],
  ],
  Device: [
    ['device.bootTime', 'Boot time', text, 'range'],
    ['device.connectTime', 'Connect time', text, 'range'],
    ['device.clockError', 'Clock error', line('-2%..2%, or 0C: 1%, 25C: 0%'), 'errorCurve'],
  ],
  'Contact and door': [
    ['contact.operateGap', 'Contact shuts at', steps(gaps)],
    ['contact.releaseGap', 'Contact opens at', steps(gaps)],
    ['contact.bounceTime', 'Bounces for', text],
    ['door.sealGap', 'Door seals up to', steps(gaps)],
  ],
  'What may go wrong': [
    ['environment.longestOutage', 'Longest outage', steps(outages)],
    ['environment.outages', 'Outages', steps(counts)],
    ['environment.outagesApart', 'Apart by', text],
    ['environment.powerLosses', 'Power losses', steps(['0', '1', '2', '3'])],
    ['environment.powerLossLasting', 'Power away for', text],
    ['environment.resets', 'Resets', steps(['0', '1', '2', '3'])],
    ['environment.longestChatter', 'Longest chatter', text],
  ],
  'Supply in detail': [
    ['supply.usable', 'Usable share', steps(shares)],
    ['supply.selfDischarge', 'Self-discharge in 30 days', line('2%'), 'plain'],
    ['supply.celsius', 'Temperature in °C', text],
    ['supply.derating', 'Capacity in the cold', line('0C: 80%, 20C: 100%'), 'derating'],
    ['supply.boot', 'A wake', activity, 'activity'],
    ['supply.blink', 'A blink of the lamp', activity, 'activity'],
    ['supply.connect', 'An alert that is sent', activity, 'activity'],
    ['supply.failedAttempt', 'An attempt that fails', activity, 'activity'],
    ['supply.hold', 'Awake after an alert', line('31mA'), 'activity'],
    ['supply.heartbeat', 'A heartbeat', activity, 'activity'],
    ['supply.contactBias.resistance', 'Pull-up', text],
    ['supply.contactBias.voltage', 'Pulled up to', text],
    ['supply.contactBias.powered', 'Powered', choice('', 'always', 'check-only')],
    ['supply.voltageCurve', 'Voltage by charge left', line('100%: 4.2V, 0%: 3V'), 'voltages'],
  ],
};

export const fields: readonly Field[] = groups.flatMap((group) =>
  rows[group].map(
    ([key, label, control, form = 'plain']): Field => ({ key, label, group, form, control }),
  ),
);

const byKey = new Map(fields.map((field) => [field.key, field]));

export function fieldNamed(key: string): Field | undefined {
  return byKey.get(key);
}

/** The index of the step that comes nearest, on a scale of factors. */
export function nearestStep(steps: readonly string[], written: string): number {
  const wanted = sizeOf(written);
  if (wanted === null) return 0;
  const offs = steps.map((step) =>
    Math.abs(Math.log((sizeOf(step) ?? 0) + 1e-9) - Math.log(wanted + 1e-9)),
  );
  return offs.indexOf(leastOf(offs));
}

/** How much a text says, in whatever unit: steps of one slider share theirs. */
function sizeOf(text: string): number | null {
  const duration = parseDuration(text, { file: '' });
  if (duration.ok) return duration.value;
  const size = Number.parseFloat(text);
  return Number.isNaN(size) ? null : size;
}
