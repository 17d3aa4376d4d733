// What a fitted profile shows of leave-opens, where the watch file counts them from another length on than the fit did.
import { describe, expect, it } from 'vitest';
import { trueMs } from '../../src/base/index.js';
import { evidenceOf, type UsageProfile } from '../../src/scenarios/index.js';

const minuteMs = 60_000;
const minutes = (...list: readonly number[]) => ({
  kind: 'drawn' as const,
  ms: list.map((one) => trueMs(one * minuteMs)),
});

/** Of a log of 20 openings: 15 brief ones, of which a third is of 5 min and more, and five of 10 min and more. */
const profile: UsageProfile = {
  openingsPerHour: Array.from({ length: 24 }, () => 0.1),
  weekdayFactor: 1,
  weekendFactor: 1,
  duration: minutes(1, 2, 5),
  leaveOpen: { share: 0.25, duration: minutes(10, 10.5, 11.5, 23, 65) },
  fitted: {
    ...{ days: 7, openings: 20, leaveOpens: 5, leaveOpensApart: 4 },
    leaveOpenAfterMs: trueMs(10 * minuteMs),
    resamples: [],
  },
};

describe('the leave-opens that a fitted profile shows', () => {
  it.each([
    [10, 5, 4],
    // 23 and 65 min.
    [12, 2, 1.6],
    [65, 1, 0.8],
    [66, 0, undefined],
    // And five of the 15 brief ones.
    [5, 10, 8],
    [0.5, 20, 16],
  ])('from %d min on are %i', (minute, leaveOpens, leaveOpensApart) => {
    const evidence = evidenceOf(profile, minute * minuteMs);
    const isRecounted = minute === 10 ? undefined : true;
    expect(evidence).toMatchObject({ days: 7, openings: 20, leaveOpens });
    expect(evidence?.leaveOpensApart).toEqual(leaveOpensApart);
    expect(evidence?.isRecounted).toEqual(isRecounted);
  });

  it('are counted where the profile has the days of the log', () => {
    const openings = [1, 9, 12, 30].map((minute) => ({ atMs: minute, forMs: minute * minuteMs }));
    const asLogged = { ...profile, days: [{ weekend: false, openings }] };
    expect(evidenceOf(asLogged, 11 * minuteMs)?.leaveOpens).toBe(2);
    expect(evidenceOf(asLogged, 5 * minuteMs)?.leaveOpens).toBe(3);
  });

  it('are those of the fit where it does not say from when on they count', () => {
    const fitted = { days: 7, openings: 20, leaveOpens: 5, resamples: [] };
    expect(evidenceOf({ ...profile, fitted }, minuteMs)).toMatchObject({ leaveOpens: 5 });
    expect(evidenceOf({ ...profile, fitted }, minuteMs)).not.toHaveProperty('isRecounted');
  });

  it('by a fitted distribution are rounded down, since fewer show less', () => {
    const duration = { kind: 'exponential', meanMs: trueMs(5 * minuteMs) } as const;
    // 15 brief ones, of which a share of exp(−1) is of 5 min and more: 5.5.
    expect(evidenceOf({ ...profile, duration }, 5 * minuteMs)?.leaveOpens).toBe(5 + 5);
  });
});
