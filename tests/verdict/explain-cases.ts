// Door timelines with a bad end, and the one sentence that says why.
import { trueMs } from '../../src/base/index.js';
import { idealContactEdges, spansOf, withFaults } from '../../src/world/index.js';
import type { experimentOf, Pairs, WorldNumbers } from '../support/experiments.js';

type Options = NonNullable<Parameters<typeof experimentOf>[1]>;

export interface Story extends Partial<WorldNumbers> {
  readonly watch?: Options['watch'];
  readonly leaveOpenAfterMs?: number;
  readonly reportWithinMs?: number | null;
}

/** The contact of a door with these openings, stuck for a while. */
export function stuck(openings: Pairs, at: 'open' | 'shut', [from, to]: readonly [number, number]) {
  const fault = { fromMs: trueMs(from), toMs: trueMs(to), reads: { kind: 'stuck' as const, at } };
  return withFaults(idealContactEdges(spansOf(openings)), [fault], 'explained');
}

const forever = Number.POSITIVE_INFINITY;
const noNetwork = { networkDown: [[0, 7_200_000]] } as const;

export interface Case {
  readonly name: string;
  readonly story: Story;
  readonly says: readonly string[];
}

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
    says: ['opening 1: the device was holding for a reset since its alert 1 min 55.2 s before'],
  },
  {
    name: 'an opening that no check reaches before the end',
    story: { lengthMs: 150_000, openings: [[1_000, forever]], reportWithinMs: 100_000 },
    says: [
      'opening 0: opened 600 ms after a check, and no check came before the end of the timeline',
    ],
  },
  {
    name: 'an opening before the device has power for the first time',
    story: { powerOnAtMs: 500_000, openings: [[0, 200_000]] },
    says: ['opening 0: opened, shut 5 min 0.4 s before the next one'],
  },
  {
    name: 'an opening in the life of a device that never has power',
    story: { powerOnAtMs: 7_200_000, openings: [[0, 200_000]] },
    says: ['opening 0: opened, and no check came while it was open'],
  },
];

export const notDecided: readonly Case[] = [
  {
    name: 'a contact stuck shut',
    story: {
      openings: [[10_000, 1_000_000]],
      contact: stuck([[10_000, 1_000_000]], 'shut', [0, 2_000_000]),
    },
    says: ['opening 0: 5 checks fell into it, but the contact read shut each time'],
  },
  {
    name: 'a re-opening within the cooldown',
    story: {
      openings: [
        [10_000, 500_000],
        [520_000, 1_500_000],
      ],
    },
    says: [
      'opening 1: found open often enough at 6 checks, but the cooldown of the alert delivered 3 min 0.4 s before kept it quiet',
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
      'opening 0: an alert was decided but not delivered by the end of the timeline (79 attempts failed)',
      'opening 1: an alert of an earlier opening was still unsent, so none was decided for this one',
    ],
  },
  {
    name: 'a door that shuts just too soon',
    story: { openings: [[100_000, 360_000]] },
    says: [
      'opening 0: opened 1 min 39.6 s after a check, shut 1.2 s before the check that would have alerted (1 of 2 open checks counted)',
    ],
  },
  {
    name: 'a door that was open from the start and shuts just too soon',
    story: { openings: [[0, 180_000]] },
    says: [
      'opening 0: opened before the first check, shut 800 ms before the check that would have alerted (1 of 2 open checks counted)',
    ],
  },
  {
    name: 'a door that shuts just too soon for three of four',
    story: {
      openings: [[100_000, 500_000]],
      watch: { escalationThreshold: { open: 3, outOf: 4 }, clearThreshold: 2 },
    },
    says: [
      'opening 0: opened 1 min 39.6 s after a check, shut 41.6 s before the check that would have alerted (2 of 3 open checks counted)',
    ],
  },
  {
    name: 'a door that wakes the device and shuts too soon',
    story: { openings: [[100_000, 250_000]], watch: { wakeOn: 'opening' } },
    says: [
      'opening 0: opened 1 min 39.6 s after a check, shut 30.8 s before the check that would have alerted (1 of 2 open checks counted)',
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
      'opening 0: opened 1 min 39.6 s after a check, and the power failed 1 min 40 s later, which lost what it had counted (1 of 2 open checks counted)',
    ],
  },
  {
    name: 'a timeline that ends too soon',
    story: { lengthMs: 300_000, openings: [[100_000, forever]], reportWithinMs: 100_000 },
    says: [
      'opening 0: opened 1 min 39.6 s after a check, and the timeline ended first (1 of 2 open checks counted)',
    ],
  },
  {
    name: 'a contact that reads open now and then',
    story: {
      openings: [[100_000, 1_300_000]],
      contact: Float64Array.from([180_000, 181_000, 541_000, 542_000]),
    },
    says: [
      'opening 0: opened 1 min 39.6 s after a check, read open too seldom (1 of 2 open checks counted)',
    ],
  },
];

export const notDelivered: readonly Case[] = [
  {
    name: 'a power failure before the delivery',
    story: { ...noNetwork, openings: [[100_000, 500_000]], powerLost: [[450_000, 1_000_000]] },
    says: [
      'opening 0: an alert was decided, but the power failed before it was delivered and retained memory was lost (2 attempts failed)',
    ],
  },
  {
    name: 'an alert dropped by a shut check',
    story: { ...noNetwork, openings: [[100_000, 500_000]], watch: { unsentWhenShut: 'drop' } },
    says: [
      'opening 0: an alert was decided but not delivered (3 attempts failed), and dropped when the door was seen shut',
    ],
  },
  {
    name: 'an attempt that the end cuts off',
    story: { lengthMs: 363_000, openings: [[100_000, 362_000]] },
    says: [
      'opening 0: an alert was decided but not delivered by the end of the timeline (1 attempt cut off)',
    ],
  },
  {
    name: 'a delivery after an outage',
    story: {
      openings: [[100_000, 2_000_000]],
      reportWithinMs: 300_000,
      networkDown: [[0, 450_000]],
    },
    says: [
      'opening 0: reported 1 min 34 s too late: the alert was decided 4 min 21.2 s after it opened, 2 attempts failed before one was delivered',
    ],
  },
  {
    name: 'a delivery after a cooldown',
    story: {
      openings: [
        [10_000, 500_000],
        [520_000, 3_500_000],
      ],
      reportWithinMs: 600_000,
    },
    says: [
      'opening 1: reported 17 min 33.2 s too late: the cooldown of an earlier alert kept 9 checks quiet, the alert was decided 27 min 29.2 s after it opened',
    ],
  },
];

export const falseAlerts: readonly Case[] = [
  {
    name: 'two brief openings on consecutive checks',
    story: {
      leaveOpenAfterMs: 180_000,
      openings: [
        [180_000, 181_000],
        [361_000, 362_000],
      ],
    },
    says: ['alert 0: 2 open checks fell into 2 separate openings (1 s, 1 s)'],
  },
  {
    name: 'one brief opening that two checks fell into',
    story: { leaveOpenAfterMs: 300_000, openings: [[180_000, 362_000]] },
    says: ['alert 0: 2 open checks fell into one brief opening of 3 min 2 s'],
  },
  {
    name: 'six brief openings',
    story: {
      openings: [0, 1, 2, 3, 4, 5].map(
        (index) => [index * 180_400, index * 180_400 + 500] as const,
      ),
      watch: { escalationThreshold: { open: 6, outOf: 6 } },
    },
    says: [
      'alert 0: 6 open checks fell into 6 separate openings (500 ms, 500 ms, 500 ms, 500 ms, 500 ms, …)',
    ],
  },
  {
    name: 'a contact stuck open on a shut door',
    story: { contact: stuck([], 'open', [100_000, 400_000]) },
    says: ['alert 0: the contact read open at 2 checks while the door was shut'],
  },
  {
    name: 'a contact that stays open when the door shuts',
    story: {
      leaveOpenAfterMs: 180_000,
      openings: [[180_000, 181_000]],
      contact: stuck([[180_000, 181_000]], 'open', [180_000, 400_000]),
    },
    says: [
      'alert 0: 1 open check fell into one brief opening of 1 s; 1 more read open with the door shut; it was decided with the door shut',
    ],
  },
];
