import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { compileTable, initialMemory, watchLogic } from '../../src/machine/index.js';
import { mutantProgram } from '../../src/mutants/index.js';
import { simulate } from '../../src/sim/index.js';
import { type Explanation, explain, judge } from '../../src/verdict/index.js';
import { asked, experimentOf, plainWatch, rangesWith } from '../support/experiments.js';
import { falseAlerts, notDelivered } from './explain-alert-cases.js';
import { neverChecked, notDecided } from './explain-cases.js';
import { amongFaults } from './explain-fault-cases.js';
import { type Story, stuck } from './explain-story.js';

function explained(story: Story, limit = 10): readonly Explanation[] {
  const { watch = {}, timing, leaveOpenAfterMs = 60_000, reportWithinMs = null, ...world } = story;
  const options = timing === undefined ? { watch } : { watch, timing };
  const experiment = experimentOf({ lengthMs: 7_200_000, ...world }, options);
  const wish = asked({ leaveOpenAfterMs, reportWithinMs });
  const verdict = judge(experiment.world.openings, simulate(experiment), wish);
  return explain({ experiment, verdict, asked: wish, limit });
}

function textOf({ subject, sentence }: Explanation): string {
  return `${subject.kind} ${subject.index}: ${sentence}`;
}

describe.each([
  ['no check', neverChecked],
  ['no alert', notDecided],
  ['no delivery in time', notDelivered],
  ['a false alert', falseAlerts],
  ['what faults do', amongFaults],
])('the explanation of %s', (_, cases) => {
  it.each(cases)('tells of $name', ({ story, says }) => {
    expect(explained(story).map(textOf)).toEqual(says);
  });
});

describe('explanations', () => {
  it('name the checks that they rest on', () => {
    const [found] = explained({ openings: [[100_000, 360_000]] });
    expect(found?.checksMs).toEqual([180_800]);
    const [alert] = explained({ contact: stuck([], 'open', [100_000, 400_000]) });
    expect(alert?.checksMs).toEqual([180_800, 361_200]);
  });

  it('name their cause without its figures: an opening just long enough is not brief', () => {
    const openings = [
      [150_000, 210_000],
      [350_000, 370_000],
    ] as const;
    const causes = [60_000, 60_001].map((leaveOpenAfterMs) =>
      explained({ openings, leaveOpenAfterMs }).flatMap(({ subject, cause }) =>
        subject.kind === 'alert' ? [cause] : [],
      ),
    );
    expect(causes).toEqual([['two checks in two openings'], ['two checks in two brief openings']]);
  });

  it('name twenty checks at most', () => {
    const story = amongFaults.find(({ name }) => name === 'thousands of checks that read shut');
    const [found] = story === undefined ? [] : explained(story.story);
    expect(found?.checksMs).toEqual(
      Array.from({ length: 20 }, (_, nth) => 1_000_000 + nth * 1_000),
    );
  });

  it('are none for a watch that kept its promise', () => {
    expect(explained({ openings: [[100_000, 1_000_000]] })).toEqual([]);
  });

  it('are no more than asked for, of openings and of alerts', () => {
    const openings = [0, 1, 2].map((index) => {
      const fromMs = 1_600 + index * 180_400;
      return [fromMs, fromMs + 170_000] as const;
    });
    expect(explained({ openings }, 2).map(({ subject }) => subject.index)).toEqual([0, 1]);
    const ghosts = { contact: stuck([], 'open', [0, 7_200_000]) };
    const alerts = explained(ghosts, 2).map(({ subject }) => subject);
    expect(alerts).toEqual([
      { kind: 'alert', index: 0 },
      { kind: 'alert', index: 1 },
    ]);
  });

  it('are of a missed opening and of a false alert in the same timeline', () => {
    const story = {
      openings: [[1_600, 176_800]] as const,
      contact: stuck([[1_600, 176_800]], 'open', [1_000_000, 1_300_000]),
    };
    expect(explained(story).map(({ subject }) => subject.kind)).toEqual(['opening', 'alert']);
  });

  it('name the last checks before a false alert, however long the contact had been open', () => {
    const story = {
      lengthMs: 1_000_000_000,
      contact: stuck([], 'open', [0, 1_000_000_000]),
      watch: { alertCooldownMs: deviceMs(500_000_000) },
    };
    const alerts = explained(story);
    const [, second] = alerts;
    expect(alerts).toHaveLength(2);
    expect((second?.checksMs[1] ?? 0) - (second?.checksMs[0] ?? 0)).toBe(180_400);
  });

  it.each([
    ['contact-reversed', {}, 'alert 0: the alert was decided at a check that read shut'],
    [
      'threshold-one-more',
      { openings: [[100_000, 500_000]] as const },
      'opening 0: 1 check found the contact open often enough for an alert, but no alert was decided',
    ],
  ])('are given for the faulty watch %s too', (name, world, says) => {
    const sound = experimentOf({ lengthMs: 900_000, ...world });
    const { program } = mutantProgram(sound.program, rangesWith({}), name);
    const experiment = { ...sound, program: { ...program, watch: sound.program.watch } };
    const wish = asked({ leaveOpenAfterMs: 60_000 });
    const verdict = judge(experiment.world.openings, simulate(experiment), wish);
    expect(explain({ experiment, verdict, asked: wish, limit: 1 }).map(textOf)).toContain(says);
  });

  it.each<readonly [string, Pick<Story, 'lengthMs' | 'openings' | 'contact'>]>([
    [
      'opening 0: 1 check read open, and the logic decided no alert',
      { lengthMs: 300_000, openings: [[100_000, 7_200_000]] },
    ],
    [
      'opening 0: opened 1 min 40 s after a check, shut 1.2 s before the check that would have alerted (1 check read open, and the logic decided no alert)',
      { openings: [[100_000, 360_000]] },
    ],
    [
      'alert 0: the logic decided it at a check that read open during a brief opening of 50 s',
      {
        openings: [
          [150_000, 200_000],
          [355_000, 405_000],
        ],
      },
    ],
    [
      'alert 0: the logic decided it at a check that read open while the door was shut',
      { contact: stuck([], 'open', [100_000, 400_000]) },
    ],
  ])(
    'claim of a logic made elsewhere neither its threshold nor counts that it does not show: %s',
    (says, world) => {
      const sound = experimentOf({ lengthMs: 900_000, ...world });
      const logic = { ...watchLogic(plainWatch), memory: () => initialMemory(1) };
      const program = { watch: plainWatch, table: compileTable(logic), ownLogic: true } as const;
      const experiment = { ...sound, program };
      const wish = asked({ leaveOpenAfterMs: 60_000, reportWithinMs: 60_000 });
      const verdict = judge(experiment.world.openings, simulate(experiment), wish);
      expect(explain({ experiment, verdict, asked: wish, limit: 1 }).map(textOf)).toContain(says);
    },
  );
});
