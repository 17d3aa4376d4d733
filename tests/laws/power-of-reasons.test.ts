// No reason names a check that could not happen: a device whose power was gone as the door shut, by a power loss or with its charge
// used up, was without power, and says so. A check that is named came, or would have come, after the time without power that is named.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { roundedDurationText, trueMs } from '../../src/base/index.js';
import { type Experiment, simulate, type Trace } from '../../src/sim/index.js';
import { explain, judge } from '../../src/verdict/index.js';
import { spansOf } from '../../src/world/index.js';
import { experiments, scales, someLogics } from '../support/arbitraries.js';
import { expandWakes } from '../support/expand.js';
import { asked } from '../support/experiments.js';
import { onCharge } from '../support/supply-arbitraries.js';
import { assertUntil } from '../support/until-seen.js';

/** Without power within [fromMs, toMs), one stretch after the other: lost, used up, or not yet switched on. */
function offMs(
  { world }: Experiment,
  { flat }: Trace,
  [fromMs, toMs]: readonly [number, number],
): number {
  const lost = Array.from(world.powerLost.fromMs, (from, index): [number, number] => [
    from,
    world.powerLost.toMs[index] ?? from,
  ]);
  const dark: (readonly [number, number])[] = [
    [0, world.powerOnAtMs],
    ...lost,
    ...flat.map(({ fromMs: from, toMs: to }): [number, number] => [from, to]),
  ];
  let [ms, doneMs] = [0, fromMs];
  for (const [from, to] of dark.toSorted((a, b) => a[0] - b[0])) {
    const end = Math.min(to, toMs);
    ms += Math.max(0, end - Math.max(from, doneMs));
    doneMs = Math.max(doneMs, Math.min(to, toMs));
  }
  return ms;
}

const named = /shut (.+?) before (the check that would have alerted|the next one|the first check)/u;

/** The check that a sentence names, in the run of which it speaks. */
function namedCheck(
  experiment: Experiment,
  trace: Trace,
  {
    fromMs,
    toMs,
    which,
  }: { readonly fromMs: number; readonly toMs: number; readonly which: string },
): { readonly atMs: number | undefined; readonly run: Trace } {
  if (which !== 'the check that would have alerted') {
    const checks = expandWakes(trace).flatMap(({ checkMs }) => checkMs ?? []);
    return { atMs: checks.find((ms) => ms >= toMs), run: trace };
  }
  const { world } = experiment;
  const contact = world.contact.filter((ms) => ms < toMs);
  const run = simulate({ ...experiment, world: { ...world, contact } });
  return { atMs: run.alerts.find(({ decidedMs }) => decidedMs >= fromMs)?.decidedMs, run };
}

/** How often each was seen. */
interface Seen {
  lost: number;
  usedUp: number;
  named: number;
  after: number;
}

function checkReasons(experiment: Experiment, seen: Seen): void {
  const wish = asked({ leaveOpenAfterMs: trueMs(1) });
  const trace = simulate(experiment);
  const verdict = judge(experiment.world.openings, trace, wish);
  for (const { subject, sentence } of explain({ experiment, verdict, asked: wish, limit: 50 })) {
    if (subject.kind !== 'opening') continue;
    const { fromMs, durationMs } = verdict.openings.at(subject.index);
    const toMs = fromMs + durationMs;
    const [, lead, which] = named.exec(sentence) ?? [];
    if (offMs(experiment, trace, [toMs - 1, toMs]) > 0) {
      const isFlat = trace.flat.some((flat) => flat.fromMs < toMs && toMs <= flat.toMs);
      seen[isFlat ? 'usedUp' : 'lost'] += 1;
      expect(which, sentence).toBeUndefined();
      const hasOwn = verdict.alerts.some(({ opening }) => opening === subject.index);
      if (!hasOwn) expect(sentence).toMatch(/no power|was off/u);
      continue;
    }
    if (which === undefined) continue;
    const { atMs, run } = namedCheck(experiment, trace, { fromMs, toMs, which });
    seen.named += 1;
    expect(lead, sentence).toBe(roundedDurationText((atMs ?? Number.NaN) - toMs));
    expect(offMs(experiment, run, [atMs ?? 0, (atMs ?? 0) + 1]), sentence).toBe(0);
    const off = offMs(experiment, run, [toMs, atMs ?? 0]);
    const [, said] = /with no power for (.+?) in between/u.exec(sentence) ?? [];
    expect(said, sentence).toBe(off === 0 ? undefined : roundedDurationText(off));
    if (off > 0) seen.after += 1;
  }
}

/** The same without a battery, where the power goes just as each of the openings ends, and comes back after a check interval. */
function lostAsItShuts(experiment: Experiment): Experiment {
  const { world, program } = experiment;
  const { checkIntervalMs } = program.watch;
  const powerLost = spansOf(
    Array.from(world.openings.toMs, (ms): [number, number] => [ms, ms + checkIntervalMs]),
  );
  return { ...experiment, charge: null, world: { ...world, powerLost } };
}

describe('the reason for an opening around a time without power', () => {
  it.each(scales)('names it, and no check that could not happen: $lengthMs ms', (scale) => {
    const seen: Seen = { lost: 0, usedUp: 0, named: 0, after: 0 };
    const law = fc.property(
      experiments(scale, 12, someLogics).chain((drawn) => onCharge(drawn, scale)),
      (drawn) => {
        for (const experiment of drawn) {
          checkReasons(experiment, seen);
          checkReasons(lostAsItShuts(experiment), seen);
        }
      },
    );
    assertUntil(law, { numRuns: 15 }, () => Math.min(...Object.values(seen)) >= 20);
  });
});
