// The rows of the `supply:` section.
import {
  capacityLimits,
  celsiusLimits,
  currentLimits,
  resistanceLimits,
  usableLimits,
  voltageLimits,
} from './limits.js';
import type { Section } from './settings-kinds.js';
import { renamedPresets, supplyPresetNames } from './supply-presets.js';

const detail = { heading: 'Supply in detail' } as const;
const activity = { kind: 'activity', such: '31mA for 2s, or 3.8mC', ...detail } as const;

export const supply = {
  kind: 'section',
  help: 'The battery: `battery` reads it, and `replay` for the life on a charge.',
  heading: 'Supply',
  isOptional: true,
  keys: {
    preset: {
      kind: 'word',
      words: supplyPresetNames,
      renamed: renamedPresets,
      label: 'Board',
      help: 'Fills in what is not given here.',
    },
    capacity: {
      kind: 'capacity',
      range: capacityLimits,
      isRequired: true,
      label: 'Battery',
      help: 'What a full charge holds.',
      steps: ['150mAh', '300mAh', '600mAh', '900mAh', '1200mAh', '2000mAh', '3000mAh'],
    },
    usable: {
      kind: 'share',
      range: usableLimits,
      otherwise: '100%',
      label: 'Usable share',
      help: 'The share of it that the device can use. Default: 100%.',
      steps: ['50%', '60%', '70%', '80%', '85%', '90%', '95%', '100%'],
      ...detail,
    },
    selfDischarge: {
      kind: 'selfDischarge',
      otherwise: '0%',
      label: 'Self-discharge in 30 days',
      help: 'The share of the capacity lost in every 30 days without use.',
      such: '2%',
      ...detail,
    },
    celsius: {
      kind: 'celsius',
      range: celsiusLimits,
      label: 'Temperature in °C',
      help: 'How warm the battery is; needs derating.',
      ...detail,
    },
    derating: {
      kind: 'derating',
      label: 'Capacity in the cold',
      help: 'What cold leaves of the capacity: points of a curve, straight lines in between.',
      such: '0C: 80%, 20C: 100%',
      ...detail,
    },
    sleepCurrent: {
      kind: 'current',
      range: currentLimits,
      label: 'Asleep',
      help: 'What it draws asleep. Without a preset, it has to be given.',
    },
    boot: {
      ...activity,
      label: 'A wake',
      help: 'From each wake to its check.',
      parts: {
        current: 'The current from each wake to its check.',
        time: 'How long it flows each time; without it, for the boot time of the simulation.',
        charge: 'The charge from each wake to its check, in place of a current.',
      },
    },
    blink: {
      ...activity,
      label: 'A blink of the lamp',
      help: 'The lamp, at each check that reads open. A current needs a time.',
      parts: {
        current: 'The current of the lamp while it is lit.',
        time: 'How long the lamp is lit at each check that reads open; a current needs it.',
        charge: 'The charge of one blink of the lamp, in place of a current and a time.',
      },
    },
    connect: {
      ...activity,
      label: 'An alert that is sent',
      help: 'An alert that is sent.',
      parts: {
        current: 'The current while an alert is sent: the radio joins the network and transmits.',
        time: 'How long it flows for each alert; without it, for the connect time of the simulation.',
        charge: 'The charge of one alert that is sent, in place of a current.',
      },
    },
    failedAttempt: {
      ...activity,
      otherwise: { like: 'connect' },
      label: 'An attempt that fails',
      help: 'An attempt that fails. Default: like connect.',
      parts: {
        current: 'The current during an attempt that fails.',
        time: 'How long a failing attempt draws it; without it, for the connect time of the simulation.',
        charge: 'The charge of one attempt that fails, in place of a current.',
      },
    },
    hold: {
      ...activity,
      label: 'Awake after an alert',
      help: 'Awake after an alert, doing nothing until reset: a current. Default: like boot.',
      such: '31mA',
      parts: {
        current:
          'The current of a device that stays awake after an alert until somebody resets it.',
        time: 'Not to be given: the device stays awake until a reset, however long that takes.',
        charge: 'Not to be given: how much it takes depends on when the reset comes.',
      },
    },
    heartbeat: {
      ...activity,
      otherwise: { like: 'connect' },
      label: 'A heartbeat',
      help: "An 'alive' message. Default: like connect.",
      parts: {
        current: "The current while an 'alive' message is sent.",
        time: 'How long it flows for each message; without it, for the connect time of the simulation.',
        charge: "The charge of one 'alive' message, in place of a current.",
      },
    },
    contactBias: {
      kind: 'section',
      help: 'A pull-up that conducts while the contact is closed (door shut).',
      heading: 'Supply in detail',
      isOptional: true,
      keys: {
        resistance: {
          kind: 'resistance',
          range: resistanceLimits,
          isRequired: true,
          label: 'Pull-up',
          help: 'The pull-up resistor.',
        },
        voltage: {
          kind: 'voltage',
          range: voltageLimits,
          default: '3.3V',
          label: 'Pulled up to',
          help: 'What it pulls up to.',
        },
        powered: {
          kind: 'word',
          words: ['always', 'check-only'],
          default: 'always',
          label: 'Powered',
          help: 'All the time, or from each wake to its check.',
        },
      },
    },
    voltageCurve: {
      kind: 'voltageCurve',
      label: 'Voltage by charge left',
      help: 'The discharge curve: points, straight lines in between.',
      such: '100%: 4.2V, 0%: 3V',
      ...detail,
    },
  },
} as const satisfies Section;
