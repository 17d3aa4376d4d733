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

function verdictOf(
  ticks: Ticks,
  decided: readonly number[],
  within: number | null = null,
  on: { readonly arePending?: boolean; readonly isOpenAtEnd?: boolean } = {},
) {
  const openings = spansIn(ticks, /o+/giu);
  if (on.isOpenAtEnd === true) openings.toMs[openings.toMs.length - 1] = Number.POSITIVE_INFINITY;
  const unavailable = spansIn(ticks, /[OS]+/gu);
  const alerts = decided.map((decidedMs) => ({
    decidedMs,
    deliveredMs: on.arePending === true ? null : decidedMs,
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
    ['soOOoooos', [4], 'reported', 0],
    ['soOOoooos', [8], 'missed', 0],
    // The span begins just as it does, or holds all of it.
    ['sOOoooos', [2], 'unknown', 1],
    ['sOOOOOs', [3], 'unknown', 1],
    // Nothing of a span after it counts.
    ['soOOooossSSs', [], 'unknown', 1],
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

  it.each([
    // In time, or late, by what was seen before the span.
    ['sooooOOOOs', [3], 2, { outcome: 'reported', delayMs: 2 }],
    ['sooooOOOOs', [3], 1, { outcome: 'late', delayMs: 2 }],
    // From the start of a span before it on, the alert may have been in time or not.
    ['sSSoooos', [5], 4, { outcome: 'reported', delayMs: 2 }],
    ['sSSoooos', [5], 3, { outcome: 'unknown', delayMs: null }],
    ['sSSoooos', [5], 2, { outcome: 'unknown', delayMs: null }],
    ['sSSoooos', [5], 1, { outcome: 'late', delayMs: 2 }],
    // An alert in the span may have been of it, and in time.
    ['sSSoooos', [2, 5], 1, { outcome: 'unknown', delayMs: null }],
    ['soOOoooos', [5], 4, { outcome: 'reported', delayMs: 4 }],
    ['soOOoooos', [6], 1, { outcome: 'late', delayMs: 5 }],
    ['soOOoooos', [7], 2, { outcome: 'late', delayMs: 6 }],
    ['soOOoooos', [7], 3, { outcome: 'unknown', delayMs: null }],
  ])('%s with alerts at %j, required within %i, is %j', (ticks, decided, within, expected) => {
    expect(verdictOf(ticks, decided, within).openings.at(0)).toMatchObject(expected);
  });

  it('is undecided at the end only where an alert could still come in time', () => {
    const outcomeAt = (ticks: Ticks, within: number | null, decided: readonly number[] = []) => {
      const on = { arePending: decided.length > 0, isOpenAtEnd: true };
      return verdictOf(ticks, decided, within, on).openings.at(0).outcome;
    };
    expect(outcomeAt('soOOoooo', null)).toBe('unknown');
    expect(outcomeAt('soOOoooo', 7)).toBe('unknown');
    expect(outcomeAt('soOOoooo', 6)).toBe('missed');
    expect(verdictOf('soOOoooo', []).openings.at(0).outcome).toBe('missed');
    // Decided and pending.
    expect(outcomeAt('soooooOO', null, [3])).toBe('undecided');
    expect(outcomeAt('soooooOO', 7, [3])).toBe('undecided');
    expect(outcomeAt('soooooOO', 6, [3])).toBe('missed');
    expect(outcomeAt('soooooOO', null)).toBe('missed');
    const over = verdictOf('soooooOO', [3], null, { arePending: true });
    expect(over.openings.at(0)).toMatchObject({ outcome: 'missed', toMs: 8 });
    const open = verdictOf('soooooOO', [3], null, { isOpenAtEnd: true });
    expect(open.openings.at(0)).toMatchObject({ outcome: 'reported', toMs: null, durationMs: 7 });
  });

  it('knows how much of it was seen, and where it ends', () => {
    const { openings } = verdictOf('ssooooOOOO', [3]);
    expect(openings.seenMs(0)).toBe(4);
    expect(openings.at(0)).toMatchObject({ fromMs: 2, toMs: 10, durationMs: 8, delayMs: 1 });
  });

  it('has its alert counted by the first of several deliveries', () => {
    expect(verdictOf('sooooOOOOs', [4, 2]).openings.at(0).delayMs).toBe(1);
    expect(verdictOf('sooooOOOOs', [2, 4]).openings.at(0).delayMs).toBe(1);
  });

  it('has no delay if it is brief, and an alert of it may be true or false if it is unknown', () => {
    expect(verdictOf('soOOss', [1]).openings.at(0)).toMatchObject({
      outcome: 'brief',
      delayMs: null,
    });
    expect(verdictOf('soooOOOOs', [2]).alerts.map(({ kind }) => kind)).toEqual(['unknown']);
  });

  it('leaves the opening after it alone', () => {
    const { openings } = verdictOf('sooooOOOOssooooos', [3, 14]);
    expect(openings.seenMs(0)).toBe(4);
    expect(openings.seenMs(1)).toBe(null);
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
