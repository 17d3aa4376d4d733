// What a firmware breaks only where the machine of its watch file also does is not its failure.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import {
  breachOf,
  type HuntQuestion,
  hunt,
  judgedProperties,
  type Trial,
  unlessTheMachine,
} from '../../src/hunt/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { huntQuestion } from '../support/watch-question.js';

/** An opening of four minutes goes unreported at most phases of the checks. */
const text = `watch: { checkInterval: 3m, recheckInterval: 3m, escalationThreshold: 2, alertCooldown: 30m }
judge: { leaveOpenAfter: 4m, reportWithin: 10m }
`;

/** A device that differs from the machine in its times, or in its settings. */
function asked(device: (experiment: Experiment) => Experiment): {
  readonly question: HuntQuestion;
  readonly excused: () => number;
} {
  const question = huntQuestion(text, { properties: ['reported', 'in-time'], with: ['resets'] });
  let excused = 0;
  const properties = unlessTheMachine(judgedProperties(question.judge), () => {
    excused += 1;
  }).map(({ property }) => property);
  const run = (experiment: Experiment) => ({
    trace: simulate(device(experiment), { record: 'none' }),
    stopped: null,
  });
  return { question: { ...question, run, properties }, excused: () => excused };
}

const options = { seed: 1, runs: 200 };

describe('what a device does no worse than the machine', () => {
  it('is not counted, also where its checks come a little later', () => {
    const { question, excused } = asked((experiment) => {
      const bootTime = { kind: 'fixed', ms: trueMs(450) } as const;
      return { ...experiment, timing: { ...experiment.timing, bootTime } };
    });
    expect(hunt(question, options).found).toBeNull();
    expect(excused()).toBeGreaterThan(0);
  });

  it('is told from a mistake', () => {
    const { program } = huntQuestion(text.replace('Threshold: 2', 'Threshold: 6'));
    const { question } = asked((experiment) => ({ ...experiment, program }));
    const { found } = hunt(question, options);
    // Five checks are not enough, where two are required: longer than the machine can overlook it at the phases that are tried.
    const lengths = found?.trial.openings.map(([fromMs, toMs]) => toMs - fromMs) ?? [];
    expect(Math.max(...lengths)).toBeGreaterThan(360_800 - 22_500);
  });
});

describe('a device whose checks come 50 ms sooner each time', () => {
  const hourMs = 3_600_000;
  const sooner = (): ReturnType<typeof asked> =>
    asked((experiment) => {
      const bootTime = { kind: 'fixed', ms: trueMs(350) } as const;
      return { ...experiment, timing: { ...experiment.timing, bootTime } };
    });
  /** The last check of the machine up to an instant. */
  const checkMs = (aboutMs: number): number => 400 + Math.floor(aboutMs / 180_400) * 180_400;
  const trialOf = (question: HuntQuestion, changes: Partial<Trial>): Trial => ({
    ...{ lengthMs: 24 * hourMs, powerOnAtMs: 0, openings: [], networkDown: [], powerLost: [] },
    ...{ batteryLow: [], resets: [], contactFaults: [] },
    timing: deviceTiming({}, question.timing),
    ...changes,
  });

  it('is excused where the machine also misses the opening a few seconds later', () => {
    // At 15 h it checks 15 s before the machine: 5 s too early for an opening that begins 10 s before a check of the machine.
    const atMs = checkMs(15 * hourMs);
    const openings: Trial['openings'] = [[atMs - 10_000, atMs + 240_000]];
    const { question, excused } = sooner();
    const trial = trialOf(question, { openings });
    expect(breachOf({ ...question, run: undefined }, trial)).toBeNull();
    expect(breachOf(question, trial)).toBeNull();
    expect(excused()).toBe(1);
  });

  it('is at any phase after days: what the machine misses at one of them is excused', () => {
    // After 84 h it checks 84 s before the machine. The machine sees the opening at two checks, wherever it is moved by up to 73.5 s.
    const lengthMs = 96 * hourMs;
    const atMs = 400 + 1_680 * 180_400;
    const openings: Trial['openings'] = [
      [hourMs, hourMs + 1_000],
      [atMs - 73_500, atMs + 180_400 + 95_000],
      [lengthMs - hourMs, lengthMs - hourMs + 1_000],
    ];
    const { question, excused } = sooner();
    const trial = trialOf(question, { lengthMs, openings });
    expect(breachOf({ ...question, run: undefined }, trial)).toBeNull();
    expect(breachOf(question, trial)).toBeNull();
    expect(excused()).toBe(1);
  });
});

describe('a device that reports too late', () => {
  it('is not excused by outages one soon after the other', () => {
    const { program } = huntQuestion(text.replace('Threshold: 2', 'Threshold: 9'));
    const { question, excused } = asked((experiment) => ({ ...experiment, program }));
    const minuteMs = 60_000;
    const trial: Trial = {
      ...{ lengthMs: 180 * minuteMs, powerOnAtMs: 0, powerLost: [], batteryLow: [], resets: [] },
      contactFaults: [],
      openings: [[10 * minuteMs, 25 * minuteMs]],
      networkDown: [
        [11 * minuteMs, 12 * minuteMs],
        [12 * minuteMs + 20_000, 13 * minuteMs],
      ],
      timing: deviceTiming({}, question.timing),
    };
    expect(breachOf(question, trial)?.property).toBe('reported');
    expect(excused()).toBe(0);
  });
});
