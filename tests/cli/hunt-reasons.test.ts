// Every finding about an opening or an alert has its reason, and the reason is true of the run.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { type Reason, reasonsFor } from '../../src/cli/hunt/why.js';
import {
  calm,
  type Finding,
  type HuntQuestion,
  hunt,
  namedProperties,
  type Ran,
  runTrial,
  trialSeed,
  withUsual,
} from '../../src/hunt/index.js';
import { compileWatch, simulate } from '../../src/sim/index.js';
import { logicSettings, scales, watchSettings } from '../support/arbitraries.js';
import { watchFileOf } from '../support/watch-question.js';

const [, scale] = scales;
if (scale === undefined) throw new Error('there are several scales');
const settings = logicSettings.chain((logic) =>
  watchSettings({ ...logic, retryAttempts: Math.min(2, logic.retryAttempts) }, scale),
);
const plain = watchFileOf('judge: { leaveOpenAfter: 3m }\n');

/** Longer than a leave-open: an alert that breaks it may be one that is early, or just right. */
const quietUpToMs = trueMs(400_000);
const judge = { ...plain.judge, reportWithinMs: trueMs(300_000), quietUpToMs };

function questionOf(watch: HuntQuestion['watch'], at: number): HuntQuestion {
  const named = namedProperties[at % namedProperties.length];
  if (named === undefined) throw new Error('there are properties');
  return {
    watch,
    program: compileWatch(watch),
    timing: plain.timing,
    judge,
    contact: null,
    adversity: withUsual(calm, named.about),
    lengthMs: 43_200_000,
    properties: [named.property],
  };
}

/** What a reason says of an alert, compared with the records of its run. */
function expectTrue(reasons: readonly Reason[], { breach }: Finding, ran: Ran): void {
  const alert = ran.trace.alerts[breach.subject?.index ?? -1];
  if (alert === undefined || breach.subject?.kind !== 'alert') return;
  const said = reasons.map(({ sentence }) => sentence).join('\n');
  const [, checks] = /(\d+) checks? read open during/u.exec(said) ?? [];
  const { program } = ran.question;
  const { wakes } = simulate({
    program,
    timing: ran.trial.timing,
    world: ran.world,
    seed: trialSeed,
  });
  const open = wakes.filter(
    ({ check }) => check?.contact === 'open' && check.atMs <= alert.decidedMs,
  );
  expect(Number(checks)).toBeGreaterThanOrEqual(program.watch.escalationThreshold.open);
  expect(Number(checks)).toBeLessThanOrEqual(
    open.reduce((sum, { repeats }) => sum + 1 + repeats, 0),
  );
  const failed = alert.attempts.filter(({ outcome }) => outcome === 'failed').length;
  expect(said.includes(`${String(failed)} attempt${failed === 1 ? '' : 's'} failed`)).toBe(
    alert.deliveredMs === null && failed > 0,
  );
  const lostMs = alert.forgottenMs ?? -1;
  expect(/power loss cleared it|charge ended/u.test(said)).toBe(
    ran.world.powerLost.fromMs.includes(lostMs),
  );
  expect(said.includes('reset cleared it')).toBe(ran.world.resetsMs.includes(lostMs));
  expect(said.includes('dropped at a check')).toBe(alert.droppedMs !== null);
  const isSecond = breach.what.startsWith('a second alert');
  expect(said.includes('cleared the cooldown')).toBe(isSecond);
}

it('is given for watches of every kind and each property', () => {
  const kinds = new Set<string>();
  for (const [index, watch] of fc.sample(settings, { seed: 5, numRuns: 8 }).entries()) {
    // Each watch is tried with some of the properties, so that all are tried with several.
    for (const at of [index, index + 2, index + 5]) {
      const question = questionOf(watch, at);
      const { found } = hunt(question, { seed: 1, runs: 60 });
      if (found === null) continue;
      const ran = runTrial(question, found.trial);
      const { program } = question;
      const experiment = { program, timing: found.trial.timing, world: ran.world, seed: trialSeed };
      const reasons = reasonsFor(found.breach, ran, experiment);
      expect(
        reasons.map(({ sentence }) => sentence).filter((sentence) => sentence !== ''),
        found.breach.what,
      ).not.toEqual([]);
      expectTrue(reasons, found, ran);
      const { subject } = found.breach;
      kinds.add(
        `${found.breach.property} ${subject?.kind === 'alert' ? (ran.verdict.alerts[subject.index]?.kind ?? '') : ''}`,
      );
    }
  }
  // Alerts of other kinds than false ones are among them.
  expect([...kinds].filter((kind) => /(?:early|true|repeat)$/u.test(kind)).length).toBeGreaterThan(
    0,
  );
});

it('is given for an early alert of an opening that is to be quiet', () => {
  const watchFile = watchFileOf(
    'watch: { checkInterval: 1m, escalationThreshold: 2 }\njudge: { leaveOpenAfter: 3m, quietUpTo: 5m }\n',
  );
  const question: HuntQuestion = {
    ...questionOf(watchFile.watch, 2),
    judge: watchFile.judge,
    timing: watchFile.timing,
  };
  // Open for longer than a leave-open, and for less than quietUpTo.
  const openings = [[90_000, 350_000]] as const;
  const { found } = hunt(question, { seed: 1, runs: 50 });
  const trial = found?.trial;
  if (trial === undefined) throw new Error('found');
  const ran = runTrial(question, { ...trial, openings, lengthMs: 600_000 });
  expect(ran.verdict.alerts.map(({ kind }) => kind)).toEqual(['early']);
  const breach = { property: 'quiet', subject: { kind: 'alert', index: 0 }, what: '' } as const;
  const experiment = {
    program: question.program,
    timing: trial.timing,
    world: ran.world,
    seed: trialSeed,
  };
  expect(reasonsFor(breach, ran, experiment)).toEqual([
    { of: 'Why', sentence: '2 checks read open during one opening of 4 min 20 s' },
  ]);
});
