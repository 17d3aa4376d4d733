// What a log knows of the length of an opening, on doors by tick: o open, s shut, a capital letter where the log has no state.
import { describe, expect, it } from 'vitest';
import { knownOpenings, seenMsOf } from '../../src/verdict/index.js';

function spansIn(ticks: string, test: RegExp) {
  const found = [...ticks.matchAll(test)];
  return {
    fromMs: Float64Array.from(found, ({ index }) => index),
    toMs: Float64Array.from(found, (one) => one.index + one[0].length),
  };
}

function doorOf(ticks: string) {
  const openings = spansIn(ticks, /o+/giu);
  const last = openings.toMs.length - 1;
  if (/o$/iu.test(ticks)) openings.toMs[last] = Number.POSITIVE_INFINITY;
  return { openings, unseen: spansIn(ticks, /[OS]+/gu), lengthMs: ticks.length };
}

describe('what is known of an opening, where 4 ticks are a leave-open', () => {
  it.each([
    ['soos', 'brief', 2, 'whole'],
    ['soooos', 'leave-open', 4, 'whole'],
    // Its end is that of the log.
    ['soo', 'unknown', 2, 'no end'],
    ['sooooo', 'leave-open', 5, 'no end'],
    // Its end is not seen.
    ['soOOOOs', 'unknown', 1, 'no end'],
    ['sooooOOs', 'leave-open', 4, 'no end'],
    ['soOs', 'brief', 1, 'no end'],
    // Its beginning is not seen.
    ['sSSooos', 'unknown', 3, 'no start'],
    ['sSSoooos', 'leave-open', 4, 'no start'],
    ['sSos', 'brief', 1, 'no start'],
    // It may have been two.
    ['soOoos', 'unknown', 2, 'neither whole'],
    ['soOoooos', 'leave-open', 4, 'neither whole'],
  ])('%s is %s, seen for %i, %s', (ticks, kind, seenMs, cut) => {
    const known = knownOpenings(doorOf(ticks), 4)(0);
    expect(known).toMatchObject({ kind, seenMs, isWhole: cut === 'whole' });
    expect(known.isStartSeen).toBe(cut !== 'no start');
    expect(known.isEndSeen).toBe(cut !== 'no end');
  });

  it('knows nothing of what came before the start of the log', () => {
    const door = doorOf('oooss');
    const before = { fromMs: Float64Array.of(-9), toMs: Float64Array.of(0) };
    expect(knownOpenings({ ...door, unseen: before }, 4)(0)).toEqual({
      ...{ kind: 'unknown', seenMs: 3, isStartSeen: false, isEndSeen: true, isWhole: false },
    });
    expect(seenMsOf({ ...door, unseen: before })).toBe(5);
  });

  it('leaves spans without a state out of the time in which the door was watched', () => {
    expect(seenMsOf(doorOf('ssSSsoOOs'))).toBe(5);
    const endless = { fromMs: Float64Array.of(3), toMs: Float64Array.of(Number.POSITIVE_INFINITY) };
    expect(seenMsOf({ lengthMs: 10, unseen: endless })).toBe(3);
  });
});
