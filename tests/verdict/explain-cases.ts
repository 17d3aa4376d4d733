// Leave-opens that no alert was decided for, and the one sentence that says why.
import { deviceMs } from '../../src/base/index.js';
import { type Case, noNetwork, type Story, stuck } from './explain-story.js';

const forever = Number.POSITIVE_INFINITY;
const twoHours: Story = {
  watch: {
    checkIntervalMs: deviceMs(7_200_000),
    recheckIntervalMs: deviceMs(7_200_000),
    escalationThreshold: { open: 2, outOf: 3 },
    clearThreshold: 2,
  },
};

// Checks of the plain watch: 400, 180 800, 361 200, 541 600 …
export const neverChecked: readonly Case[] = [
  {
    name: 'an opening between two checks',
    story: { openings: [[1_600, 176_800]] },
    says: ['opening 0: opened 1.2 s after a check, shut 4 s before the next one'],
  },
  {
    name: 'an opening between two checks of a watch that would hold',
    story: { watch: { afterAlert: 'hold-until-reset' }, openings: [[1_600, 176_800]] },
    says: ['opening 0: opened 1.2 s after a check, shut 4 s before the next one'],
  },
  {
    name: 'an opening while there is no power',
    story: { openings: [[200_000, 300_000]], powerLost: [[190_000, 400_000]] },
    says: ['opening 0: the device had no power while it was open'],
  },
  {
    name: 'an opening while the device holds',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 200_000],
        [300_000, 900_000],
      ],
    },
    says: [
      'opening 1: the device had been waiting for a reset since an alert delivered 1 min 55 s before it opened',
    ],
  },
  {
    name: 'an opening that no check reaches before the end',
    story: { lengthMs: 150_000, openings: [[1_000, forever]], reportWithinMs: 100_000 },
    says: [
      'opening 0: opened 600 ms after a check, and no other came before the end of the timeline',
    ],
  },
  {
    name: 'openings around a wake that a reset cut short',
    story: {
      openings: [
        [1_600, 170_000],
        [181_100, 300_000],
      ],
      resetsMs: [180_600],
    },
    says: [
      'opening 0: opened 1.2 s after a check, shut 11 s before the next one',
      'opening 1: opened 100 ms after a check, shut 1 min 1 s before the next one',
    ],
  },
  {
    name: 'an opening after hours of quiet',
    story: { lengthMs: 40_000_000, openings: [[35_901_500, 36_079_000]] },
    says: ['opening 0: opened 1.5 s after a check, shut 1.4 s before the next one'],
  },
  {
    name: 'an opening before the device has power for the first time',
    story: { powerOnAtMs: 500_000, openings: [[0, 200_000]] },
    says: ['opening 0: the device had no power while it was open'],
  },
  {
    name: 'an opening in the life of a device that never has power',
    story: { powerOnAtMs: 7_200_000, openings: [[0, 200_000]] },
    says: ['opening 0: the device had no power while it was open'],
  },
];

export const notDecided: readonly Case[] = [
  {
    name: 'a contact stuck shut',
    story: {
      openings: [[10_000, 1_000_000]],
      contact: stuck([[10_000, 1_000_000]], 'shut', [0, 2_000_000]),
    },
    says: ['opening 0: 5 checks came while it was open, but the contact read shut each time'],
  },
  {
    name: 'a re-opening within the cooldown',
    story: {
      openings: [
        [10_000, 500_000],
        [520_000, 1_500_000],
        [4_000_000, 5_000_000],
      ],
    },
    says: [
      'opening 1: 6 checks found the contact open often enough for an alert, but the cooldown of an alert delivered 3 min before the first of them held back a new alert, and the device had not seen the door shut in between',
    ],
  },
  {
    name: 'an earlier alert that is still unsent',
    story: {
      ...noNetwork,
      openings: [
        [10_000, 500_000],
        [1_000_000, 1_500_000],
      ],
    },
    says: [
      'opening 0: an alert was decided but not delivered by the end of the timeline (79 attempts failed while the network was down)',
      'opening 1: 4 checks found the contact open often enough for an alert, but an alert decided 10 min 39 s before it opened was still waiting to be delivered',
    ],
  },
  {
    name: 'a door that shuts just too soon',
    story: { openings: [[100_000, 360_000]] },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 1.2 s before the check that would have alerted (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a door that was open from the start and shuts just too soon',
    story: { openings: [[0, 180_000]] },
    says: [
      'opening 0: opened before the first check, shut 800 ms before the check that would have alerted (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a door that shuts just too soon for three of four',
    story: {
      openings: [[100_000, 500_000]],
      watch: { escalationThreshold: { open: 3, outOf: 4 }, clearThreshold: 2 },
    },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 41.6 s before the check that would have alerted (2 of 3 required open checks)',
    ],
  },
  {
    name: 'a door that wakes the device and shuts too soon',
    story: { openings: [[100_000, 250_000]], watch: { wakeOn: 'opening' } },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 30.8 s before the check that would have alerted (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a door that shuts hours before the check that would have alerted',
    story: { ...twoHours, lengthMs: 30_000_000, openings: [[7_000_000, 7_300_000]] },
    says: [
      'opening 0: opened 1 h 56 min 40 s after a check, shut 1 h 58 min 21 s before the check that would have alerted (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a door that shuts when no check is to come that would have alerted',
    story: { ...twoHours, lengthMs: 7_400_000, openings: [[7_000_000, 7_300_000]] },
    says: [
      'opening 0: opened 1 h 56 min 40 s after a check, and no check that would have alerted came before the end of the timeline (1 of 2 required open checks)',
    ],
  },
  {
    name: 'power failures that lose the count',
    story: {
      openings: [[100_000, 500_000]],
      powerLost: [
        [200_000, 250_000],
        [300_000, 350_000],
      ],
    },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 30.8 s before the check that would have alerted (1 of 2 required open checks); while it was open: the device had no power for 1 min 40 s, 2 power losses lost 2 counted open checks',
    ],
  },
  {
    name: 'a timeline that ends too soon',
    story: { lengthMs: 300_000, openings: [[100_000, forever]], reportWithinMs: 100_000 },
    says: [
      'opening 0: opened 1 min 40 s after a check, and the timeline ended before an alert was decided (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a contact that reads open now and then',
    story: {
      openings: [[100_000, 1_300_000]],
      contact: Float64Array.from([180_000, 181_000, 541_000, 542_000]),
    },
    says: [
      'opening 0: opened 1 min 40 s after a check, and the contact read shut before the door shut (1 of 2 required open checks); while it was open: the contact read shut at 5 of 7 checks',
    ],
  },
  {
    name: 'open checks of an earlier opening that go out of memory before the first of its own',
    story: {
      watch: { escalationThreshold: { open: 4, outOf: 5 }, clearThreshold: 4 },
      openings: [
        [0, 400_000],
        [450_000, 1_100_000],
      ],
      // Three checks read open, three shut, one open.
      contact: Float64Array.from([0, 400_000, 1_000_000, 1_100_000]),
    },
    says: [
      'opening 0: opened before the first check, shut 2 min 22 s before the check that would have alerted (3 of 4 required open checks)',
      'opening 1: opened 1 min 29 s after a check, shut 8 min 44 s before the check that would have alerted (2 of 4 required open checks); while it was open: the contact read shut at 3 of 4 checks',
    ],
  },
];
