// The rows of the `supply:` section.

import { cellNames } from './cells.js';
import {
  capacityLimits,
  cellCountLimits,
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
  help: 'The battery and what the device draws from it. battery and tune need it; replay and report use it if it is there.',
  heading: 'Supply',
  isOptional: true,
  keys: {
    preset: {
      kind: 'word',
      words: supplyPresetNames,
      renamed: renamedPresets,
      label: 'Board',
      help: 'A board whose currents stand in for every key that is not given here.',
    },
    capacity: {
      kind: 'capacity',
      range: capacityLimits,
      label: 'Battery',
      help: 'How much charge the full battery holds; with cells, one cell, in place of what its kind usually holds. It is required without cells, and for a pouch or coin cell.',
      steps: ['150mAh', '300mAh', '600mAh', '900mAh', '1200mAh', '2000mAh', '3000mAh'],
    },
    cells: {
      kind: 'word',
      words: cellNames,
      label: 'Cells',
      help: 'Cells as they are bought, in place of usable; capacity and selfDischarge then replace what is usual for the kind, as for low-self-discharge cells: 2%.',
      ...detail,
    },
    series: {
      kind: 'count',
      range: cellCountLimits,
      label: 'Cells in series',
      help: 'How many cells are in series. Default: 1. It needs cells.',
      ...detail,
    },
    parallel: {
      kind: 'count',
      range: cellCountLimits,
      label: 'Cells in parallel',
      help: 'How many of these strings are in parallel. Default: 1. It needs cells.',
      ...detail,
    },
    regulator: {
      kind: 'section',
      help: 'The regulator between cells and device. It needs cells; the currents of this section, and that through the pull-up of the contact, are then those of the device.',
      heading: 'Supply in detail',
      isOptional: true,
      keys: {
        kind: {
          kind: 'word',
          words: ['linear', 'boost', 'buck'],
          isRequired: true,
          label: 'Regulator',
          help: 'What it does: linear passes the current on, boost raises the voltage, buck lowers it.',
        },
        quiescent: {
          kind: 'current',
          range: currentLimits,
          isRequired: true,
          label: 'Regulator alone',
          help: 'What the regulator draws from the cells, always. A whole board draws 2.1 to 2.6 times as much as its chip.',
        },
        efficiency: {
          kind: 'share',
          range: usableLimits,
          label: 'Efficiency',
          help: 'Of a boost or buck regulator: the share of the power that arrives. At light loads 40 to 90 %.',
        },
        voltage: {
          kind: 'voltage',
          range: voltageLimits,
          default: '3.3V',
          label: 'Regulated to',
          help: 'The voltage that the device gets.',
        },
      },
    },
    usable: {
      kind: 'share',
      range: usableLimits,
      otherwise: '100%',
      label: 'Usable share',
      help: 'The share of the capacity that the device can use. Default: 100%.',
      steps: ['50%', '60%', '70%', '80%', '85%', '90%', '95%', '100%'],
      ...detail,
    },
    selfDischarge: {
      kind: 'selfDischarge',
      otherwise: '0%',
      label: 'Self-discharge in 30 days',
      help: 'The share of the capacity that the battery loses in every 30 days without use. Default: 0%, or what is usual for the cells.',
      such: '2%',
      ...detail,
    },
    celsius: {
      kind: 'celsius',
      range: celsiusLimits,
      label: 'Temperature in °C',
      help: 'The temperature of the battery. Without cells it needs a derating curve.',
      ...detail,
    },
    derating: {
      kind: 'derating',
      label: 'Capacity in the cold',
      help: 'How much of the capacity is left at each temperature: points of a curve, with straight lines in between.',
      such: '0C: 80%, 20C: 100%',
      ...detail,
    },
    sleepCurrent: {
      kind: 'current',
      range: currentLimits,
      label: 'Asleep',
      help: 'The current while the device sleeps. It is required without a preset.',
    },
    boot: {
      ...activity,
      label: 'A wake',
      help: 'What the device draws from each wake to its check.',
      parts: {
        current: 'The current from each wake to its check.',
        time: 'How long this current flows each time. Without it, as long as the simulated boot takes.',
        charge: 'The charge from each wake to its check, instead of a current.',
      },
    },
    blink: {
      ...activity,
      label: 'A blink of the lamp',
      help: 'What the lamp draws at each check that reads open. A current needs a time.',
      parts: {
        current: 'The current of the lamp while it is lit.',
        time: 'How long the lamp is lit at each check that reads open. A current needs it.',
        charge: 'The charge of one blink, instead of a current and a time.',
      },
    },
    connect: {
      ...activity,
      label: 'An alert that is sent',
      help: 'What the device draws while it sends an alert.',
      parts: {
        current: 'The current while the radio joins the network and transmits an alert.',
        time: 'How long this current flows for each alert. Without it, as long as the simulated attempt takes.',
        charge: 'The charge of one delivered alert, instead of a current.',
      },
    },
    failedAttempt: {
      ...activity,
      otherwise: { like: 'connect' },
      label: 'An attempt that fails',
      help: 'What the device draws in an attempt to send that fails. Default: the same as connect.',
      parts: {
        current: 'The current during an attempt that fails.',
        time: 'How long this current flows in each failed attempt. Without it, as long as the simulated attempt takes.',
        charge: 'The charge of one failed attempt, instead of a current.',
      },
    },
    hold: {
      ...activity,
      label: 'Awake after an alert',
      help: 'The current of a device that stays awake after an alert until somebody resets it. Default: the same as boot.',
      such: '31mA',
      parts: {
        current:
          'The current of a device that stays awake after an alert until somebody resets it.',
        time: 'Leave this out: the device stays awake until a reset, however long that takes.',
        charge: 'Leave this out: the charge depends on when the reset comes.',
      },
    },
    heartbeat: {
      ...activity,
      otherwise: { like: 'connect' },
      label: 'A heartbeat',
      help: "What the device draws while it sends an 'alive' message. Default: the same as connect.",
      parts: {
        current: "The current while the device sends an 'alive' message.",
        time: 'How long this current flows for each message. Without it, as long as the simulated attempt takes.',
        charge: "The charge of one 'alive' message, instead of a current.",
      },
    },
    contactBias: {
      kind: 'section',
      help: 'A pull-up resistor that conducts while the contact is closed, that is, while the door is shut.',
      heading: 'Supply in detail',
      isOptional: true,
      keys: {
        resistance: {
          kind: 'resistance',
          range: resistanceLimits,
          isRequired: true,
          label: 'Pull-up',
          help: 'The resistance of the pull-up.',
        },
        voltage: {
          kind: 'voltage',
          range: voltageLimits,
          otherwise: { like: 'regulator.voltage' },
          label: 'Pulled up to',
          help: 'The voltage that it pulls up to. Default: regulator.voltage, or 3.3V without a regulator.',
        },
        powered: {
          kind: 'word',
          words: ['always', 'check-only'],
          default: 'always',
          label: 'Powered',
          help: 'When the pull-up has power: always, or only from each wake to its check.',
        },
      },
    },
    voltageCurve: {
      kind: 'voltageCurve',
      label: 'Voltage by charge left',
      help: 'The discharge curve: the voltage at each charge left, as points with straight lines in between. 100% is a full charge, 0% the end of what the battery gives at celsius.',
      such: '100%: 4.2V, 0%: 3V',
      ...detail,
    },
  },
} as const satisfies Section;
