// What is drawn: well-formed trials within their budgets, with edges where the device looks.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calm, runTrial, type Trial, trials } from '../../src/hunt/index.js';
import { simulate } from '../../src/sim/index.js';
import type { Span } from '../../src/timeline/index.js';
import { huntQuestion } from '../support/watch-question.js';

const all = ['outages', 'power', 'resets', 'chatter'] as const;
const text = `watch: { checkInterval: 3m, recheckInterval: 40s, escalationThreshold: 2, heartbeatInterval: 6h }
device: { bootTime: { min: 200ms, max: 900ms }, clockError: { min: -2%, max: 2% } }
judge: { leaveOpenAfter: 5m, reportWithin: 12m, quietUpTo: 30s }
`;
const question = huntQuestion(text, { with: all });
const plain = huntQuestion('watch: { checkInterval: 3m }\n', { with: ['power', 'resets'] });

function apart(spans: readonly Span[], lengthMs: number): boolean {
  return spans.every(([fromMs, toMs], index) => {
    const lastMs = spans[index - 1]?.[1] ?? -1;
    const ends = toMs <= lengthMs || toMs === Number.POSITIVE_INFINITY;
    return fromMs > lastMs && fromMs < toMs && fromMs < lengthMs && ends;
  });
}

function faultSpans({ contactFaults }: Trial): Span[] {
  return contactFaults.map(({ fromMs, toMs }) => [fromMs, toMs]);
}

describe('a trial', () => {
  it('has its events in order, apart, and inside the timeline', () => {
    fc.assert(
      fc.property(trials(question), (trial) => {
        const { openings, networkDown, powerLost, resets, lengthMs } = trial;
        const resetsMs = resets.map(({ atMs }) => atMs);
        expect(lengthMs).toBeLessThanOrEqual(question.lengthMs);
        for (const spans of [openings, networkDown, powerLost, faultSpans(trial)]) {
          expect(apart(spans, lengthMs)).toBe(true);
        }
        const ascending = resetsMs.every((atMs, at) => atMs > (resetsMs[at - 1] ?? -1));
        expect(ascending && resetsMs.every((atMs) => atMs < lengthMs)).toBe(true);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('keeps within its budgets and the ranges of the device', () => {
    const { adversity } = question;
    fc.assert(
      fc.property(trials(question), ({ networkDown, powerLost, resets, contactFaults, timing }) => {
        expect(networkDown.length).toBeLessThanOrEqual(adversity.outages);
        expect(powerLost.length).toBeLessThanOrEqual(adversity.powerLosses);
        expect(resets.length).toBeLessThanOrEqual(adversity.resets);
        expect(contactFaults.length).toBeLessThanOrEqual(adversity.misreads);
        for (const [fromMs, toMs] of networkDown) {
          if (Number.isFinite(toMs)) {
            expect(toMs - fromMs).toBeLessThanOrEqual(adversity.longestOutageMs);
          }
        }
        const { bootTime, clockError } = timing;
        const boots =
          bootTime.kind === 'fixed' ? [bootTime.ms] : bootTime.kind === 'inTurn' ? bootTime.ms : [];
        const errors =
          clockError.kind === 'fixed'
            ? [clockError.ppm]
            : clockError.kind === 'inTurn'
              ? clockError.ppm
              : [];
        expect(boots.length * errors.length).toBeGreaterThan(0);
        expect(boots.every((ms) => ms >= 200 && ms <= 900)).toBe(true);
        expect(errors.every((ppm) => Math.abs(ppm) <= 20_000)).toBe(true);
      }),
      { seed: 2, numRuns: 200 },
    );
  });

  it('without adversity moves nothing but the door', () => {
    const [trial] = fc.sample(trials({ ...question, adversity: calm }), { seed: 3, numRuns: 1 });
    expect(trial).toMatchObject({
      networkDown: [],
      powerLost: [],
      resets: [],
      contactFaults: [],
    });
  });

  it('moves the door within 2 ms of a check once or more, and cuts the power in every phase', () => {
    const drawn = fc.sample(trials(plain), { seed: 4, numRuns: 150 });
    let near = 0;
    const cut = { booting: 0, sending: 0, asleep: 0 };
    for (const trial of drawn) {
      const ran = runTrial(plain, trial);
      const experiment = {
        program: plain.program,
        timing: trial.timing,
        world: ran.world,
        seed: '1',
      };
      const { wakes } = simulate(experiment);
      for (const atMs of trial.openings.flat().filter(Number.isFinite)) {
        const isNear = wakes.some(({ check, repeats, periodMs }) => {
          if (check === null) return false;
          const index = repeats === 0 ? 0 : Math.round((atMs - check.atMs) / periodMs);
          const nearest = check.atMs + Math.min(repeats, Math.max(0, index)) * periodMs;
          return Math.abs(nearest - atMs) <= 2;
        });
        if (isNear) near += 1;
      }
      for (const [lostMs] of trial.powerLost) {
        const wake = wakes.findLast(({ wakeMs }) => wakeMs < lostMs);
        if (wake === undefined) continue;
        if (wake.check === null) cut.booting += 1;
        else if (wake.alertSend?.endMs === lostMs) cut.sending += 1;
        else cut.asleep += 1;
      }
    }
    expect(near / drawn.length).toBeGreaterThan(1);
    expect(Math.min(cut.booting, cut.sending, cut.asleep)).toBeGreaterThan(2);
  });
});
