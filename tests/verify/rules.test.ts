// Parts of the checker on their own: what one state holds of another, which extremes are kept, what a device is called, and where
// a proof stops at a device that holds.
import { describe, expect, it } from 'vitest';
import { calmEnvironment } from '../../src/model/index.js';
import {
  after,
  boundsFrom,
  type Extremes,
  easedFor,
  firstOf,
  holds,
  noExtremes,
  note,
  type Outcome,
  rowOf,
  rulesOf,
  type Spot,
  sealed,
  spanOf,
  type Task,
  timesOf,
} from '../../src/verify/index.js';
import { allZero } from '../../src/verify/zone.js';
import { rangesWith } from '../support/experiments.js';
import { once } from '../support/once.js';
import { forged, ofCase, recorded, verdictOnRecorded } from './recorded.js';
import { type RecordedCase, type RecordedName, recordedCases } from './recorded-cases.js';

function rulesFor(name: RecordedName) {
  const { watch, timing, reset } = ofCase(name);
  const { environment }: RecordedCase = recordedCases[name];
  return rulesOf(watch, timesOf(timing, reset), { ...calmEnvironment, ...environment });
}

const latest: Task = { from: 'any state', seek: 'latest' };

const spot = once((): Spot => {
  const [first] = firstOf(rulesFor('plain'), 'any state');
  if (first === undefined) throw new Error('nothing comes first');
  return first.spot;
});

describe('the first reading of all clocks', () => {
  it('is zero, and as far ahead of each other', () => {
    expect(allZero.length).toBe(64);
    expect(new Set(allZero)).toEqual(new Set([0]));
  });
});

describe('a state', () => {
  it('holds itself, and what has less left to go wrong', () => {
    const { left } = spot();
    expect(holds(spot(), spot())).toBe(true);
    for (const fault of ['outage', 'chatter', 'powerLoss', 'reset'] as const) {
      const more = { ...spot(), left: { ...left, [fault]: 1 } };
      expect([fault, holds(more, spot()), holds(spot(), more)]).toEqual([fault, true, false]);
    }
  });

  it('holds nothing that another device, phase, door or reading is in', () => {
    const { zone } = spot();
    const others: readonly Spot[] = [
      { ...spot(), device: { ...spot().device } },
      { ...spot(), phase: 'lost' },
      { ...spot(), door: 'shut' },
      { ...spot(), zone: zone.map((bound, cell) => (cell === 1 ? bound + 1 : bound)) },
    ];
    for (const other of others) expect(holds(spot(), other)).toBe(false);
  });
});

describe('the extremes of a proof', () => {
  /** An outcome at which the opening has lasted from `least` to `most`. */
  const outcome = (least: number, most: number, rest: Partial<Outcome>): Outcome => {
    const { zone } = spot();
    const size = Math.sqrt(zone.length);
    const set = zone.map((bound, cell) => (cell === 1 ? 0 - least : cell === size ? most : bound));
    const at: Spot = { ...spot(), zone: set };
    expect(spanOf(set, 'opening')).toEqual({ least, most });
    return {
      ...{ spot: at, event: null, unsure: false, input: { type: 'powerLost' } },
      ...rest,
    };
  };
  const kept = (seek: Task['seek'], outcomes: readonly Outcome[]): Extremes => {
    const extremes = { ...noExtremes };
    for (const one of outcomes) note(extremes, one, { ...latest, seek });
    return extremes;
  };

  it('are the latest or the earliest decision and delivery, and the longest that may go unreported', () => {
    const outcomes = [
      outcome(3, 5, { event: 'decided', unsure: true }),
      outcome(2, 9, { event: 'decided' }),
      outcome(4, 6, { event: 'decided', unsure: true }),
      outcome(7, 8, { event: 'delivered' }),
      outcome(6, 7, { event: 'delivered' }),
      outcome(0, 99, {}),
      outcome(0, 98, { event: 'held' }),
    ];
    expect(kept('latest', outcomes)).toEqual({ decided: 9, delivered: 8, unreported: 6 });
    expect(kept('earliest', outcomes)).toEqual({ decided: 2, delivered: 6, unreported: null });
  });

  it('are none where nothing happened, and bounds are then null', () => {
    expect(kept('latest', [])).toEqual({ decided: null, delivered: null, unreported: null });
    const none = { atRest: null, anyState: null };
    expect(boundsFrom({})).toEqual({
      ...{ alwaysReportedFromMs: none, alwaysDecidedFromMs: none, worstDelayMs: none },
      ...{ neverAlarmedUpToMs: null, bestDelayMs: null },
    });
    expect(boundsFrom({ latestAtRest: { decided: 0, delivered: null, unreported: 4 } })).toEqual({
      alwaysReportedFromMs: { atRest: 5, anyState: null },
      alwaysDecidedFromMs: { atRest: 1, anyState: null },
      ...{ worstDelayMs: none, neverAlarmedUpToMs: null, bestDelayMs: null },
    });
  });
});

describe('a proof that leads to a device that holds', () => {
  /** Rows of what can come from any state, up to the first device that holds. */
  function untilHeld(name: RecordedName) {
    const rules = rulesFor(name);
    const spots: Spot[] = [];
    const placed = (outcomes: readonly Outcome[]) => {
      const going = outcomes.filter(({ event }) => event !== 'delivered');
      const held = going.findIndex(({ event }) => event === 'held');
      const indexes = going.slice(0, held < 0 ? undefined : held).map((one) => {
        const next = easedFor(rules, latest, one.spot);
        const known = spots.findIndex((spotThere) => holds(spotThere, next));
        return known < 0 ? spots.push(next) - 1 : known;
      });
      return { indexes, isHeld: held >= 0 };
    };
    const first = placed(firstOf(rules, 'any state')).indexes;
    const nexts: (readonly number[])[] = [];
    for (const one of spots) {
      const { indexes, isHeld } = placed([...after(rules, one)]);
      nexts.push(indexes);
      if (isHeld) break;
    }
    const states = spots.map((one, index) => ({ ...rowOf(rules, one), next: nexts[index] ?? [] }));
    return {
      place: `${String(nexts.length - 1)}/next/${String(nexts.at(-1)?.length)}`,
      first,
      states,
    };
  }

  it('is refused there, although a run shows that it holds', () => {
    const { place, first, states } = untilHeld('holding');
    const runs = { decided: null, delivered: null, unreported: null };
    const proof = sealed({ first, states, ...runs, checksum: '' });
    const json = forged('holding', ['/latestFromAnyState', proof]);
    expect(verdictOnRecorded('holding', json)).toMatchObject({
      ...{ kind: 'refused', place: `/latestFromAnyState/states/${place}` },
      message: expect.stringContaining('stay awake'),
    });
    expect(verdictOnRecorded('holding', recorded('holding')).kind).toBe('verified');
  });
});

describe('a device that does nothing until it is reset', () => {
  it('goes on at a reset, and in no other way', () => {
    const rules = rulesFor('holding');
    const [alerted] = [...firstOf(rules, 'any state')];
    if (alerted === undefined) throw new Error('nothing comes first');
    let now: readonly Outcome[] = [alerted];
    for (let turn = 0; turn < 10 && !now.some(({ event }) => event === 'held'); turn += 1) {
      now = now.flatMap(({ spot: from }) => [...after(rules, from)]).slice(0, 1_000);
    }
    const held = now.find(({ event }) => event === 'held');
    if (held === undefined) throw new Error('none holds');
    const inputs = [...after(rules, held.spot, { least: 100, most: 100 })].map(
      ({ input }) => input,
    );
    expect(inputs.length).toBeGreaterThan(0);
    for (const input of inputs) expect(input).toEqual({ type: 'wake', cause: 'reset' });
  });
});

describe('the times of a device', () => {
  it('may keep or clear memory at a reset as its kinds are said to do, or either where nothing is said', () => {
    const may = (button: 'keeps' | 'clears' | null, others: 'keeps' | 'clears' | null) =>
      timesOf(rangesWith({}), { button, watchdog: others, software: others }).resets;
    expect(may('keeps', 'keeps')).toEqual({ keep: true, clear: false });
    expect(may('clears', 'clears')).toEqual({ keep: false, clear: true });
    expect(may('clears', 'keeps')).toEqual({ keep: true, clear: true });
    expect(may(null, 'keeps')).toEqual({ keep: true, clear: true });
    expect(may(null, null)).toEqual({ keep: true, clear: true });
  });
});
