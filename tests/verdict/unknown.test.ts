// Openings that a log does not know everything of, against every door that fits what it knows.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { judge } from '../../src/verdict/index.js';

/** Door by tick: o open, s shut, a capital letter where the log has no state. */
type Ticks = string;

const leaveOpenAfterMs = trueMs(4);

function spansIn(ticks: Ticks, test: RegExp): { fromMs: Float64Array; toMs: Float64Array } {
  const from: number[] = [];
  const to: number[] = [];
  for (const match of ticks.matchAll(test)) {
    from.push(match.index);
    to.push(match.index + match[0].length);
  }
  return { fromMs: Float64Array.from(from), toMs: Float64Array.from(to) };
}

function verdictOf(ticks: Ticks, decided: readonly number[], within: number | null = null) {
  const openings = spansIn(ticks, /o+/giu);
  const unavailable = spansIn(ticks, /[OS]+/gu);
  const alerts = decided.map((decidedMs) => ({
    decidedMs,
    deliveredMs: decidedMs,
    droppedMs: null,
    forgottenMs: null,
    attempts: [],
  }));
  const trace = { lengthMs: trueMs(ticks.length), alerts, tally: { checks: 0 } };
  const asked = {
    leaveOpenAfterMs,
    reportWithinMs: within === null ? null : trueMs(within),
    quietUpToMs: null,
  };
  return judge(openings, trace, asked, unavailable);
}

describe('an opening with a span of which the log knows nothing', () => {
  it.each([
    // Seen open long enough before the span: judged on that part.
    ['sooooOOOOs', [3], 'reported', 0],
    ['sooooOOOOs', [6], 'missed', 0],
    ['sooooOOOOs', [], 'missed', 0],
    // Not seen long enough: it might have shut.
    ['soooOOOOs', [6], 'unknown', 1],
    ['soooOOOOs', [], 'unknown', 1],
    ['soOOoooos', [], 'missed', 0],
    ['soOOoooos', [6], 'reported', 0],
    ['soOOoooos', [3], 'unknown', 1],
    // However it was, it is too short.
    ['soOOss', [2], 'brief', 0],
    // It may have opened before the log knew.
    ['sSSoos', [4], 'unknown', 1],
    ['sSSoooos', [5], 'reported', 0],
    ['sSos', [2], 'brief', 0],
  ])('%s with alerts at %j is %s', (ticks, decided, outcome, unknown) => {
    const { summary, openings } = verdictOf(ticks, decided);
    expect(openings.at(0).outcome).toBe(outcome);
    expect(summary.unknown).toBe(unknown);
    expect(summary.missed).toBe(outcome === 'missed' ? 1 : 0);
    expect(summary.leaveOpens).toBe(['missed', 'reported'].includes(outcome) ? 1 : 0);
  });

  it('has alerts of the kind unknown, which are counted as alerts only', () => {
    const { summary, alerts } = verdictOf('sSSSsoOOoooos', [2, 6, 7, 9, 10]);
    expect(alerts.map(({ kind }) => kind)).toEqual([
      'unknown',
      'unknown',
      'unknown',
      'true',
      'repeat',
    ]);
    expect(summary).toMatchObject({ alerts: 5, falseAlarms: 0, earlyAlerts: 0, repeats: 1 });
  });

  it('outside of a span is judged as ever', () => {
    const plain = verdictOf('soooosooossssss', [3, 7]);
    const beside = verdictOf('soooosooossSSSs', [3, 7]);
    expect(beside.summary).toEqual(plain.summary);
    expect(beside.alerts).toEqual(plain.alerts);
  });

  it('is unknown if and only if two doors that fit the log have other outcomes, unless it was seen long enough', () => {
    const stretch = fc.tuple(fc.constantFrom('o', 's', 'O', 'S'), fc.integer({ min: 1, max: 5 }));
    const doors = fc
      .array(stretch, { minLength: 2, maxLength: 6 })
      .map((parts) => `s${parts.map(([tick, count]) => tick.repeat(count)).join('')}s`)
      // In a span the recorded door stays as it was.
      .map((ticks) => ticks.replaceAll(/(?<=o)S/gu, 'O').replaceAll(/(?<=s)O/gu, 'S'))
      .filter((ticks) => !/oS|OS|sO|SO/u.test(ticks) && (ticks.match(/[OS]/gu) ?? []).length <= 9);
    const rank = ['brief', 'reported', 'missed'];
    fc.assert(
      fc.property(doors, fc.uniqueArray(fc.nat(24), { maxLength: 3 }), (ticks, at) => {
        const decided = at.filter((ms) => ms < ticks.length).sort((a, b) => a - b);
        const recorded = verdictOf(ticks, decided);
        const gaps = Array.from(ticks).flatMap((tick, index) =>
          /[OS]/u.test(tick) ? [index] : [],
        );
        for (let index = 0; index < recorded.openings.count; index += 1) {
          const { fromMs, toMs, outcome } = recorded.openings.at(index);
          const seen = Array.from(ticks.slice(fromMs), (tick, offset) => ({
            tick,
            at: fromMs + offset,
          }))
            .filter(({ tick, at: ms }) => tick === 'o' && ms < (toMs ?? ticks.length))
            .map(({ at: ms }) => ms);
          const first = /^o*/u.exec(ticks.slice(fromMs, toMs ?? undefined))?.[0].length ?? 0;
          const beganInSpan = ticks[fromMs - 1] === 'S';
          if (!beganInSpan && first >= leaveOpenAfterMs && first < (toMs ?? ticks.length) - fromMs)
            continue;
          const outcomes = new Set<string>();
          for (let mask = 0; mask < 2 ** gaps.length; mask += 1) {
            const door = Array.from(ticks.toLowerCase());
            gaps.forEach((gap, bit) => {
              door[gap] = (mask >> bit) % 2 === 1 ? 'o' : 's';
            });
            const truth = verdictOf(door.join(''), decided).openings;
            // Of its parts, the worst.
            const parts = Array.from({ length: truth.count }, (_, part) => truth.at(part)).filter(
              (part) => seen.some((ms) => part.fromMs <= ms && ms < (part.toMs ?? ticks.length)),
            );
            // Only one part need have lasted for long, and be reported.
            const worst = parts.map((part) => rank.indexOf(part.outcome));
            outcomes.add(rank[Math.max(...worst)] ?? '');
          }
          const known = outcomes.size === 1 ? [...outcomes][0] : 'unknown';
          expect([ticks, decided, index, outcome]).toEqual([ticks, decided, index, known]);
        }
      }),
      { numRuns: 300 },
    );
  });
});
