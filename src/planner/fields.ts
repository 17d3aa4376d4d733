// The fields of the planner: each is a key of the watch file, or scales how the door is used.

import { leastOf } from '../base/index.js';
import { parseDuration } from '../scenarios/index.js';

export interface Field {
  /** `watch.checkInterval` */
  readonly key: string;
  readonly label: string;
  readonly group: 'Watch' | 'Asked' | 'Usage' | 'Supply' | 'Contact' | 'Device';
  /** What stands where nothing is set. */
  readonly usual: string;
  readonly control:
    | { readonly kind: 'text' }
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
const text = { kind: 'text' } as const;
const steps = (of: readonly string[]) => ({ kind: 'steps', steps: of }) as const;
const choice = (...choices: readonly string[]) => ({ kind: 'choice', choices }) as const;

export const fields: readonly Field[] = [
  {
    key: 'watch.checkInterval',
    label: 'Check every',
    group: 'Watch',
    usual: '3m',
    control: steps(intervals),
  },
  {
    key: 'watch.recheckInterval',
    label: 'Recheck every',
    group: 'Watch',
    usual: '',
    control: steps(intervals),
  },
  {
    key: 'watch.escalationThreshold',
    label: 'Open to alert',
    group: 'Watch',
    usual: '2',
    control: steps(counts),
  },
  {
    key: 'watch.clearThreshold',
    label: 'Shut to clear',
    group: 'Watch',
    usual: '1',
    control: steps(counts),
  },
  {
    key: 'watch.alertCooldown',
    label: 'Cooldown',
    group: 'Watch',
    usual: '30m',
    control: steps(cooldowns),
  },
  {
    key: 'watch.wakeOn',
    label: 'Woken by',
    group: 'Watch',
    usual: 'timer',
    control: choice('timer', 'opening', 'any-change'),
  },
  {
    key: 'watch.afterAlert',
    label: 'After an alert',
    group: 'Watch',
    usual: 'keep-watching',
    control: choice('keep-watching', 'hold-until-reset'),
  },
  { key: 'device.bootTime', label: 'Boot time', group: 'Device', usual: '400ms', control: text },
  { key: 'device.connectTime', label: 'Connect time', group: 'Device', usual: '4s', control: text },
  { key: 'device.clockError', label: 'Clock error', group: 'Device', usual: '0%', control: text },
  {
    key: 'judge.leaveOpenAfter',
    label: 'Left open from',
    group: 'Asked',
    usual: '3m',
    control: steps(intervals),
  },
  {
    key: 'judge.reportWithin',
    label: 'Told within',
    group: 'Asked',
    usual: '',
    control: steps(intervals),
  },
  {
    key: 'judge.quietUpTo',
    label: 'Quiet up to',
    group: 'Asked',
    usual: '',
    control: steps(intervals),
  },
  {
    key: 'usage.openingsPerDay',
    label: 'Openings a day',
    group: 'Usage',
    usual: '',
    control: steps(['1', '2', '5', '10', '15', '20', '30', '50', '100', '200']),
  },
  {
    key: 'usage.leaveOpenShare',
    label: 'Of them left open',
    group: 'Usage',
    usual: '',
    control: steps(['0%', '0.5%', '1%', '2%', '3%', '5%', '10%', '20%', '50%']),
  },
  {
    key: 'contact.operateGap',
    label: 'Contact shuts at',
    group: 'Contact',
    usual: '',
    control: steps(gaps),
  },
  {
    key: 'contact.releaseGap',
    label: 'Contact opens at',
    group: 'Contact',
    usual: '',
    control: steps(gaps),
  },
  {
    key: 'supply.preset',
    label: 'Board',
    group: 'Supply',
    usual: '',
    control: choice('', 'bare-radio-module', 'maker-board', 'tuned-board'),
  },
  {
    key: 'supply.capacity',
    label: 'Battery',
    group: 'Supply',
    usual: '',
    control: steps(['100mAh', '200mAh', '400mAh', '600mAh', '1000mAh', '2000mAh', '3000mAh']),
  },
  { key: 'supply.sleepCurrent', label: 'Asleep', group: 'Supply', usual: '', control: text },
];

/** The value of a field as a parsed file holds it; 2/3 is two open checks out of the last three. */
export function valueOf(written: string): unknown {
  const [, open, outOf] = /^(\d+)\s*\/\s*(\d+)$/u.exec(written) ?? [];
  if (open !== undefined && outOf !== undefined) {
    return { open: Number(open), outOf: Number(outOf) };
  }
  return /^\d+$/u.test(written) ? Number(written) : written;
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
