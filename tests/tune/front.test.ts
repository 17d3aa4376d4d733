// The front of a small grid, compared with the whole of the grid.
import { describe, expect, it } from 'vitest';
import { itemAt } from '../../src/base/index.js';
import { detectionBounds, questionOf } from '../../src/bounds/index.js';
import {
  beats,
  boundsMissed,
  costsOf,
  easier,
  gridOf,
  programsOf,
  prover,
  shortfallsOf,
  type Trial,
  type TuneRequirements,
  weigh,
} from '../../src/tune/index.js';
import { axes, question, wholeGrid } from './grid-of-trials.js';

const nothingAsked: TuneRequirements = {
  sureFromMs: null,
  worstDelayMs: null,
  quietUpToMs: null,
  lifeMs: null,
  falseAlarmsPerYear: null,
};
const dayMs = 86_400_000;
const trials = wholeGrid();

/** Several things to ask: nothing, what some settings do, and what none does. */
const questions: readonly (readonly [name: string, asked: TuneRequirements])[] = [
  ['nothing', nothingAsked],
  ['quick', { ...nothingAsked, sureFromMs: 400_000, worstDelayMs: 480_000 }],
  ['quiet and lasting', { ...nothingAsked, quietUpToMs: 60_000, lifeMs: 18 * dayMs }],
  ['too much', { ...nothingAsked, sureFromMs: 120_000, lifeMs: 400 * dayMs, quietUpToMs: 60_000 }],
];

describe('settings to choose from', () => {
  it('include the present ones, once, whether or not they were tried', () => {
    const asked = { ...nothingAsked, sureFromMs: 400_000, worstDelayMs: 480_000 };
    const meeting = trials.filter((trial) => shortfallsOf(trial, asked).length === 0);
    const [present] = meeting;
    if (present === undefined) throw new Error('no setting meets this');
    const watch = { ...question.watch, ...present.settings };
    const others = trials.filter((trial) => trial !== present);
    const tried = weigh(watch, trials, asked, { present });
    const untried = weigh(watch, others, asked, { present });
    expect([tried.meeting, tried.candidates]).toEqual([meeting.length, meeting.length]);
    expect([untried.meeting, untried.candidates]).toEqual([meeting.length - 1, meeting.length]);
  });
});

describe('a front', () => {
  it.each(questions)('is beaten by no setting of the grid, asking for %s', (_, asked) => {
    const { front } = weigh(question.watch, trials, asked);
    expect(front.length).toBeGreaterThan(0);
    const costs = trials.map((trial) => costsOf(trial, asked.quietUpToMs));
    for (const { trial } of front) {
      const own = costsOf(trial, asked.quietUpToMs);
      expect(costs.filter((others) => beats(others, own))).toEqual([]);
    }
  });

  it('has, for each setting of the grid, one that is as good in everything', () => {
    const { front } = weigh(question.watch, trials, nothingAsked);
    const fronts = front.map(({ trial }) => costsOf(trial, null));
    const covered = trials.filter((trial) => {
      const costs = costsOf(trial, null);
      return fronts.some((own) => own.every((cost, index) => cost <= (costs[index] ?? 0)));
    });
    expect(covered.length).toBe(trials.length);
    const alike = front.reduce((sum, point) => sum + 1 + point.alike, 0);
    expect(alike).toBeLessThan(trials.length);
  });

  it.each(questions)(
    'is the same when settings that miss more bounds are left out, asking for %s',
    (_, asked) => {
      const whole = weigh(question.watch, trials, asked);
      const missed = trials.map(({ proved }) => boundsMissed(proved, asked));
      const most = whole.recommended === null ? Math.min(1, ...missed) + 1 : 0;
      const some = trials.filter((_one, index) => (missed[index] ?? 0) <= most);
      const part = weigh(question.watch, some, asked);
      expect(part.recommended).toBe(whole.recommended);
      const kept = new Set(whole.front.map(({ trial }) => trial));
      expect(part.front.filter(({ trial }) => !kept.has(trial))).toEqual([]);
    },
  );
});

describe('a recommendation', () => {
  it('meets all requirements, and with --prefer life none that does lasts 3 % longer', () => {
    const asked: TuneRequirements = {
      ...nothingAsked,
      sureFromMs: 400_000,
      falseAlarmsPerYear: 1_000,
    };
    const { recommended, meeting } = weigh(question.watch, trials, asked, { prefer: 'life' });
    const doing = trials.filter((trial) => shortfallsOf(trial, asked).length === 0);
    expect(meeting).toBe(doing.length);
    expect(recommended).not.toBeNull();
    expect(doing).toContain(recommended);
    const longest = Math.max(...doing.map(({ years }) => years.lifeMs));
    expect(recommended?.years.lifeMs).toBeGreaterThanOrEqual(0.97 * longest);
  });

  it('says for impossible requirements which one to relax, and by no more than needed', () => {
    const asked: TuneRequirements = { ...nothingAsked, sureFromMs: 200_000, lifeMs: 400 * dayMs };
    const { recommended, relaxations, nearest } = weigh(question.watch, trials, asked);
    expect(recommended).toBeNull();
    expect(nearest).toBeNull();
    const [first] = relaxations;
    expect(first?.name).toBe('life');
    const quick = trials.filter(({ proved }) => proved.sureFromMs <= 200_000);
    expect(first?.got).toBe(Math.max(...quick.map(({ years }) => years.lifeMs)));
    const relaxed = { ...asked, lifeMs: first?.got ?? 0 };
    expect(weigh(question.watch, trials, relaxed).recommended).not.toBeNull();
    // With the requirement rounded, as it is printed, the same search recommends what was named.
    const written = { ...asked, lifeMs: easier('life', first?.got ?? 0) };
    expect(weigh(question.watch, trials, written).recommended).toEqual(first?.trial);
  });

  it('names all that stand in the way where no single one does', () => {
    const asked: TuneRequirements = { ...nothingAsked, sureFromMs: 100, lifeMs: 4_000 * dayMs };
    const { relaxations, nearest } = weigh(question.watch, trials, asked);
    expect(relaxations).toEqual([]);
    expect(nearest?.shortfalls.map(({ name }) => name)).toEqual(['sureFrom', 'life']);
  });

  it('does not raise one requirement by much to spare a little of another that all fail alike', () => {
    const base = itemAt(trials, 0);
    const trialOf = (worstDelayMs: number, falseAlarmsAtMost: number, lifeMs = dayMs): Trial => ({
      ...base,
      proved: {
        ...base.proved,
        inSpiteOfBounce: { ...base.proved.inSpiteOfBounce, worstDelayMs },
      },
      years: { ...base.years, falseAlarmsAtMost, lifeMs },
    });
    const asked: TuneRequirements = {
      ...nothingAsked,
      worstDelayMs: 100_000,
      falseAlarmsPerYear: 10,
    };
    const gotOf = (...some: readonly Trial[]): readonly number[] | undefined =>
      weigh(question.watch, some, asked).nearest?.shortfalls.map(({ got }) => got);
    // 645 % and 646 % count as equal: then the false alarms decide, in whatever order they are tried.
    expect(gotOf(trialOf(645_000, 60), trialOf(646_000, 30))).toEqual([646_000, 30]);
    expect(gotOf(trialOf(646_000, 30), trialOf(645_000, 60))).toEqual([646_000, 30]);
    // A fifth more does not, nor do equal false alarms give up any of the delay.
    expect(gotOf(trialOf(645_000, 60), trialOf(780_000, 30))).toEqual([645_000, 60]);
    expect(gotOf(trialOf(646_000, 30), trialOf(645_000, 30))).toEqual([645_000, 30]);
    // With everything alike the longer life is the nearer.
    const alike = weigh(
      question.watch,
      [trialOf(645_000, 30), trialOf(645_000, 30, 2 * dayMs)],
      asked,
    );
    expect(alike.nearest?.trial.years.lifeMs).toBe(2 * dayMs);
    // No bound at all is worse than any.
    const never = Number.POSITIVE_INFINITY;
    expect(gotOf(trialOf(never, 11), trialOf(900_000, 90))).toEqual([900_000, 90]);
    expect(gotOf(trialOf(never, 90), trialOf(never, 11))).toEqual([never, 11]);
  });
});

describe('bounds at rest', () => {
  it('are those of a search for each setting on its own, whatever its cooldown', () => {
    const proveOne = prover(question);
    const programOf = programsOf(question.watch);
    for (const tuned of gridOf(axes)) {
      const bounds = detectionBounds({ ...questionOf(question), program: programOf(tuned) });
      const found = {
        sureFromMs: bounds.alwaysReportedFromMs.atRest ?? Number.POSITIVE_INFINITY,
        worstDelayMs: bounds.worstDelayMs.atRest ?? Number.POSITIVE_INFINITY,
        quietUpToMs: bounds.neverAlarmedUpToMs,
      };
      expect(proveOne(tuned)).toEqual({ isKnown: true, ...found, inSpiteOfBounce: found });
    }
  });

  it('are the closed form of the plain watch', () => {
    const proveOne = prover(question);
    for (const tuned of gridOf({ ...axes, wakeOn: ['timer'] })) {
      const { open, outOf } = tuned.escalationThreshold;
      if (open !== outOf) continue;
      const again = (open - 1) * (tuned.recheckIntervalMs + 400);
      const sureFromMs = tuned.checkIntervalMs + 400 + again;
      expect(proveOne(tuned)).toMatchObject({
        sureFromMs,
        worstDelayMs: sureFromMs + 4_000 - 1,
        quietUpToMs: again,
      });
    }
  });
});
