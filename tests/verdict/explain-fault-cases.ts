// Openings around power losses, resets and holds, and what adds up over a long time.
import { deviceMs } from '../../src/base/index.js';
import { timingWith } from '../support/experiments.js';
import { type Case, stuck } from './explain-story.js';

const quick = {
  checkIntervalMs: deviceMs(1_000),
  recheckIntervalMs: deviceMs(1_000),
  escalationThreshold: { open: 1, outOf: 1 },
};

export const amongFaults: readonly Case[] = [
  {
    name: 'an opening after a power loss, many checks after power-on',
    story: {
      watch: { escalationThreshold: { open: 3, outOf: 3 } },
      openings: [[7_012_000, 7_200_000]],
      powerLost: [[3_700_000, 7_000_000]],
      lengthMs: 14_400_000,
    },
    says: [
      'opening 0: opened 11.6 s after a check, shut 5 min 42 s before the check that would have alerted (1 of 3 required open checks)',
    ],
  },
  {
    name: 'a power loss in the middle of a hold',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 300_000],
        [7_000_500, 7_180_000],
      ],
      powerLost: [[3_600_000, 7_000_000]],
    },
    says: ['opening 1: opened 100 ms after a check, shut 800 ms before the next one'],
  },
  {
    name: 'a hold that a reset ends while the door is open',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 300_000],
        [900_000, 1_200_000],
      ],
      resetsMs: [1_199_900],
    },
    says: [
      'opening 1: opened 11 min 59 s after a check, shut 300 ms before the next one; while it was open: the device was waiting for a reset for 5 min',
    ],
  },
  {
    name: 'an attempt that a reset cuts off, and one that a power loss does',
    story: {
      openings: [[100_000, 500_000]],
      resetsMs: [362_000],
      powerLost: [[364_000, 7_200_000]],
    },
    says: [
      'opening 0: an alert was decided, but a power loss cleared it from memory before it was delivered (1 attempt cut off by a reset, 1 attempt cut off by a power loss)',
    ],
  },
  {
    name: 'wakes that resets cut off',
    story: {
      openings: [[180_500, 250_000]],
      resetsMs: [180_600, 180_900, 181_200],
      timing: timingWith({ bootMs: 70_000 }),
      watch: { checkIntervalMs: deviceMs(110_000) },
    },
    says: [
      'opening 0: opened 1 min 51 s after a check, shut 1.2 s before the next one; while it was open: resets cut off 3 wakes before their checks',
    ],
  },
  {
    name: 'a wake that a reset cuts off just as the door opens',
    story: {
      openings: [[180_500, 250_000]],
      resetsMs: [180_500],
      timing: timingWith({ bootMs: 70_000 }),
      watch: { checkIntervalMs: deviceMs(110_000) },
    },
    says: [
      'opening 0: opened 1 min 51 s after a check, shut 500 ms before the next one; while it was open: a reset cut off a wake before its check',
    ],
  },
  {
    name: 'two alerts of one opening, one lost in a power loss and one unsent at the end',
    story: {
      openings: [[100_000, 7_100_000]],
      networkDown: [[0, 7_200_000]],
      powerLost: [[3_600_000, 3_601_000]],
    },
    says: [
      'opening 0: 2 alerts were decided, but none was delivered: 1 lost in a power loss, 1 still unsent at the end of the timeline (78 attempts failed while the network was down)',
    ],
  },
  {
    name: 'a wake that a reset cuts off just as the door shuts',
    story: {
      openings: [[180_500, 250_000]],
      resetsMs: [250_000],
      timing: timingWith({ bootMs: 70_000 }),
      watch: { checkIntervalMs: deviceMs(110_000) },
    },
    says: ['opening 0: opened 1 min 51 s after a check, shut 1 min 10 s before the next one'],
  },
  {
    name: 'a hold that begins as the door opens',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 184_000],
        [184_800, 400_000],
      ],
    },
    says: [
      'opening 1: the device had been waiting for a reset since an alert delivered 0 ms before it opened',
    ],
  },
  {
    name: 'a hold that begins while the door is open',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 182_000],
        [183_000, 400_000],
      ],
    },
    says: [
      'opening 1: an alert decided 2.2 s before it opened was delivered 1.8 s after it opened, and the device then waited for a reset for the other 3 min 35 s',
    ],
  },
  {
    name: 'an alert of before, delivered while the door is open again, and a hold until the power goes',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 182_000],
        [183_000, 400_000],
      ],
      powerLost: [[300_000, 600_000]],
    },
    says: [
      'opening 1: an alert decided 2.2 s before it opened was delivered 1.8 s after it opened, and the device then waited for a reset for 1 min 55 s; while it was open: the device had no power for 1 min 40 s, 1 power loss lost 2 counted open checks',
    ],
  },
  {
    name: 'an alert of before that goes out at a check of the next opening, which is not the last that it needs',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 182_000],
        [300_000, 900_000],
      ],
      networkDown: [[180_000, 302_000]],
    },
    says: [
      'opening 1: an alert decided 1 min 59 s before it opened was delivered 13.6 s after it opened, and the device then waited for a reset for the other 9 min 46 s',
    ],
  },
  {
    name: 'an alert of before that goes out at a check that would have alerted',
    story: {
      watch: { afterAlert: 'hold-until-reset', clearThreshold: 2 },
      openings: [
        [0, 182_000],
        [200_000, 900_000],
      ],
      networkDown: [[180_000, 240_000]],
    },
    says: [
      'opening 1: 1 check found the contact open often enough for an alert, but an alert decided 19.2 s before it opened was still waiting to be delivered; that alert was delivered 49.2 s after it opened, and the device then waited for a reset for the other 10 min 51 s',
    ],
  },
  {
    name: 'an alert of before that goes out while a stuck contact hides the door',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 182_000],
        [200_000, 900_000],
      ],
      contact: stuck(
        [
          [0, 182_000],
          [200_000, 900_000],
        ],
        'shut',
        [190_000, 1_000_000],
      ),
      networkDown: [[180_000, 240_000]],
    },
    says: [
      'opening 1: 1 check came while it was open, but the contact read shut; an alert decided 19.2 s before it opened was delivered 49.2 s after it opened, and the device then waited for a reset for the other 10 min 51 s',
    ],
  },
  {
    name: 'a hold that a reset ends just as the door shuts',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 184_000],
        [300_000, 900_000],
      ],
      resetsMs: [900_000],
    },
    says: [
      'opening 1: the device had been waiting for a reset since an alert delivered 1 min 55 s before it opened',
    ],
  },
  {
    name: 'a hold to the end of the timeline, where the door is still open',
    story: {
      watch: { afterAlert: 'hold-until-reset' },
      openings: [
        [0, 184_000],
        [300_000, Number.POSITIVE_INFINITY],
      ],
      reportWithinMs: 200_000,
      lengthMs: 900_000,
    },
    says: [
      'opening 1: the device had been waiting for a reset since an alert delivered 1 min 55 s before it opened',
    ],
  },
  {
    name: 'a power loss just as the door opens, with an open check still counted',
    story: {
      watch: { escalationThreshold: { open: 2, outOf: 3 }, clearThreshold: 2 },
      openings: [
        [180_000, 181_000],
        [300_000, 470_000],
      ],
      powerLost: [[300_000, 310_000]],
    },
    says: [
      'opening 1: opened 1 min 59 s after a check, shut 20.8 s before the check that would have alerted (1 of 2 required open checks); while it was open: the device had no power for 10 s, 1 power loss lost 1 counted open check',
    ],
  },
  {
    name: 'a power loss just as the door shuts',
    story: { openings: [[100_000, 300_000]], powerLost: [[300_000, 310_000]] },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 3 min 11 s before the check that would have alerted, with no power for 10 s in between (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a power loss after an open check, to beyond the moment at which the door shuts',
    story: { openings: [[100_000, 600_000]], powerLost: [[300_000, 7_000_000]] },
    says: [
      'opening 0: opened 1 min 40 s after a check, and the device had no power for the last 5 min that it was open (1 of 2 required open checks); while it was open: 1 power loss lost 1 counted open check',
    ],
  },
  {
    name: 'a power loss before any check of the opening, to beyond the moment at which the door shuts',
    story: { openings: [[200_000, 600_000]], powerLost: [[230_000, 7_000_000]] },
    says: [
      'opening 0: opened 19.2 s after a check, and the device had no power for the last 6 min 10 s that it was open',
    ],
  },
  {
    name: 'a power loss after the door shut, before the next check',
    story: { openings: [[100_000, 170_000]], powerLost: [[175_000, 475_000]] },
    says: [
      'opening 0: opened 1 min 40 s after a check, shut 5 min 5 s before the next one, with no power for 5 min in between',
    ],
  },
  {
    name: 'power that is lost as the door shuts and does not come back',
    story: {
      lengthMs: 3_600_000,
      openings: [[100_000, 300_000]],
      powerLost: [[300_000, 4_000_000]],
    },
    says: [
      'opening 0: opened 1 min 40 s after a check, and no check that would have alerted came before the end of the timeline, with no power for 55 min until then (1 of 2 required open checks)',
    ],
  },
  {
    name: 'a power loss from the first instant on',
    story: { openings: [[0, 100_000]], powerLost: [[0, 50_000]] },
    says: [
      'opening 0: opened before the first check, shut 2 min 11 s before the check that would have alerted (1 of 2 required open checks); while it was open: the device had no power for 50 s',
    ],
  },
  {
    name: 'a power loss before the device has made a check',
    story: {
      openings: [[0, 100_000]],
      powerLost: [[100, 99_900]],
      timing: timingWith({ bootMs: 400 }),
    },
    says: [
      'opening 0: shut 300 ms before the first check; while it was open: the device had no power for 1 min 40 s',
    ],
  },
  {
    name: 'thousands of checks that read shut',
    story: {
      watch: quick,
      openings: [[1_000_000, 6_000_000]],
      contact: stuck([[1_000_000, 6_000_000]], 'shut', [0, 7_000_000]),
      timing: timingWith({ bootMs: 0 }),
    },
    says: ['opening 0: 5000 checks came while it was open, but the contact read shut each time'],
  },
  {
    name: 'a false alarm at the very first check',
    story: {
      watch: quick,
      leaveOpenAfterMs: 1_000,
      openings: [[0, 500]],
      timing: timingWith({ bootMs: 0 }),
    },
    says: ['alert 0: 1 check read open during one brief opening of 500 ms'],
  },
  {
    name: 'a contact that reads open at the very first check',
    story: {
      watch: { ...quick, alertCooldownMs: deviceMs(10_000_000) },
      contact: stuck([], 'open', [0, 400]),
      timing: timingWith({ bootMs: 0 }),
    },
    says: ['alert 0: the contact read open at 1 check while the door was shut'],
  },
  {
    name: 'a missed opening after very many alerts',
    story: {
      watch: { ...quick, alertCooldownMs: deviceMs(1_500), cooldownEndsWhenShut: false },
      leaveOpenAfterMs: 900,
      lengthMs: 300_010_000,
      openings: [
        [0, 300_000_500],
        [300_000_600, 300_001_500],
      ],
      timing: timingWith({ bootMs: 0, connectMs: 0 }),
    },
    says: [
      'opening 1: 1 check found the contact open often enough for an alert, but the cooldown of an alert delivered 1 s before that held back a new alert',
    ],
  },
];
