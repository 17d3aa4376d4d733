// What a seed draws is the same on every machine and in every year: `hunt --replay` and the seeds of reports rest on it. So
// what is drawn, and what is found in it, is kept. After a change of what hunts draw: DOZEWATCH_GOLDEN=renew npx vitest run
// tests/hunt/recorded.test.ts, and read how many lines differ.
import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import {
  type AdversityKind,
  breachOf,
  deviceProperties,
  type HuntQuestion,
  judgedProperties,
  namedProperties,
  runTrial,
  type Trial,
  trials,
  unlessTheMachine,
} from '../../src/hunt/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { deviceTiming } from '../../src/world/index.js';
import { range } from '../support/range.js';
import { expectRecordedOf } from '../support/recorded.js';
import { huntQuestion } from '../support/watch-question.js';

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

function expectRecorded(name: string, lines: readonly string[]): void {
  expectRecordedOf('hunt', name.replaceAll(' ', '-'), lines);
}

/** What is in a timeline, and a short name of all its instants. */
function lineOf(trial: Trial): string {
  const { openings, networkDown, powerLost, resets, contactFaults, lengthMs } = trial;
  const digest = createHash('sha256').update(JSON.stringify(trial)).digest('hex').slice(0, 12);
  const counts = [openings, networkDown, powerLost, resets, contactFaults].map((all) => all.length);
  return `${digest} ${counts.join(' ')} ${lengthMs}`;
}

const every: readonly AdversityKind[] = ['outages', 'power', 'resets', 'chatter'];

interface Drawn {
  readonly text: string;
  readonly with?: readonly AdversityKind[];
  readonly lengthMs?: number;
  readonly changes?: Partial<HuntQuestion>;
}

const drawn: Readonly<Record<string, Drawn>> = {
  'the default watch': { text: 'judge: { leaveOpenAfter: 3m }\n' },
  'every setting and every fault': {
    text: `watch: { checkInterval: 3m, recheckInterval: 40s, escalationThreshold: { open: 2, outOf: 4 }, alertCooldown: 17m, heartbeatInterval: 6h, retry: { interval: 90s, attempts: 3 } }
device: { bootTime: 200ms..900ms, connectTime: 2s..9s, joinWait: 4s, clockError: { min: -2%, max: 2% } }
judge: { leaveOpenAfter: 5m, reportWithin: 12m, quietUpTo: 30s }
`,
    with: every,
  },
  'no cooldown and no heartbeat': {
    text: 'watch: { checkInterval: 90s, alertCooldown: 0s, wakeOn: any-change }\njudge: { leaveOpenAfter: 2m }\n',
    with: ['outages'],
  },
  'months with late turns': {
    text: `watch: { checkInterval: 5m, escalationThreshold: 3, alertCooldown: 2h, heartbeatInterval: 1d }
judge: { leaveOpenAfter: 10m, reportWithin: 1h }
`,
    with: every,
    lengthMs: 60 * dayMs,
  },
  'a fast clock that does not start at nought': {
    text: 'watch: { checkInterval: 10m, escalationThreshold: 1 }\ndevice: { clockError: -3% }\njudge: { leaveOpenAfter: 15m }\n',
    with: ['outages', 'power', 'resets'],
    lengthMs: 21 * dayMs,
    changes: { clockStartsMs: 6 * dayMs + 5 * hourMs },
  },
  'checks so rare that nothing comes round': {
    text: 'watch: { checkInterval: 20d }\njudge: { leaveOpenAfter: 21d }\n',
    with: ['outages', 'resets'],
    lengthMs: 3 * dayMs,
  },
  'resets that clear': {
    text: 'watch: { checkInterval: 2m }\ndevice: { reset: { button: keeps, watchdog: clears } }\njudge: { leaveOpenAfter: 3m }\n',
    with: ['resets'],
    lengthMs: 2 * dayMs,
  },
};

describe('the timelines of a seed stay the same for', () => {
  it.each(Object.entries(drawn))('%s', (name, { text, with: kinds = [], lengthMs, changes }) => {
    const asked = huntQuestion(text, {
      with: kinds,
      ...(lengthMs === undefined ? {} : { lengthMs }),
    });
    const question = { ...asked, ...changes };
    const sample = fc.sample(trials(question), { seed: 1, numRuns: 80 });
    expectRecorded(name, sample.map(lineOf));
  });
});

/** How a device differs from the machine of its watch file. */
const devices: Readonly<Record<string, (experiment: Experiment) => Experiment>> = {
  'boots in another time': (experiment) => {
    const bootTime = { kind: 'fixed', ms: trueMs(460) } as const;
    return { ...experiment, timing: { ...experiment.timing, bootTime } };
  },
  'alerts later': (experiment) => ({ ...experiment, program: withThreshold(4) }),
  'alerts sooner': (experiment) => ({ ...experiment, program: withThreshold(1) }),
};

const watchText = `watch: { checkInterval: 3m, recheckInterval: 1m, escalationThreshold: 2, alertCooldown: 30m, heartbeatInterval: 4h }
judge: { leaveOpenAfter: 5m, reportWithin: 10m, quietUpTo: 1m }
`;

function withThreshold(open: number): Experiment['program'] {
  return huntQuestion(watchText.replace('Threshold: 2', `Threshold: ${String(open)}`)).program;
}

describe('what is found, and what is excused, stays the same for a device that', () => {
  it.each(Object.entries(devices))('%s', (name, device) => {
    const lines: string[] = [];
    for (const lengthMs of [12 * hourMs, 9 * dayMs]) {
      const question = huntQuestion(watchText, { with: every, lengthMs });
      let excused: string[] = [];
      const properties = unlessTheMachine(
        [
          ...judgedProperties(question.judge),
          ...namedProperties,
          ...deviceProperties(question.program, question.watch),
        ],
        ({ property }) => excused.push(property),
      ).map(({ property }) => property);
      const run = (experiment: Experiment) => ({
        trace: simulate(device(experiment), { record: 'none' }),
        stopped: null,
      });
      const asked: HuntQuestion = { ...question, run, properties };
      for (const trial of fc.sample(trials(question), { seed: 2, numRuns: 40 })) {
        excused = [];
        const alone = properties
          .map((property) => breachOf({ ...asked, properties: [property] }, trial))
          .flatMap((found) => (found === null ? [] : `${found.property}: ${found.what}`));
        lines.push([...alone, `excused: ${excused.join(' ')}`].join('; '));
      }
    }
    expectRecorded(name, lines);
  });
});

/** Where the door is open once, shifted bit by bit over a check interval, with what goes wrong around it. */
const courses: Readonly<Record<string, (byMs: number) => Partial<Trial>>> = {
  'soon after power-on': (byMs) => ({
    openings: [[2 * hourMs + byMs, 2 * hourMs + byMs + 241_000]],
  }),
  'after a visit and a day and a half': (byMs) => ({
    openings: [
      [hourMs, hourMs + 20_000],
      [36 * hourMs + byMs, 36 * hourMs + byMs + 300_000],
    ],
  }),
  'after a week and a visit': (byMs) => ({
    openings: [
      [7 * dayMs, 7 * dayMs + 90_000],
      [7 * dayMs + 200_000 + byMs, 7 * dayMs + 500_000 + byMs],
      [8 * dayMs, 8 * dayMs + 1_000],
    ],
  }),
  'while an outage ends': (byMs) => ({
    openings: [[2 * hourMs, 3 * hourMs]],
    networkDown: [
      [2 * hourMs + 345_000, 2 * hourMs + 355_000 + 9 * byMs],
      [2 * hourMs + 358_000 + 9 * byMs, 2 * hourMs + 363_000 + 9 * byMs],
    ],
  }),
  'with a reset in it': (byMs) => ({
    openings: [[2 * hourMs, 2 * hourMs + 330_000]],
    resets: [{ kind: 'button', atMs: 2 * hourMs + 2 * byMs, clears: true }],
  }),
  'with a power loss in it': (byMs) => ({
    openings: [[2 * hourMs, 2 * hourMs + 330_000]],
    powerLost: [[2 * hourMs + byMs, 2 * hourMs + byMs + 15_000]],
  }),
};

/** Whether it reports an opening of four to six minutes hangs on its phase. */
const holeyText = `watch: { checkInterval: 3m, recheckInterval: 3m, escalationThreshold: 2, alertCooldown: 30m }
judge: { leaveOpenAfter: 4m, reportWithin: 7m, quietUpTo: 1m }
`;
const later = huntQuestion(holeyText.replace('Threshold: 2', 'Threshold: 3')).program;

describe('what is excused hangs on where the door moves', () => {
  it.each(Object.entries(courses))('%s', (name, course) => {
    const question = huntQuestion(holeyText, { lengthMs: 9 * dayMs });
    const late: typeof devices = {
      'boots in another time': devices['boots in another time'] ?? expect.fail(),
      'alerts later': (experiment) => ({ ...experiment, program: later }),
      'checks sooner': (experiment) => {
        const bootTime = { kind: 'fixed', ms: trueMs(345) } as const;
        return { ...experiment, timing: { ...experiment.timing, bootTime } };
      },
    };
    const lines = Object.entries(late).map(([device, changed]) => {
      const excused: string[] = [];
      const properties = unlessTheMachine(judgedProperties(question.judge), ({ property }) =>
        excused.push(property),
      ).map(({ property }) => property);
      const run = (experiment: Experiment) => ({
        trace: simulate(changed(experiment), { record: 'none' }),
        stopped: null,
      });
      // One sign for each place of the door: excused, the property that it breaks, or nothing.
      const signs = range(0, 92).map((step) => {
        excused.length = 0;
        const trial: Trial = {
          ...{ lengthMs: 9 * dayMs, powerOnAtMs: 0, openings: [], networkDown: [], powerLost: [] },
          ...{ batteryLow: [], resets: [], contactFaults: [] },
          timing: deviceTiming({}, question.timing),
          ...course(step * 2_000),
        };
        const found = breachOf({ ...question, run, properties }, trial);
        if (found !== null) return found.property.slice(0, 1);
        return excused.length === 0 ? '.' : 'e';
      });
      return `${signs.join('')} ${device}`;
    });
    expectRecorded(name, lines);
  });
});

describe('the machine of the watch file', () => {
  it('breaks the same properties in the same timelines', () => {
    const { text, with: kinds = [] } = drawn['every setting and every fault'] ?? expect.fail();
    const question = huntQuestion(text, { with: kinds });
    const lines = fc.sample(trials(question), { seed: 3, numRuns: 80 }).map((trial) => {
      const ran = runTrial(question, trial);
      return namedProperties
        .map(({ property }) => property.breach(ran))
        .flatMap((found) => (found === null ? [] : `${found.property}: ${found.what}`))
        .join('; ');
    });
    expectRecorded('the machine', lines);
  });
});
