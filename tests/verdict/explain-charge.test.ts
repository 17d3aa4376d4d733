// Reasons where the charge ends, or a person resets the device: 480 mAh at 1 mA last 20 days to the millisecond.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { type Answers, type Experiment, simulate } from '../../src/sim/index.js';
import { explain, judge } from '../../src/verdict/index.js';
import { spansOf } from '../../src/world/index.js';
import { supplyWith } from '../battery/supplies.js';
import { asked, experimentOf, timingWith } from '../support/experiments.js';
import { once } from '../support/once.js';
import { type Story, stuck } from './explain-story.js';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

const charge = once(
  (): NonNullable<Experiment['charge']> => ({
    supply: supplyWith(
      '{ capacity: 480mAh, sleepCurrent: 1mA, boot: { current: 1mA }, connect: { current: 1mA } }',
    ),
    charging: { everyMs: null },
  }),
);

interface Told extends Story {
  readonly chargedMs?: readonly number[];
  readonly answers?: Answers;
  /** Resets clear memory. */
  readonly clears?: boolean;
}

function saysOf(told: Told): string[] {
  const { watch = {}, timing, chargedMs = [], answers, clears, reportWithinMs, ...world } = told;
  const plain = experimentOf(
    { lengthMs: 35 * dayMs, ...world },
    timing === undefined ? { watch } : { watch, timing },
  );
  const experiment: Experiment = {
    ...plain,
    world: {
      ...plain.world,
      chargedMs: Float64Array.from(chargedMs),
      ...(clears === true ? { resetEffects: clearing(world.resetsMs ?? []) } : {}),
    },
    ...(answers === undefined ? { charge: charge() } : { answers }),
  };
  const wish = asked({ leaveOpenAfterMs: minuteMs, reportWithinMs: reportWithinMs ?? null });
  const verdict = judge(experiment.world.openings, simulate(experiment), wish);
  return explain({ experiment, verdict, asked: wish, limit: 10 }).map(({ sentence }) => sentence);
}

const clearing = (resetsMs: readonly number[]) =>
  resetsMs.map(() => ({ kind: 'button', clears: true }) as const);

const flatMs = 20 * dayMs;
const onDay30 = [[30 * dayMs, 30 * dayMs + hourMs]] as const;
const off = 'so the device was off all the time it was open';
const hold = {
  watch: { afterAlert: 'hold-until-reset' },
  openings: [
    [hourMs, hourMs + 10 * minuteMs],
    [hourMs + 11 * minuteMs, hourMs + 20 * minuteMs],
  ],
} as const;

describe('the explanation of an opening around the end of a charge', () => {
  it.each<readonly [string, Told, readonly string[]]>([
    [
      'that was days before',
      { openings: onDay30 },
      [`the charge had lasted 20 d and was used up 10 d before it opened, ${off}`],
    ],
    [
      'at that instant',
      { openings: [[flatMs, flatMs + hourMs]] },
      [`the charge had lasted 20 d and was used up as it opened, ${off}`],
    ],
    [
      'after a charge on day 5',
      { openings: onDay30, chargedMs: [5 * dayMs] },
      [`the charge had lasted 20 d and was used up 5 d before it opened, ${off}`],
    ],
    [
      'that is charged while it is open',
      {
        openings: [[30 * dayMs, 30 * dayMs + 2 * minuteMs]],
        chargedMs: [30 * dayMs + minuteMs],
      },
      [
        'the charge had lasted 20 d and was used up 10 d before it opened, so the device was off for 1 min of it; opened 10 d 2 min 8 s after a check, shut 2 min 1 s before the check that would have alerted (1 of 2 required open checks); while it was open: the device had no power for 1 min',
      ],
    ],
    [
      'that came after one open check',
      { openings: [[flatMs - 3 * minuteMs, flatMs + hourMs]] },
      [
        'the charge had lasted 20 d and was used up 3 min after it opened, so the device was off for 1 h of it; opened 2 min 9 s after a check, and the device had no power for the last 1 h that it was open (1 of 2 required open checks); while it was open: the end of the charge lost 1 counted open check',
      ],
    ],
    [
      'that came before the first check',
      { openings: [[flatMs - 3_000, flatMs + hourMs]] },
      [
        'the charge had lasted 20 d and was used up 3 s after it opened, so the device was off for 1 h of it',
      ],
    ],
    [
      'that came before the alert was delivered',
      {
        openings: [[flatMs - 10 * minuteMs, flatMs + hourMs]],
        networkDown: [[flatMs - hourMs, flatMs + hourMs]],
      },
      [
        'the charge had lasted 20 d and was used up 10 min after it opened, so the device was off for 1 h of it; an alert was decided, but the charge ended before it was delivered (5 attempts failed while the network was down)',
      ],
    ],
    [
      'that cut off an attempt',
      {
        openings: [[flatMs - 10 * minuteMs, flatMs + hourMs]],
        timing: timingWith({ connectMs: 20 * minuteMs }),
      },
      [
        'the charge had lasted 20 d and was used up 10 min after it opened, so the device was off for 1 h of it; an alert was decided, but the charge ended before it was delivered (1 attempt cut off as the charge ended)',
      ],
    ],
    [
      'that ended twice',
      {
        lengthMs: 60 * dayMs,
        openings: [[50 * dayMs, 50 * dayMs + hourMs]],
        chargedMs: [22 * dayMs],
      },
      [`the charge had lasted 20 d and was used up 8 d before it opened, ${off}`],
    ],
    [
      'with a contact that reads shut',
      {
        openings: [[flatMs - 20 * minuteMs, flatMs + hourMs]],
        contact: stuck([[flatMs - 20 * minuteMs, flatMs + hourMs]], 'shut', [0, 35 * dayMs]),
      },
      [
        'the charge had lasted 20 d and was used up 20 min after it opened, so the device was off for 1 h of it',
      ],
    ],
    [
      'long before an attempt that the end of the timeline cuts off',
      {
        lengthMs: 25 * dayMs,
        openings: [[25 * dayMs - 20 * minuteMs, 26 * dayMs]],
        chargedMs: [22 * dayMs],
        timing: timingWith({ connectMs: hourMs }),
        reportWithinMs: minuteMs,
      },
      ['the end of the timeline cut the alert off while it was being sent'],
    ],
    [
      'long after a power loss that took an alert',
      {
        openings: [[10 * dayMs, 10 * dayMs + hourMs]],
        networkDown: [[9 * dayMs, 11 * dayMs]],
        powerLost: [[10 * dayMs + hourMs, 10 * dayMs + 2 * hourMs]],
      },
      [
        'an alert was decided, but a power loss cleared it from memory before it was delivered (39 attempts failed while the network was down)',
      ],
    ],
    [
      'and a reset while it is off, which clears nothing',
      {
        clears: true,
        openings: [[flatMs - 3 * minuteMs, flatMs + hourMs]],
        resetsMs: [flatMs - 2 * minuteMs, flatMs + minuteMs],
      },
      [
        'the charge had lasted 20 d and was used up 3 min after it opened, so the device was off for 1 h of it; opened 2 min 9 s after a check, and the device had no power for the last 1 h that it was open (1 of 2 required open checks); while it was open: the end of the charge lost 1 counted open check, 1 reset cleared 1 counted open check',
      ],
    ],
    [
      'long after a reset that cleared an open check',
      {
        clears: true,
        openings: [[10 * dayMs, 10 * dayMs + 6 * minuteMs]],
        resetsMs: [10 * dayMs + 4 * minuteMs],
      },
      [
        'opened 1 min 4 s after a check, shut 1 min 1 s before the check that would have alerted (1 of 2 required open checks); while it was open: 1 reset cleared 1 counted open check',
      ],
    ],
    [
      'that came just as the door shut',
      {
        openings: [[flatMs - hourMs, flatMs]],
        networkDown: [[flatMs - 2 * hourMs, flatMs + hourMs]],
      },
      [
        'an alert was decided, but the charge ended before it was delivered (40 attempts failed while the network was down)',
      ],
    ],
  ])('%s', (_, story, says) => {
    expect(saysOf(story)).toEqual(says);
  });
});

describe('the explanation of an opening long before the end of a charge', () => {
  it.each<readonly [string, Told, readonly string[]]>([
    [
      'names a power loss, and no reset while it is off',
      {
        openings: [[10 * dayMs, 10 * dayMs + 6 * minuteMs], ...onDay30],
        powerLost: [[10 * dayMs - hourMs, 10 * dayMs + hourMs]],
        resetsMs: [9 * dayMs, 10 * dayMs + minuteMs, 30 * dayMs + 5_000],
      },
      [
        'the device had no power while it was open',
        `the charge had lasted 20 d 2 h and was used up 9 d 22 h before it opened, ${off}`,
      ],
    ],
    [
      'names the open checks that a power loss lost, and not the reset before it',
      {
        watch: { escalationThreshold: { open: 3, outOf: 3 } },
        openings: [[10 * dayMs, 10 * dayMs + 9 * minuteMs]],
        powerLost: [[10 * dayMs + 200_000, 10 * dayMs + 201_000]],
        resetsMs: [10 * dayMs - 5_000, 25 * dayMs],
      },
      [
        'opened 4.6 s after a check, shut 22.2 s before the check that would have alerted (2 of 3 required open checks); while it was open: the device had no power for 1 s, 1 power loss lost 1 counted open check',
      ],
    ],
    [
      'names what cut off its attempts',
      {
        openings: [[100_000, 500_000]],
        resetsMs: [362_000],
        powerLost: [[364_000, 7_200_000]],
      },
      [
        'an alert was decided, but a power loss cleared it from memory before it was delivered (1 attempt cut off by a reset, 1 attempt cut off by a power loss)',
      ],
    ],
    [
      'names the charge that ended while it was open, not one that ended before',
      {
        lengthMs: 50 * dayMs,
        openings: [[flatMs + hourMs, 45 * dayMs]],
        chargedMs: [flatMs + hourMs],
        networkDown: [[0, 50 * dayMs]],
      },
      [
        'the charge had lasted 20 d and was used up 20 d after it opened, so the device was off for 4 d 23 h of it; an alert was decided, but the charge ended before it was delivered (19,546 attempts failed while the network was down)',
      ],
    ],
    [
      'names wakes that resets cut off',
      {
        openings: [[180_500, 250_000], ...onDay30],
        resetsMs: [180_600, 180_900, 181_200],
        timing: timingWith({ bootMs: 70_000 }),
        watch: { checkIntervalMs: deviceMs(110_000) },
      },
      [
        'opened 1 min 51 s after a check, shut 1.2 s before the next one; while it was open: resets cut off 3 wakes before their checks',
        `the charge had lasted 20 d and was used up 10 d before it opened, ${off}`,
      ],
    ],
  ])('%s', (_, story, says) => {
    expect(saysOf(story)).toEqual(says);
  });
});

describe('the explanation of an opening during which somebody resets the device', () => {
  const held = 'the device was waiting for a reset for 7 min 13 s';
  const person = (clears: boolean): Answers => {
    return { alertAfterMs: () => 15 * minuteMs, silence: null, clears };
  };

  it('names the checks that the reset cleared, where it clears memory', () => {
    expect(saysOf({ ...hold, answers: person(true) })).toEqual([
      `opened 7 min 51 s after a check, shut 1 min 14 s before the check that would have alerted (1 of 2 required open checks); while it was open: ${held}, 1 reset cleared 2 counted open checks`,
    ]);
  });

  it('names the cooldown, where it keeps memory', () => {
    expect(saysOf({ ...hold, answers: person(false) })).toEqual([
      `1 check found the contact open often enough for an alert, but the cooldown of an alert delivered 15 min before that held back a new alert, and the device had not seen the door shut in between; while it was open: ${held}`,
    ]);
    const powerLost = [[hourMs + 19.5 * minuteMs, 2 * hourMs]] as const;
    expect(saysOf({ ...hold, powerLost, answers: person(false) })).toEqual([
      `1 check found the contact open often enough for an alert, but the cooldown of an alert delivered 15 min before that held back a new alert, and the device had not seen the door shut in between; while it was open: the device had no power for 30 s, ${held}, 1 power loss lost 2 counted open checks`,
    ]);
  });
});

describe('the explanation of an opening of which the log knows the first part', () => {
  it('counts no alert decided after that part', () => {
    const experiment = experimentOf({
      lengthMs: 7_200_000,
      openings: [[100_000, 1_000_000]],
      networkDown: [[0, 7_200_000]],
    });
    const wish = asked({ leaveOpenAfterMs: minuteMs });
    const trace = simulate(experiment);
    expect(trace.alerts.map(({ decidedMs }) => decidedMs)).toEqual([361_200]);
    const told = [361_199, 361_200, 361_201].map((knownMs) => {
      const unknown = spansOf([[knownMs, 500_000]]);
      const verdict = judge(experiment.world.openings, trace, wish, unknown);
      return explain({ experiment, verdict, asked: wish, limit: 1 }).map(
        ({ sentence }) => sentence,
      );
    });
    const shut = (when: string) => [
      `opened 1 min 40 s after a check, shut ${when} before the check that would have alerted (1 of 2 required open checks)`,
    ];
    expect(told).toEqual([
      shut('1 ms'),
      shut('0 ms'),
      [
        'an alert was decided but not delivered by the end of the timeline (79 attempts failed while the network was down)',
      ],
    ]);
  });
});
