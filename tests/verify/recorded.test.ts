// The checker on certificates that were recorded, without a search: each is accepted as it is, and refused at the very place where
// something was changed, also where the checksums were made again. `npm run mutants verify` runs these tests.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { notReachedIn, sizeOf, verifyCertificate } from '../../src/verify/index.js';
import { once } from '../support/once.js';
import { drained } from './places.js';
import {
  type Change,
  changed,
  forged,
  ofCase,
  recorded,
  recordedNames,
  sealed,
  valueAt,
  verdictOnRecorded,
} from './recorded.js';
import type { RecordedName } from './recorded-cases.js';

describe('a recorded certificate', () => {
  it.each(recordedNames)('is accepted as it is: %s', (name) => {
    const verdict = verdictOnRecorded(name, recorded(name));
    expect(verdict).toEqual({ kind: 'verified', certificate: recorded(name) });
  });

  it('has its states and steps counted, and its bounds that no run reaches named', () => {
    const verdict = verdictOnRecorded('plain', recorded('plain'));
    if (verdict.kind !== 'verified') throw new Error(verdict.message);
    const { certificate } = verdict;
    // Counted in the file: 6, 21 and 9 rows; their `next` lists and the three `first` lists.
    expect(sizeOf(certificate)).toEqual({ states: 36, transitions: 59 });
    expect(notReachedIn(certificate)).toEqual([]);
    const { latestAtRest, earliestAtRest } = certificate;
    const bare = {
      latestAtRest: { ...latestAtRest, delivered: null, unreported: null },
      latestFromAnyState: null,
      earliestAtRest: { ...earliestAtRest, decided: null },
    };
    expect(sizeOf(bare).states).toBe(15);
    expect(notReachedIn(bare)).toEqual([
      'latestAtRest.delivered',
      'latestAtRest.unreported',
      'earliestAtRest.decided',
    ]);
  });

  it('yields the share that is done, proof by proof', () => {
    const shares = [...verifyCertificate(recorded('plain'), ofCase('plain'))];
    const sixths = (count: number) => Array.from({ length: count }, (_, index) => index / count);
    const proofs = [sixths(6), sixths(21), sixths(9)];
    expect(shares).toEqual(
      proofs.flatMap((parts, order) => parts.map((part) => (order + part) / 3)),
    );
  });

  it('may leave out the runs to a bound: it is then no more than a safe one', () => {
    for (const run of ['latestAtRest/decided', 'earliestAtRest/delivered']) {
      const json = forged('plain', [`/${run}`, null]);
      expect(verdictOnRecorded('plain', json).kind).toBe('verified');
    }
  });
});

interface Refused {
  readonly place: string;
  readonly found?: string;
  readonly expected?: string;
}

/** Shown only as far as they are short. */
function expectRefused(name: RecordedName, json: unknown, refused: Refused): void {
  const verdict = verdictOnRecorded(name, json);
  if (verdict.kind === 'verified') throw new Error('accepted');
  const { place, found, expected } = verdict;
  expect(verdict.kind).toBe('refused');
  expect({ place, found, expected }).toEqual({
    found: undefined,
    expected: undefined,
    ...refused,
  });
}

const state = '/latestAtRest/states/3';

describe('a recorded certificate that was changed', () => {
  it.each<readonly [string, Change, Refused]>([
    ['the environment', ['/environment/resets', 1], { place: '/environment/checksum' }],
    ['a run', ['/latestAtRest/decided/then/0/1', 1], { place: '/latestAtRest/decided' }],
    [
      'a run to something else',
      ['/latestFromAnyState/unreported', { first: 1, then: [[1, 1]] }],
      { place: '/latestFromAnyState/unreported' },
    ],
  ])('is refused at %s', (_, change, { place }) => {
    const verdict = verdictOnRecorded('plain', changed('plain', change));
    expect(verdict).toMatchObject({ kind: 'refused', place });
  });

  it('is refused at its checksums, with the one that would fit', () => {
    for (const part of ['environment', 'latestAtRest', 'latestFromAnyState', 'earliestAtRest']) {
      const pointer = `/${part}/checksum`;
      const found = '00000000';
      const expected = String(valueAt(recorded('plain'), pointer));
      expectRefused('plain', changed('plain', [pointer, found]), {
        place: pointer,
        found,
        expected,
      });
    }
    const place = '/neverReported/checksum';
    const expected = String(valueAt(recorded('holding'), place));
    expectRefused('holding', changed('holding', [place, 'x']), { place, found: 'x', expected });
  });

  it('is refused at a part of a state', () => {
    const parts: readonly (readonly [string, unknown, Omit<Refused, 'place'>])[] = [
      ['device', 'recheck', { found: 'recheck', expected: 'recheck, recentChecks 1' }],
      ['phase', 'lost', { found: 'lost', expected: 'during' }],
      ['door', 'shut', { found: 'shut', expected: 'open' }],
      ['left/outage', 1, { found: '1', expected: '0' }],
      ['clocks/opening <=', 8, { found: '8', expected: '7' }],
      ['clocks/opening >=', 0, { found: '0', expected: 'nothing' }],
    ];
    for (const [part, value, refused] of parts) {
      const place = `${state}/${part}`;
      expectRefused('plain', forged('plain', [place, value]), { place, ...refused });
    }
    const json = changed('plain');
    Reflect.deleteProperty(Object(valueAt(json, `${state}/clocks`)), 'opening <=');
    const refused = { place: `${state}/clocks/opening <=`, found: 'nothing', expected: '7' };
    expectRefused('plain', json, refused);
  });

  it('is refused where a step leads to another state, to too few or to too many', () => {
    const after = '{"device":"boot, recentChecks 1","phase":"during","door":"open"';
    const verdict = verdictOnRecorded('plain', forged('plain', [`${state}/next/0`, 3]));
    expect(verdict).toMatchObject({
      ...{ kind: 'refused', place: `${state}/next/0`, found: '3' },
      expected: expect.stringContaining(after),
    });
    for (const index of [5, 6, 99]) {
      const json = forged('plain', [`${state}/next/0`, index]);
      const stray = verdictOnRecorded('plain', json);
      expect(stray).toMatchObject({ place: `${state}/next/0`, found: String(index) });
    }
    const none = verdictOnRecorded('plain', forged('plain', [`${state}/next`, []]));
    expect(none).toMatchObject({ place: `${state}/next/0`, found: '-1' });
    const twice = forged('plain', [`${state}/next`, [4, 4]]);
    expectRefused('plain', twice, { place: `${state}/next/1` });
    const first = forged('plain', ['/latestAtRest/first', [0, 0]]);
    expectRefused('plain', first, { place: '/latestAtRest/first/1' });
    // Of two steps, the second is missing: that place is the end of the list.
    const short = verdictOnRecorded('plain', forged('plain', ['/latestAtRest/states/0/next', [1]]));
    expect(short).toMatchObject({ place: '/latestAtRest/states/0/next/1', found: '-1' });
  });

  it('is refused with a state that nothing leads to', () => {
    const { states } = JSON.parse(JSON.stringify(recorded('plain')['latestAtRest']));
    const json = forged('plain', ['/latestAtRest/states', [...states, states[0]]]);
    expectRefused('plain', json, { place: '/latestAtRest/states/6' });
  });

  it('is refused with a run to a bound that does not exist, or to another one', () => {
    const run = { first: 0, then: [[7, 0]] };
    const none = forged('plain', ['/earliestAtRest/unreported', run]);
    expectRefused('plain', none, { place: '/earliestAtRest/unreported' });
    const other = forged('plain', ['/latestAtRest/decided', run]);
    const place = '/latestAtRest/decided';
    expectRefused('plain', other, { place, found: 'null', expected: '13' });
  });

  it.each<readonly [string, readonly Change[], string]>([
    ['begins with what cannot come first', [['/first', 7]], '/first'],
    ['takes a way that does not exist', [['/then/1', [1, 9]]], '/then/1'],
    ['takes a sleep too short', [['/then/0', [6, 0]]], '/then/0'],
    ['takes a sleep too long', [['/then/0', [8, 0]]], '/then/0'],
  ])('is refused with a run that %s', (_, changes, at) => {
    const place = '/latestAtRest/delivered';
    const json = forged(
      'plain',
      ...changes.map(([pointer, value]) => [`${place}${pointer}`, value] as const),
    );
    expectRefused('plain', json, { place: `${place}${at}` });
  });

  it('is refused with a run that goes on after its delivery', () => {
    const { then } = JSON.parse(
      JSON.stringify(valueAt(recorded('plain'), '/latestAtRest/delivered')),
    );
    const json = forged('plain', ['/latestAtRest/delivered/then', [...then, [7, 0]]]);
    expectRefused('plain', json, { place: '/latestAtRest/delivered/then/5' });
  });

  const bounds: readonly (readonly [pointer: string, value: number])[] = [
    ['alwaysReportedFromMs/atRest', 14],
    ['alwaysReportedFromMs/anyState', 14],
    ['alwaysDecidedFromMs/atRest', 14],
    ['alwaysDecidedFromMs/anyState', 14],
    ['neverAlarmedUpToMs', 6],
    ['worstDelayMs/atRest', 15],
    ['worstDelayMs/anyState', 15],
    ['bestDelayMs', 8],
  ];

  // By hand: a check every 8 ms (7 asleep, 1 to boot), the next 6 ms after an open one, 2 ms to send. The opening begins with the
  // check that sees it, or just after the one before.
  it('is refused with another bound than its states give', () => {
    for (const [pointer, value] of bounds) {
      const place = `/bounds/${pointer}`;
      for (const other of [value - 1, value + 1]) {
        const json = changed('plain', [place, other]);
        expectRefused('plain', json, { place, found: String(other), expected: String(value) });
      }
    }
  });

  it('is refused where it says nothing of openings that may never be reported', () => {
    const open = forged('holding', ['/neverReported', null]);
    expectRefused('holding', open, { place: '/neverReported' });
    const { then } = JSON.parse(JSON.stringify(recorded('holding')['neverReported']));
    const short = forged('holding', ['/neverReported/then', then.slice(0, -1)]);
    expectRefused('holding', short, { place: '/neverReported' });
    const stray = forged('holding', ['/neverReported/then/4/1', 8]);
    expectRefused('holding', stray, { place: '/neverReported/then/4' });
    const first = forged('holding', ['/neverReported/first', 3]);
    expectRefused('holding', first, { place: '/neverReported/first' });
  });
});

describe('a certificate of something else', () => {
  const other = (name: RecordedName, json: unknown, changes: Parameters<typeof ofCase>[1]) => {
    const steps = verifyCertificate(json, ofCase(name, changes));
    const step = steps.next();
    if (step.done !== true || step.value.kind === 'verified') throw new Error('accepted');
    const { kind, place, found, expected } = step.value;
    return { kind, place, found, expected };
  };
  const plain = once(() => ofCase('plain'));

  it('is of another watch, device or kind of reset', () => {
    const json = recorded('plain');
    const watch = { ...plain().watch, clearThreshold: 2 };
    expect(other('plain', json, { watch })).toEqual({
      ...{ kind: 'other watch', place: '/watch/clearThreshold', found: '1', expected: '2' },
    });
    const drifts = ofCase('slow-clock').timing;
    expect(other('plain', json, { timing: drifts })).toEqual({
      ...{ kind: 'other watch', place: '/device/connectMs/least', found: '2', expected: '1' },
    });
    const reset = { button: 'keeps', watchdog: 'keeps', software: null } as const;
    expect(other('plain', json, { reset })).toEqual({
      ...{ kind: 'other watch', place: '/device/resets/clear', found: 'false', expected: 'true' },
    });
    const clears = { button: 'clears', watchdog: 'clears', software: 'clears' } as const;
    expect(other('plain', json, { reset: clears })).toMatchObject({
      ...{ kind: 'other watch', place: '/device/resets/keep', found: 'true', expected: 'false' },
    });
    const { escalationThreshold, ...rest } = plain().watch;
    const short = { ...json, watch: rest };
    expect(other('plain', short, {})).toEqual({
      ...{ kind: 'other watch', place: '/watch/escalationThreshold' },
      ...{ found: 'nothing', expected: 'an object' },
    });
    expect(escalationThreshold.open).toBe(2);
    const grouped = { ...json, watch: { ...plain().watch, clearThreshold: {} } };
    expect(other('plain', grouped, {})).toEqual({
      ...{ kind: 'other watch', place: '/watch/clearThreshold', found: 'an object', expected: '1' },
    });
    expect(other('plain', { ...json, watch: 3 }, {})).toEqual({
      ...{ kind: 'other watch', place: '/watch', found: '3', expected: 'an object' },
    });
  });

  it('is refused for an environment that cannot be', () => {
    const environment = (name: RecordedName, changes: object): unknown => {
      const { environment: given } = JSON.parse(JSON.stringify(recorded(name)));
      return { ...recorded(name), environment: sealed({ ...given, ...changes }) };
    };
    const dark = environment('plain', { powerLosses: 1, longestPowerLossMs: 0 });
    expectRefused('plain', dark, { place: '/environment/longestPowerLossMs' });
    const noDark = environment('plain', { powerLosses: 0, longestPowerLossMs: 0 });
    expect(verdictOnRecorded('plain', noDark).kind).toBe('verified');
    const chatters = environment('woken-by-openings', { longestChatterMs: 1 });
    const place = '/environment/longestChatterMs';
    expectRefused('woken-by-openings', chatters, { place });
    const json = changed('plain', ['/watch/retryIntervalMs', 0]);
    const watch = { ...plain().watch, retryIntervalMs: deviceMs(0) };
    expect(other('plain', json, { watch })).toMatchObject({ kind: 'other watch', place: '/watch' });
  });

  it('is tried for the shortest sleep and the shortest power loss that there can be', () => {
    const json = changed('plain', ['/watch/retryIntervalMs', 1]);
    const watch = { ...plain().watch, retryIntervalMs: deviceMs(1) };
    const verdict = drained(verifyCertificate(json, ofCase('plain', { watch })));
    expect(verdict).not.toMatchObject({ place: '/watch' });
    const dark = forged('power-loss', ['/environment/longestPowerLossMs', 1]);
    expect(verdictOnRecorded('power-loss', dark)).not.toMatchObject({
      place: '/environment/longestPowerLossMs',
    });
  });
});
