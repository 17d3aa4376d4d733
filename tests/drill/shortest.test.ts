// Is a drill the shortest of its kind? Compared with every choice of the same steps, tried one after the other.

import { describe, expect, it } from 'vitest';
import { itemAt } from '../../src/base/index.js';
import { questionOf } from '../../src/bounds/index.js';
import { candidatesFor } from '../../src/drill/candidates.js';
import { chosenOf } from '../../src/drill/choose.js';
import { type Candidate, confirmed } from '../../src/drill/endings.js';
import { type DrillQuestion, setUpMs } from '../../src/drill/plan.js';
import { stageOf } from '../../src/drill/stage.js';
import { fails } from '../../src/drill/tell.js';
import { mutantPrograms } from '../../src/mutants/index.js';
import { drillFor, endOf, leastCover, toleranceMs, watchOf } from './at-the-door.js';

const small: Readonly<Record<string, string>> = {
  eager:
    'watch: { checkInterval: 1m, escalationThreshold: 1, alertCooldown: 0s, retry: { interval: 20s, attempts: 1 } }\n',
};

interface Shown {
  readonly costMs: number;
  readonly shows: ReadonlySet<string>;
}

/** All steps that might be, and what each shows for sure; and what those that were chosen take. */
function stepsOf(text: string): { readonly steps: readonly Shown[]; readonly chosenMs: number } {
  const question: DrillQuestion = {
    ...questionOf(watchOf(text)),
    toleranceMs,
    short: false,
    without: new Set(),
  };
  const { program, timing } = question;
  const stage = stageOf(question);
  const faults = mutantPrograms(program, timing).filter(({ alike }) => !alike);
  const candidates = endOf(candidatesFor(stage));
  const chosen = endOf(chosenOf(stage, { candidates, faults, leastCover }));
  const steps = chosen.among
    .map((candidate): Candidate | null => confirmed(candidate))
    .filter((candidate) => candidate !== null)
    .map((candidate) => ({
      costMs: candidate.endsMs + setUpMs,
      shows: new Set([
        ...[...candidate.made].map(String),
        ...candidate.bounds,
        ...faults
          .filter(({ program: faulty }) => fails(faulty, candidate))
          .map(({ fault }) => fault.name),
      ]),
    }));
  return { steps, chosenMs: chosen.costMs };
}

/** The least time in which steps show all that any of them shows: every way to show the rarest thing next is tried. */
function leastMs(steps: readonly Shown[]): number {
  const holders = new Map<string, Shown[]>();
  for (const step of steps) {
    for (const name of step.shows) holders.set(name, [...(holders.get(name) ?? []), step]);
  }
  const rarest = [...holders.keys()].sort(
    (a, b) => (holders.get(a)?.length ?? 0) - (holders.get(b)?.length ?? 0),
  );
  let least = Number.POSITIVE_INFINITY;
  const chosen: Shown[] = [];
  const choose = (spentMs: number): void => {
    if (spentMs >= least) return;
    const next = rarest.find((name) => !chosen.some(({ shows }) => shows.has(name)));
    if (next === undefined) {
      least = spentMs;
      return;
    }
    for (const step of holders.get(next) ?? []) {
      chosen.push(step);
      choose(spentMs + step.costMs);
      chosen.pop();
    }
  };
  choose(0);
  return least;
}

describe('the drill of a small watch', () => {
  it.each(Object.entries(small))('of the %s one takes the least time of all choices', (_, text) => {
    const drill = drillFor(watchOf(text));
    expect(drill.atLeastMs).toBe(drill.totalMs);
    const { steps, chosenMs } = stepsOf(text);
    expect(chosenMs).toBe(drill.totalMs);
    expect(steps.length).toBeGreaterThan(20);
    expect(itemAt(steps, 0).costMs).toBeGreaterThan(setUpMs);
    expect(leastMs(steps)).toBe(drill.totalMs);
  });
});
