// The rows of the `answer:` and `delivery:` sections.
import { answerLimits, chargeIntervalLimits, lostLimits } from './limits.js';
import type { Section } from './settings-kinds.js';

export const answer = {
  kind: 'section',
  help: 'The person: how soon somebody answers an alert, and how the battery is charged. Estimates, tune, year and generated scenarios use it; replay, suite and rig use charges only.',
  heading: 'The person',
  isOptional: true,
  keys: {
    afterAlert: {
      kind: 'answerDelay',
      range: answerLimits,
      label: 'Answers an alert after',
      help: 'How long after the delivery of an alert somebody resets a device that holds: a duration; median with sigma, the standard deviation of its logarithm (0.5 is narrow, 1.5 wide; default 0); or day and night, two durations, with the times of day at which the night begins and ends, nightFrom (default 22:00) and nightUntil (06:30).',
      such: '15m, or { median: 15m, sigma: 0.8 }, or { day: 15m, night: 8h, nightFrom: "22:00", nightUntil: "06:30" }',
    },
    afterMissedHeartbeat: {
      kind: 'duration',
      range: answerLimits,
      label: 'Answers silence after',
      help: 'How long after no heartbeat has come for 1.5 heartbeat intervals somebody charges and resets it. The intervals count from the last heartbeat that came, or from when somebody last reset the device or charged it empty; alerts and other messages do not count.',
    },
    charges: {
      kind: 'section',
      help: 'When somebody charges the battery: one of the two keys.',
      heading: 'The person',
      isOptional: true,
      keys: {
        every: {
          kind: 'duration',
          range: chargeIntervalLimits,
          label: 'Charges every',
          help: 'The time between two charges, counted from power-on.',
          steps: '1w 2w 3w 4w 6w 8w 12w 26w'.split(' '),
        },
        afterWarning: {
          kind: 'duration',
          range: answerLimits,
          label: 'Charges after a warning',
          help: 'The time from the first low-battery message that is delivered (watch.lowBattery) to the charge.',
          steps: '1h 6h 12h 1d 2d 3d 1w'.split(' '),
        },
      },
    },
  },
} as const satisfies Section;

export const delivery = {
  kind: 'section',
  help: 'What can happen to a message after the network accepted it. Estimate, margin and year use it; replay and bounds do not.',
  heading: 'The person',
  keys: {
    lost: {
      kind: 'share',
      range: lostLimits,
      default: '0%',
      label: 'Messages lost',
      help: 'The share of messages that are lost after the network accepted them, each independently.',
    },
    seenAfter: {
      kind: 'duration',
      range: answerLimits,
      default: '0s',
      label: 'Seen after',
      help: 'The time from the delivery of a message until somebody sees it.',
    },
  },
} as const satisfies Section;
