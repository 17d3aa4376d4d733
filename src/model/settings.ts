// The table of settings: one row for each key of the watch file. The file's definition, its schema and reference, the options
// that lie over it, the fields of the planner, the axes of a search and what is written of settings are all made from it.
import {
  attemptLimits,
  bounceLimits,
  checkLimits,
  clockErrorLimits,
  faultLimits,
  gapLimits,
  heartbeatLimits,
  lengthLimits,
  outageLimits,
  sleepLimits,
  stretchLimits,
  workLimits,
} from './limits.js';
import type { Section } from './settings-kinds.js';
import { supply } from './settings-supply.js';

const intervals = '10s 15s 20s 30s 45s 1m 90s 2m 150s 3m 4m 5m 6m 8m 10m 15m 20m 30m 1h'.split(' ');
const cooldowns = '0s 1m 5m 10m 15m 20m 30m 45m 1h 2h 4h 12h 1d'.split(' ');
const outages = '0s 1m 5m 10m 30m 1h 2h 4h 12h 1d'.split(' ');
const gaps = '2mm 4mm 6mm 8mm 10mm 12mm 16mm 20mm 30mm'.split(' ');
const counts = '1 2 3 4 5 6'.split(' ');
const faults = '0 1 2 3'.split(' ');

// Every 2 minutes costs a small battery little, and two open checks in a row keep one brief opening from raising an alarm.
const watch = {
  kind: 'section',
  help: 'What the device does.',
  heading: 'Watch',
  keys: {
    checkInterval: {
      kind: 'duration',
      range: sleepLimits,
      default: '2m',
      label: 'Check every',
      help: 'Sleep between checks.',
      option: { flags: '--interval <duration>', help: 'sleep between checks (checkInterval)' },
      steps: intervals,
      tried: '30s 1m 1m30s 2m 2m30s 3m 4m 5m 6m 8m 10m 15m 20m 30m'.split(' '),
    },
    recheckInterval: {
      kind: 'duration',
      range: sleepLimits,
      otherwise: { like: 'checkInterval' },
      label: 'Recheck every',
      help: 'Sleep after an open check that is not yet an alert. Default: checkInterval.',
      option: {
        flags: '--recheck <duration>',
        help: 'sleep after an open check (recheckInterval)',
      },
      steps: intervals,
      tried: '10s 20s 30s 1m 1m30s 2m 3m 5m'.split(' '),
    },
    escalationThreshold: {
      kind: 'threshold',
      range: checkLimits,
      default: 2,
      label: 'Open to alert',
      help: 'So many open checks in a row decide an alert; or so many out of the last few.',
      option: {
        flags: '--threshold <checks>',
        help: 'open checks for an alert: 2, or 2/3 for 2 out of 3',
      },
      steps: counts,
      tried: '1 2 3 2/3 2/4 3/4'.split(' '),
    },
    clearThreshold: {
      kind: 'count',
      range: checkLimits,
      default: 1,
      label: 'Shut to clear',
      help: 'So many shut checks in a row, and the door counts as shut again.',
      option: {
        flags: '--clear <checks>',
        help: 'shut checks in a row that clear its memory (clearThreshold)',
      },
      steps: counts,
    },
    alertCooldown: {
      kind: 'duration',
      range: lengthLimits,
      default: '30m',
      label: 'Cooldown',
      help: 'Quiet time after a delivered alert.',
      option: { flags: '--cooldown <duration>', help: 'quiet time after an alert (alertCooldown)' },
      steps: cooldowns,
      tried: '0s 5m 10m 30m 1h 2h'.split(' '),
    },
    cooldownEndsWhenShut: {
      kind: 'flag',
      default: true,
      label: 'Shut ends it',
      help: 'Whether a door seen shut ends the cooldown.',
    },
    afterAlert: {
      kind: 'word',
      words: ['keep-watching', 'hold-until-reset'],
      default: 'keep-watching',
      label: 'After an alert',
      help: 'What the device does once an alert is delivered.',
    },
    retry: {
      kind: 'section',
      help: 'What it does when an alert is not delivered.',
      heading: 'Messages',
      keys: {
        interval: {
          kind: 'duration',
          range: sleepLimits,
          default: '1m',
          label: 'Retry after',
          help: 'Sleep before the next attempt.',
          steps: intervals,
        },
        attempts: {
          kind: 'count',
          range: attemptLimits,
          default: 5,
          label: 'Attempts in a row',
          help: 'Failed attempts in a row before it falls back to checkInterval.',
          steps: counts,
        },
      },
    },
    unsentWhenShut: {
      kind: 'word',
      words: ['send', 'drop'],
      default: 'send',
      label: 'Unsent when shut',
      help: 'What becomes of an undelivered alert when the door is seen shut.',
      heading: 'Messages',
    },
    wakeOn: {
      kind: 'word',
      words: ['timer', 'opening', 'any-change'],
      default: 'timer',
      label: 'Woken by',
      help: 'Which contact edges wake the device besides its timer.',
      option: { flags: '--wake-on <edges>', help: 'timer, opening or any-change' },
      tried: ['timer', 'opening'],
    },
    heartbeatInterval: {
      kind: 'durationOrOff',
      range: heartbeatLimits,
      default: 'off',
      off: 'No heartbeat.',
      label: 'Heartbeat every',
      help: "Time between 'alive' messages, or off.",
      heading: 'Messages',
    },
  },
} as const satisfies Section;

const device = {
  kind: 'section',
  help: 'The device as it is built.',
  heading: 'Device',
  keys: {
    bootTime: {
      kind: 'timeRange',
      range: workLimits,
      default: '400ms',
      label: 'Boot time',
      help: 'From the wake to the check.',
      option: { flags: '--boot-time <range>', help: 'wake to check: 400ms, or 300ms..500ms' },
    },
    connectTime: {
      kind: 'timeRange',
      range: workLimits,
      default: '4s',
      label: 'Connect time',
      help: 'From the check to the end of an attempt.',
      option: { flags: '--connect-time <range>', help: 'time of an attempt: 4s, or 2s..8s' },
    },
    clockError: {
      kind: 'clockError',
      range: clockErrorLimits,
      default: '0%',
      label: 'Clock error',
      help: 'How wrong the sleep clock runs: a sleep lasts (1 + error) × its nominal length. In % or ppm, whole ppm.',
      option: {
        flags: '--clock-error <range>',
        help: 'how wrong sleeps run: 1%, or -2%..2% (each sleep may differ)',
      },
      such: '-2%..2%, or 0C: 1%, 25C: 0%',
    },
  },
} as const satisfies Section;

// Nobody minds a door that is open for less than 3 minutes.
const judge = {
  kind: 'section',
  help: 'What the owner asks of it.',
  heading: 'Requirements',
  keys: {
    leaveOpenAfter: {
      kind: 'duration',
      range: stretchLimits,
      default: '3m',
      label: 'Left open from',
      help: 'An opening at least this long is a leave-open.',
      option: {
        flags: '--leave-open-after <duration>',
        help: 'from when on it counts as left open',
      },
      steps: intervals,
    },
    reportWithin: {
      kind: 'duration',
      range: stretchLimits,
      label: 'Report within',
      help: 'From the start of an opening to the delivery of its alert.',
      option: { flags: '--report-within <duration>', help: 'how soon it is to be told' },
      steps: intervals,
    },
    quietUpTo: {
      kind: 'duration',
      range: lengthLimits,
      label: 'Quiet up to',
      help: 'One opening of at most this, an hour after the last, must raise no alert.',
      option: {
        flags: '--quiet-up-to <duration>',
        help: 'how long an opening must raise no alert',
      },
      steps: intervals,
    },
  },
} as const satisfies Section;

const contact = {
  kind: 'section',
  help: 'The switch and magnet; without this section, an ideal contact.',
  heading: 'Contact and door',
  isOptional: true,
  keys: {
    operateGap: {
      kind: 'gap',
      range: gapLimits,
      isRequired: true,
      label: 'Contact shuts at',
      help: 'Coming from open, it reads shut at this gap.',
      steps: gaps,
    },
    releaseGap: {
      kind: 'gap',
      range: gapLimits,
      isRequired: true,
      label: 'Contact opens at',
      help: 'Coming from shut, it reads open above this.',
      steps: gaps,
    },
    bounceTime: {
      kind: 'duration',
      range: bounceLimits,
      default: '1ms',
      label: 'Bounces for',
      help: 'How long it bounces after a change.',
    },
  },
} as const satisfies Section;

const door = {
  kind: 'section',
  help: 'The door itself.',
  heading: 'Contact and door',
  keys: {
    sealGap: {
      kind: 'gap',
      range: gapLimits,
      default: '2mm',
      label: 'Door seals up to',
      help: 'Up to this gap the door still seals.',
      steps: gaps,
    },
  },
} as const satisfies Section;

const environment = {
  kind: 'section',
  help: 'What may go wrong around the watch while its bounds are sought; without it, nothing.',
  heading: 'What may go wrong',
  keys: {
    longestOutage: {
      kind: 'duration',
      range: lengthLimits,
      default: '0s',
      label: 'Longest outage',
      help: 'How long the network is down at most, each time.',
      option: { flags: '--outage <duration>', help: 'the network is down, for at most so long' },
      steps: outages,
    },
    outages: {
      kind: 'count',
      range: outageLimits,
      otherwise: 1,
      label: 'Outages',
      help: 'The network is down at most so many times. Default: 1, where longestOutage is given.',
      option: { flags: '--outages <count>', help: 'at most so many times; default 1' },
      steps: counts,
    },
    outagesApart: {
      kind: 'duration',
      range: lengthLimits,
      otherwise: '0s',
      label: 'Apart by',
      help: 'From the end of one outage to the beginning of the next at least. Default: 0s.',
      option: {
        flags: '--outages-apart <duration>',
        help: 'from one to the next at least so long; default 0s',
      },
    },
    powerLosses: {
      kind: 'count',
      range: faultLimits,
      default: 0,
      label: 'Power losses',
      help: 'At most so many losses of power.',
      option: { flags: '--power-losses <count>', help: 'at most so many losses of power' },
      steps: faults,
    },
    powerLossLasting: {
      kind: 'duration',
      range: stretchLimits,
      otherwise: '1m',
      label: 'Power away for',
      help: 'How long the power stays away at most, each time. Default: 1m.',
      option: {
        flags: '--power-loss-lasting <duration>',
        help: 'each for at most so long; default 1m',
      },
    },
    resets: {
      kind: 'count',
      range: faultLimits,
      default: 0,
      label: 'Resets',
      help: 'At most so many resets.',
      option: { flags: '--resets <count>', help: 'at most so many resets' },
      steps: faults,
    },
    longestChatter: {
      kind: 'duration',
      range: lengthLimits,
      default: '0s',
      label: 'Longest chatter',
      help: 'For at most so long, once, the contact may read shut while the door is open.',
      option: {
        flags: '--chatter <duration>',
        help: 'the contact reads shut wrongly, once, for at most so long',
      },
    },
  },
} as const satisfies Section;

/** By the sections of the file, in its order. */
export const settings = { watch, device, judge, contact, door, supply, environment } as const;
export type Settings = typeof settings;
