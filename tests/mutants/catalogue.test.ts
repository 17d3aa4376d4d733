// The catalogue of faulty watches: what is in it, that each is a machine that runs, and when one makes no difference.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alikeProperty, breachOf, trials } from '../../src/hunt/index.js';
import { compileTable, inputCodes, watchLogic } from '../../src/machine/index.js';
import { behavesAlike, mutantPrograms, mutants } from '../../src/mutants/index.js';
import { compileWatch, type Program } from '../../src/sim/index.js';
import { logicSettings, scales, watchSettings } from '../support/arbitraries.js';
import { plainWatch, rangesWith, watchWith } from '../support/experiments.js';
import { huntQuestion } from '../support/watch-question.js';
import { watchTexts } from './watches.js';

const timing = rangesWith({});

/** Small enough to compile forty times in a moment. */
const settings = logicSettings.chain((logic) =>
  watchSettings(
    { ...logic, retryAttempts: Math.min(2, logic.retryAttempts) },
    scales[1] ?? never(),
  ),
);

function never(): never {
  throw new Error('there are three scales');
}

function namesAlike(program: Program): string[] {
  return mutantPrograms(program, timing)
    .filter(({ alike }) => alike)
    .map(({ fault }) => fault.name);
}

describe('the catalogue', () => {
  it('has at least 25 faults, each with a name of its own and its mistake in words', () => {
    const names = mutants.map(({ name }) => name);
    expect(names.length).toBeGreaterThanOrEqual(25);
    expect(new Set(names).size).toBe(names.length);
    for (const { name, mistake } of mutants) {
      expect(name).toMatch(/^[a-z]+(?:-[a-z0-9]+)*$/u);
      expect(mistake).toMatch(/^[a-z].{10,120}[^.]$/u);
    }
  });

  it('gives each fault tables whose reactions lead to states of theirs', () => {
    for (const { program } of mutantPrograms(compileWatch(plainWatch), timing)) {
      const { next, effects, phases, memories } = program.table;
      expect([next.length, effects.length]).toEqual(Array(2).fill(phases.length * inputCodes));
      expect(memories).toHaveLength(phases.length);
      expect(next.every((state) => state >= -1 && state < phases.length)).toBe(true);
    }
  });
});

describe('a fault that makes no difference', () => {
  it('is known by the settings: of the plain watch', () => {
    expect(namesAlike(compileWatch(plainWatch))).toEqual([
      'window-one-shorter',
      'window-one-longer',
      'clear-one-less',
      'shut-run-not-broken',
      'heartbeat-clears-count',
      'cooldown-ended-by-shut',
      'cooldown-overflow',
      'unsent-kept',
      'never-holds',
      'recheck-after-check-interval',
      'recheck-after-alert',
      'sleep-overflow',
      'edges-not-armed',
      'shut-edge-not-armed',
      'wrong-edge-armed',
    ]);
  });

  it('is known where no time is left for it to matter', () => {
    const single = compileWatch(
      watchWith({
        escalationThreshold: { open: 1, outOf: 1 },
        retryIntervalMs: plainWatch.checkIntervalMs,
      }),
    );
    const names = namesAlike(single);
    expect(names).toContain('threshold-one-less');
    expect(names).toContain('open-checks-not-retained');
    expect(names).toContain('alert-on-first-open-check');
    expect(names).toContain('fall-back-one-early');
    expect(names).toContain('failures-not-reset');
    expect(names).not.toContain('threshold-one-more');
  });

  it('never gives another verdict, whatever happens', () => {
    fc.assert(
      fc.property(settings, fc.integer(), (watch, seed) => {
        const sound = compileWatch(watch);
        const base = huntQuestion(watchTexts.plain, {
          with: ['outages', 'power', 'resets', 'chatter'],
          lengthMs: 600_000,
        });
        const question = { ...base, watch, program: sound, timing };
        const tried = fc.sample(trials(question), { seed, numRuns: 4 });
        for (const { fault, program, alike } of mutantPrograms(sound, timing)) {
          if (!alike) continue;
          const beside = { ...question, properties: [alikeProperty(fault.name, program)] };
          for (const trial of tried) expect(breachOf(beside, trial)).toBeNull();
        }
      }),
      { seed: 1, numRuns: 3 },
    );
  });

  it('is none where one program is only compiled again', () => {
    const sound = compileWatch(plainWatch);
    const again = { watch: plainWatch, table: compileTable(watchLogic(plainWatch)) };
    expect(behavesAlike(sound, again)).toBe(true);
    expect(behavesAlike(sound, compileWatch(watchWith({ wakeOn: 'opening' })))).toBe(false);
  });
});
