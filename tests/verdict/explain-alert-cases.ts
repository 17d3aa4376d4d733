// Alerts that came late, never or for nothing, and the one sentence that says why.
import { type Case, noNetwork, stuck } from './explain-story.js';

export const notDelivered: readonly Case[] = [
  {
    name: 'a power failure before the delivery',
    story: { ...noNetwork, openings: [[100_000, 500_000]], powerLost: [[450_000, 1_000_000]] },
    says: [
      'opening 0: an alert was decided, but a power loss cleared it from memory before it was delivered (2 attempts failed while the network was down)',
    ],
  },
  {
    name: 'an alert dropped by a shut check',
    story: { ...noNetwork, openings: [[100_000, 500_000]], watch: { unsentWhenShut: 'drop' } },
    says: [
      'opening 0: an alert was decided but not delivered (3 attempts failed while the network was down), and dropped at a check that read shut',
    ],
  },
  {
    name: 'an attempt that the end cuts off',
    story: { lengthMs: 363_000, openings: [[100_000, 362_000]] },
    says: ['opening 0: the end of the timeline cut the alert off while it was being sent'],
  },
  {
    name: 'a delivery after an outage',
    story: {
      openings: [[100_000, 2_000_000]],
      reportWithinMs: 300_000,
      networkDown: [[0, 450_000]],
    },
    says: [
      'opening 0: reported 1 min 34 s too late: the alert was decided 4 min 21 s after it opened and delivered 2 min 13 s later (before that 2 attempts failed while the network was down)',
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
      'opening 1: reported 17 min 34 s too late: the alert was decided 27 min 29 s after it opened and delivered 4 s later; before the decision: 9 checks found the contact open often enough for an alert, but the cooldown of an alert delivered 3 min before the first of them held back a new alert, and the device had not seen the door shut in between',
    ],
  },
];

export const falseAlerts: readonly Case[] = [
  {
    name: 'an opening that is just long enough to be a leave-open, and a brief one',
    story: {
      openings: [
        [150_000, 210_000],
        [350_000, 370_000],
      ],
      leaveOpenAfterMs: 60_000,
    },
    says: [
      'opening 0: opened 2 min 30 s after a check, shut 2 min 31 s before the check that would have alerted (1 of 2 required open checks)',
      'alert 0: 2 checks read open during 2 separate openings (1 min, 20 s)',
    ],
  },
  {
    name: 'two brief openings on consecutive checks',
    story: {
      leaveOpenAfterMs: 180_000,
      openings: [
        [180_000, 181_000],
        [361_000, 362_000],
      ],
    },
    says: ['alert 0: 2 checks read open during 2 separate openings (1 s, 1 s)'],
  },
  {
    name: 'one brief opening that two checks fell into',
    story: { leaveOpenAfterMs: 300_000, openings: [[180_000, 362_000]] },
    says: ['alert 0: 2 checks read open during one brief opening of 3 min 2 s'],
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
      'alert 0: 6 checks read open during 6 separate openings (500 ms, 500 ms, 500 ms, 500 ms, 500 ms, …)',
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
      'alert 0: 1 check read open during one brief opening of 1 s; 1 more read open while the door was shut; the alert was decided while the door was shut',
    ],
  },
  {
    name: 'a contact stuck open, and a reset before the next check',
    story: { contact: stuck([], 'open', [100_000, 400_000]), resetsMs: [500_000, 500_200] },
    says: ['alert 0: the contact read open at 2 checks while the door was shut'],
  },
];
