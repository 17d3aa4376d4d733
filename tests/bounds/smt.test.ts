// Bounds against an SMT solver (z3): no timeline exceeds a bound (unsat), one reaches it (sat). The wakes are encoded from the
// rules of the device, in a file that shares nothing with the search.
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Context, init, killThreads, type Solver } from 'z3-solver';
import { deviceMs } from '../../src/base/index.js';
import { detectionBounds } from '../../src/bounds/index.js';
import { rangesWith } from '../support/experiments.js';
import { questionOf } from './question.js';
import { encoded, type Run, type SmtWatch, type Start } from './smt-watch.js';

type Truth = Run['alerted'];

const plain: SmtWatch = {
  ...{ check: 180_000, recheck: 180_000, retry: 60_000, attempts: 5 },
  ...{ open: 2, outOf: 2, clear: 1, cooldown: 0, shutEndsCooldown: true, drop: false },
  ...{ boot: [400, 400], connect: [4_000, 4_000], error: [0, 0], outage: 0 },
};

const watches: readonly (readonly [name: string, watch: Partial<SmtWatch>])[] = [
  ['the plain watch', {}],
  ['three open checks in a row', { open: 3, outOf: 3, recheck: 45_000 }],
  [
    'two of the last four, with three shut checks to clear',
    { outOf: 4, clear: 3, recheck: 70_000 },
  ],
  ['a clock that runs slow', { error: [55_000, 55_000], recheck: 30_000 }],
  ['sleeps that each err by some per cent', { error: [-45_000, 55_000] }],
  [
    'boot and connect times that vary',
    { boot: [200, 900], connect: [2_000, 8_000], recheck: 30_000 },
  ],
  ['a cooldown that a shut door ends', { cooldown: 300_000 }],
  ['a cooldown that only time ends', { cooldown: 300_000, shutEndsCooldown: false }],
  [
    'a cooldown by sleeps that each err',
    { cooldown: 250_000, error: [-20_000, 20_000], shutEndsCooldown: false },
  ],
  [
    'all of it varying, and a cooldown over two clearing checks',
    {
      ...{ check: 240_000, recheck: 60_000, outOf: 3, clear: 2, cooldown: 290_000 },
      ...{ boot: [300, 700], connect: [1_000, 5_000], error: [-10_000, 30_000] },
    },
  ],
  ['an outage, and unsent alerts dropped', { open: 1, outOf: 1, outage: 59_000, drop: true }],
  [
    'an outage for alerts at two of three, dropped by a device that varies',
    {
      ...{ check: 100_000, recheck: 40_000, outOf: 3, outage: 30_000, drop: true, attempts: 2 },
      ...{ boot: [300, 700], connect: [1_000, 5_000], error: [-10_000, 30_000] },
    },
  ],
];

/** Tried from any state as well: those in which what went before matters. */
const fromAnyState = new Set([
  'a cooldown that a shut door ends',
  'a cooldown that only time ends',
]);

/** Checks from the start of an opening on that see its alert; with fewer, the solver would find it unreported. */
function checksOf(watch: SmtWatch, from: Start['from']): number {
  const { open, outOf, cooldown, check, outage, retry } = watch;
  const hidden = Math.ceil(outage / retry) + (from === 'rest' ? 0 : Math.ceil(cooldown / check));
  return open + 1 + hidden + (from === 'rest' ? 0 : outOf - open);
}

/** What the search says of the same watch. */
function boundsOf(watch: SmtWatch) {
  const question = questionOf(
    {
      checkIntervalMs: deviceMs(watch.check),
      recheckIntervalMs: deviceMs(watch.recheck),
      retryIntervalMs: deviceMs(watch.retry),
      retryAttempts: watch.attempts,
      escalationThreshold: { open: watch.open, outOf: watch.outOf },
      clearThreshold: watch.clear,
      alertCooldownMs: deviceMs(watch.cooldown),
      cooldownEndsWhenShut: watch.shutEndsCooldown,
      unsentWhenShut: watch.drop ? 'drop' : 'send',
    },
    {
      timing: rangesWith({ bootMs: watch.boot, connectMs: watch.connect, errorPpm: watch.error }),
      environment: { longestOutageMs: watch.outage },
    },
  );
  return detectionBounds(question);
}

let z3: Context<'watch'>;
let endWorkers: () => Promise<void>;

beforeAll(async () => {
  const solver = await init();
  z3 = solver.Context('watch');
  endWorkers = () => killThreads(solver.em);
});

afterAll(() => endWorkers());

/** Each knows the rules of one run: reading them takes far longer than a question about them. */
const solvers = new Map<Run['rules'], Solver<'watch'>>();

function solverOf({ rules }: Run): Solver<'watch'> {
  const known = solvers.get(rules);
  if (known !== undefined) return known;
  const solver = new z3.Solver('QF_LIA');
  solver.add(...rules);
  solvers.set(rules, solver);
  return solver;
}

/** Whether there is a run of which all this is true. */
async function some(run: Run, ...facts: readonly Truth[]): Promise<string> {
  const solver = solverOf(run);
  solver.push();
  solver.add(...facts);
  const answer = await solver.check();
  solver.pop();
  return answer;
}

const endless = 100_000_000;

describe('an SMT solver agrees with the bounds', () => {
  it.each(watches)('at rest: %s', async (_, changes) => {
    const watch = { ...plain, ...changes };
    const bounds = boundsOf(watch);
    const run = encoded(z3, watch, { from: 'rest', checks: checksOf(watch, 'rest') });
    const { lastsMs, isOver, alerted, delivered, delayMs, lost } = run;
    const sureMs = bounds.alwaysReportedFromMs.atRest ?? 0;
    const decidedMs = bounds.alwaysDecidedFromMs.atRest ?? 0;
    const worstMs = bounds.worstDelayMs.atRest ?? 0;
    const quietMs = bounds.neverAlarmedUpToMs;
    const bestMs = bounds.bestDelayMs ?? 0;
    const open = lastsMs.eq(endless);
    expect(await some(run, lastsMs.ge(decidedMs), z3.Not(alerted))).toBe('unsat');
    expect(await some(run, lastsMs.eq(decidedMs - 1), z3.Not(alerted), isOver)).toBe('sat');
    expect(await some(run, lastsMs.ge(sureMs), lost)).toBe('unsat');
    expect(await some(run, lastsMs.eq(sureMs - 1), lost)).toBe('sat');
    expect(await some(run, lastsMs.le(quietMs), alerted)).toBe('unsat');
    expect(await some(run, lastsMs.eq(quietMs + 1), alerted)).toBe('sat');
    expect(await some(run, open, z3.Not(z3.And(delivered, delayMs.le(worstMs))))).toBe('unsat');
    expect(await some(run, open, delivered, delayMs.eq(worstMs))).toBe('sat');
    expect(await some(run, open, delivered, delayMs.lt(bestMs))).toBe('unsat');
    expect(await some(run, open, delivered, delayMs.eq(bestMs))).toBe('sat');
  });

  // Exceeded from no memory whatever: the start is any state that the memory can be in. Reached from the first power-on.
  it.each(watches.filter(([name]) => fromAnyState.has(name)))(
    'from any state: %s',
    async (_, changes) => {
      const watch = { ...plain, ...changes };
      const bounds = boundsOf(watch);
      const sureMs = bounds.alwaysDecidedFromMs.anyState ?? 0;
      const worstMs = bounds.worstDelayMs.anyState ?? 0;
      const checks = checksOf(watch, 'any state');
      const any = encoded(z3, watch, { from: 'any state', checks });
      expect(await some(any, any.lastsMs.ge(sureMs), z3.Not(any.alerted))).toBe('unsat');
      const late = z3.Not(z3.And(any.delivered, any.delayMs.le(worstMs)));
      expect(await some(any, any.lastsMs.eq(endless), late)).toBe('unsat');
      const reached = async (fact: (run: Run) => readonly Truth[]): Promise<boolean> => {
        const before: Start['from'][] = [
          watch.open,
          watch.open + 1,
          watch.open + 2,
          watch.open + 3,
          'rest',
        ];
        for (const from of before) {
          const run = encoded(z3, watch, { from, checks });
          if ((await some(run, ...fact(run))) === 'sat') return true;
        }
        return false;
      };
      expect(
        await reached(({ lastsMs, alerted, isOver }) => [
          lastsMs.eq(sureMs - 1),
          z3.Not(alerted),
          isOver,
        ]),
      ).toBe(true);
      expect(
        await reached(({ lastsMs, delivered, delayMs }) => [
          lastsMs.eq(endless),
          delivered,
          delayMs.eq(worstMs),
        ]),
      ).toBe(true);
    },
  );
});
