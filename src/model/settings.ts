// The table of settings: one row for each key of the watch file. The file's definition, its schema and reference, the options
// that override it, the fields of the planner, the axes of a search and the writer of watch files are all made from it.
import {
  attemptLimits,
  bounceLimits,
  checkLimits,
  clockErrorLimits,
  faultLimits,
  gapLimits,
  heartbeatLimits,
  joinWaitLimits,
  lengthLimits,
  outageLimits,
  repeatLimits,
  sleepLimits,
  stretchLimits,
  usableLimits,
  voltageLimits,
  workLimits,
} from './limits.js';
import { answer, delivery } from './settings-answer.js';
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
  help: 'What the device does: when it checks the door, when it alerts, and when it stays quiet.',
  heading: 'Watch',
  keys: {
    checkInterval: {
      kind: 'duration',
      range: sleepLimits,
      default: '2m',
      label: 'Check every',
      help: 'How long the device sleeps between two checks.',
      option: { flags: '--interval <duration>', help: 'sleep between checks (checkInterval)' },
      steps: intervals,
      tried: '30s 1m 1m30s 2m 2m30s 3m 4m 5m 6m 8m 10m 15m 20m 30m'.split(' '),
    },
    recheckInterval: {
      kind: 'duration',
      range: sleepLimits,
      otherwise: { like: 'checkInterval' },
      label: 'Recheck every',
      help: 'How long it sleeps after a check that reads open while fewer open checks are counted than escalationThreshold, in a cooldown as well. With enough of them it sleeps checkInterval, and after a failed attempt to send retry.interval. Default: checkInterval.',
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
      help: 'How many open checks in a row decide an alert, or how many out of the last few checks. An alert and its cooldown leave the count as it is.',
      option: {
        flags: '--threshold <checks>',
        help: 'open checks that decide an alert: 2, or 2/3 for 2 out of 3',
      },
      steps: counts,
      tried: '1 2 3 2/3 2/4 3/4'.split(' '),
    },
    clearThreshold: {
      kind: 'count',
      range: checkLimits,
      default: 1,
      label: 'Shut to clear',
      help: 'How many shut checks in a row make the device count the door as shut again.',
      option: {
        flags: '--clear <checks>',
        help: 'shut checks in a row until the door counts as shut again',
      },
      steps: counts,
    },
    alertCooldown: {
      kind: 'duration',
      range: lengthLimits,
      default: '30m',
      label: 'Cooldown',
      help: 'How long the device raises no further alert after it delivers one, whatever the contact reads at that check.',
      option: { flags: '--cooldown <duration>', help: 'quiet time after an alert (alertCooldown)' },
      steps: cooldowns,
      tried: '0s 5m 10m 30m 1h 2h'.split(' '),
    },
    cooldownEndsWhenShut: {
      kind: 'flag',
      default: true,
      label: 'Shut ends it',
      help: 'Whether the cooldown ends at the first check after the delivery at which the device counts the door as shut.',
    },
    afterAlert: {
      kind: 'word',
      words: ['keep-watching', 'hold-until-reset'],
      default: 'keep-watching',
      label: 'After an alert',
      help: 'What the device does after it delivers an alert: it goes on checking, or it stays awake until somebody resets it.',
    },
    retry: {
      kind: 'section',
      help: 'What the device does when it cannot deliver an alert.',
      heading: 'Messages',
      keys: {
        interval: {
          kind: 'duration',
          range: sleepLimits,
          default: '1m',
          label: 'Retry after',
          help: 'How long it sleeps before it tries again.',
          steps: intervals,
        },
        attempts: {
          kind: 'count',
          range: attemptLimits,
          default: 5,
          label: 'Attempts in a row',
          help: 'How many attempts may fail in a row before it waits checkInterval for the next one.',
          steps: counts,
        },
      },
    },
    unsentWhenShut: {
      kind: 'word',
      words: ['send', 'drop'],
      default: 'send',
      label: 'Unsent when shut',
      help: 'What the device does with an undelivered alert when a check reads shut.',
      heading: 'Messages',
    },
    wakeOn: {
      kind: 'word',
      words: ['timer', 'opening', 'any-change'],
      default: 'timer',
      label: 'Woken by',
      help: 'Which changes of the contact wake the device, besides its timer.',
      option: {
        flags: '--wake-on <edges>',
        help: 'what wakes the device: timer, opening or any-change',
      },
      tried: ['timer', 'opening', 'any-change'],
    },
    heartbeatInterval: {
      kind: 'durationOrOff',
      range: heartbeatLimits,
      default: 'off',
      off: 'The device sends no heartbeat.',
      label: 'Heartbeat every',
      help: "The time between two 'alive' messages, or off. One that fails is not tried again.",
      heading: 'Messages',
    },
    lowBattery: {
      kind: 'section',
      help: 'The low-battery message. Give at or atVoltage. Without this section the device sends none.',
      heading: 'Messages',
      isOptional: true,
      absent: 'off',
      keys: {
        at: {
          kind: 'share',
          range: usableLimits,
          label: 'Low battery at',
          help: 'The battery is low from this share of its usable charge on.',
          steps: '5% 10% 15% 20% 25% 30% 40% 50%'.split(' '),
        },
        atVoltage: {
          kind: 'voltage',
          range: voltageLimits,
          label: 'Low battery at voltage',
          help: 'The battery is low from this voltage of the cells on, at rest, before anything is sent.',
        },
        repeat: {
          kind: 'duration',
          range: repeatLimits,
          default: '1d',
          label: 'Repeat it every',
          help: 'How long after the delivery of one the device sends the next, while the battery is low.',
          steps: '1h 6h 12h 1d 2d 1w 2w'.split(' '),
        },
      },
    },
  },
} as const satisfies Section;

const device = {
  kind: 'section',
  help: 'How the device is built.',
  heading: 'Device',
  keys: {
    bootTime: {
      kind: 'timeRange',
      range: workLimits,
      default: '400ms',
      label: 'Boot time',
      help: 'The time from a wake to its check.',
      option: {
        flags: '--boot-time <range>',
        help: 'time from wake to check: 400ms, or 300ms..500ms',
      },
    },
    connectTime: {
      kind: 'timeRange',
      range: workLimits,
      default: '4s',
      label: 'Connect time',
      help: 'The time from a check to the end of its attempt to send.',
      option: {
        flags: '--connect-time <range>',
        help: 'time of one attempt to send: 4s, or 2s..8s',
      },
    },
    joinWait: {
      kind: 'duration',
      range: joinWaitLimits,
      default: '0s',
      label: 'Wait for network',
      help: 'How long at most an attempt to send waits awake for the network after connectTime. Then it fails.',
      option: {
        flags: '--join-wait <duration>',
        help: 'how long an attempt to send waits for the network: 0s, or 1m',
      },
      steps: '0s 5s 10s 30s 1m 2m 5m 10m'.split(' '),
    },
    clockError: {
      kind: 'clockError',
      range: clockErrorLimits,
      default: '0%',
      label: 'Clock error',
      help: 'How wrong the sleep clock runs: a sleep lasts (1 + error) × its nominal length. In % or ppm, to a whole ppm.',
      option: {
        flags: '--clock-error <range>',
        help: 'how wrong the sleep clock runs: 1%, or -2%..2%',
      },
      such: '-2%..2%, or 0C: 1%, 25C: 0%',
    },
    reset: {
      kind: 'section',
      help: 'What a reset does to retained memory. Boards differ: measure yours with a drill, or look it up.',
      absent: 'not given',
      keys: {
        button: {
          kind: 'word',
          words: ['keeps', 'clears'],
          absent: 'not given',
          label: 'Button reset',
          help: 'Whether a reset by button keeps retained memory or clears it. Without it, proofs assume the worse of both.',
          option: {
            flags: '--button-reset <word>',
            help: 'a reset by button keeps or clears retained memory',
          },
        },
        watchdog: {
          kind: 'word',
          words: ['keeps', 'clears'],
          absent: 'not given',
          label: 'Watchdog reset',
          help: 'The same for a reset by watchdog, and after a crash.',
          option: {
            flags: '--watchdog-reset <word>',
            help: 'a reset by watchdog or crash keeps or clears it',
          },
        },
        software: {
          kind: 'word',
          words: ['keeps', 'clears'],
          absent: 'not given',
          label: 'Software reset',
          help: 'The same for a reset that the firmware starts.',
          option: {
            flags: '--software-reset <word>',
            help: 'a reset that the firmware starts keeps or clears it',
          },
        },
      },
    },
  },
} as const satisfies Section;

// Opening a store door for a delivery takes less than 3 minutes.
const judge = {
  kind: 'section',
  help: 'What you require of the watch.',
  heading: 'Requirements',
  keys: {
    leaveOpenAfter: {
      kind: 'duration',
      range: stretchLimits,
      default: '3m',
      label: 'Left open from',
      help: 'An opening at least this long counts as left open, and must be reported.',
      option: {
        flags: '--leave-open-after <duration>',
        help: 'an opening this long counts as left open',
      },
      steps: intervals,
    },
    reportWithin: {
      kind: 'duration',
      range: stretchLimits,
      absent: 'not required',
      label: 'Report within',
      help: 'The alert must arrive within this time from the start of the opening.',
      option: {
        flags: '--report-within <duration>',
        help: 'the alert must arrive within this time',
      },
      steps: intervals,
    },
    quietUpTo: {
      kind: 'duration',
      range: lengthLimits,
      absent: 'not required',
      label: 'Quiet up to',
      help: 'A single opening of at most this length that begins an hour or more after the one before must raise no alert.',
      option: {
        flags: '--quiet-up-to <duration>',
        help: 'an opening up to this long must raise no alert',
      },
      steps: intervals,
    },
  },
} as const satisfies Section;

const contact = {
  kind: 'section',
  help: 'The switch and its magnet. Without this section the contact is ideal.',
  heading: 'Contact and door',
  isOptional: true,
  absent: 'ideal: it reads open exactly while the door is open',
  keys: {
    operateGap: {
      kind: 'gap',
      range: gapLimits,
      isRequired: true,
      label: 'Contact shuts at',
      help: 'While the door closes, the contact reads shut from this gap on.',
      steps: gaps,
    },
    releaseGap: {
      kind: 'gap',
      range: gapLimits,
      isRequired: true,
      label: 'Contact opens at',
      help: 'While the door opens, the contact reads open above this gap.',
      steps: gaps,
    },
    bounceTime: {
      kind: 'duration',
      range: bounceLimits,
      default: '1ms',
      label: 'Bounces for',
      help: 'How long the contact bounces after each change.',
    },
  },
} as const satisfies Section;

const door = {
  kind: 'section',
  help: 'The door.',
  heading: 'Contact and door',
  keys: {
    sealGap: {
      kind: 'gap',
      range: gapLimits,
      default: '2mm',
      label: 'Door seals up to',
      help: 'The largest gap at which the door still seals.',
      steps: gaps,
    },
    opensAtLeast: {
      kind: 'gap',
      range: gapLimits,
      absent: 'not given',
      label: 'Opens at least',
      help: 'The door never rests at a smaller gap than this, unless it seals. Without it, results with a contact hold only for openings wider than releaseGap.',
      steps: '5mm 10mm 15mm 20mm 30mm 40mm 60mm 80mm 100mm'.split(' '),
    },
  },
} as const satisfies Section;

const environment = {
  kind: 'section',
  help: 'What may go wrong around the watch while dozewatch looks for the worst case. Without this section, nothing does.',
  heading: 'What may go wrong',
  absent: 'no faults allowed for',
  keys: {
    longestOutage: {
      kind: 'duration',
      range: lengthLimits,
      default: '0s',
      label: 'Longest outage',
      help: 'How long each network outage lasts at most.',
      option: { flags: '--outage <duration>', help: 'the network may be down for up to this long' },
      steps: outages,
    },
    outages: {
      kind: 'count',
      range: outageLimits,
      otherwise: 1,
      label: 'Outages',
      help: 'How often the network goes down at most. Default: 1, if longestOutage is given.',
      option: { flags: '--outages <count>', help: 'the most outages; default 1' },
      steps: counts,
    },
    outagesApart: {
      kind: 'duration',
      range: lengthLimits,
      otherwise: '0s',
      label: 'Apart by',
      help: 'The shortest time from the end of one outage to the start of the next. Default: 0s.',
      option: {
        flags: '--outages-apart <duration>',
        help: 'the shortest time between two outages; default 0s',
      },
    },
    powerLosses: {
      kind: 'count',
      range: faultLimits,
      default: 0,
      label: 'Power losses',
      help: 'How often the device loses its power at most.',
      option: { flags: '--power-losses <count>', help: 'the most power losses' },
      steps: faults,
    },
    powerLossLasting: {
      kind: 'duration',
      range: stretchLimits,
      otherwise: '1m',
      label: 'Power away for',
      help: 'How long each power loss lasts at most. Default: 1m.',
      option: {
        flags: '--power-loss-lasting <duration>',
        help: 'the longest power loss; default 1m',
      },
    },
    resets: {
      kind: 'count',
      range: faultLimits,
      default: 0,
      label: 'Resets',
      help: 'How often the device is reset at most. The resets may be of any kind (device.reset).',
      option: { flags: '--resets <count>', help: 'the most resets' },
      steps: faults,
    },
    longestChatter: {
      kind: 'duration',
      range: lengthLimits,
      default: '0s',
      label: 'Longest chatter',
      help: 'How long the contact may read shut while the door is open. This happens at most once.',
      option: {
        flags: '--chatter <duration>',
        help: 'the contact may wrongly read shut, once, for up to this long',
      },
    },
  },
} as const satisfies Section;

/** By the sections of the file, in its order. */
export const settings = {
  watch,
  device,
  judge,
  contact,
  door,
  supply,
  answer,
  delivery,
  environment,
} as const;
export type Settings = typeof settings;
