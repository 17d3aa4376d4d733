// Checksums are against accidents; a forger makes them again. What is then still accepted proves what it says.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import type { BoundsQuestion } from '../../src/bounds/index.js';
import type { Environment } from '../../src/model/index.js';
import { questionOf } from '../bounds/question.js';
import { rangesWith } from '../support/experiments.js';
import { once } from '../support/once.js';
import { certificateOf, verdictOn } from './certificates.js';
import { numbersIn, oneOfEachKind, resealed } from './places.js';
import { recorded, verdictOnRecorded } from './recorded.js';
import type { RecordedName } from './recorded-cases.js';

const seconds = (count: number) => deviceMs(count * 1_000);

const plain = { recheckIntervalMs: seconds(20), alertCooldownMs: seconds(0) };
const drifting = rangesWith({ errorPpm: [-20_000, 30_000] });

/** A certificate with parts of another one in it, and checksums that fit. */
function mixed(one: BoundsQuestion, parts: object): unknown {
  const json = certificateOf(one);
  return resealed({ ...(typeof json === 'object' ? json : {}), ...parts });
}

function partsOf(question: BoundsQuestion, names: readonly string[]): object {
  const json = certificateOf(question);
  return Object.fromEntries(Object.entries(json ?? {}).filter(([name]) => names.includes(name)));
}

describe('a certificate with one number changed, and checksums made again', () => {
  it.each<readonly [string, RecordedName]>([
    ['a plain watch', 'plain'],
    ['a watch whose clock drifts', 'clock-that-drifts'],
    ['a watch that openings wake', 'woken-by-openings'],
  ])('is refused, where the number is a state or a bound of %s', (_, name) => {
    const json = recorded(name);
    const proved = numbersIn(json).filter(({ pointer }) =>
      /^\/(bounds|latest|earliest)/u.test(pointer),
    );
    let changed = 0;
    for (const place of oneOfEachKind(proved, 1)) {
      changed += 1;
      place.set(place.value + (changed % 2 === 0 ? 1 : -1));
      const { kind } = verdictOnRecorded(name, resealed(json));
      // Where a proof names another state that holds the same, or another run that ends the same, it is as good.
      if (kind === 'verified') {
        expect(place.pointer).toMatch(/\/(next|first|decided|delivered|unreported)\//u);
      }
      place.set(place.value);
    }
    expect(changed).toBeGreaterThan(40);
    expect(verdictOnRecorded(name, json).kind).toBe('verified');
  });
});

describe('a proof of something milder', () => {
  const faults: readonly (readonly [string, Partial<Environment>])[] = [
    ['an outage', { longestOutageMs: 60_000 }],
    ['a power loss', { powerLosses: 1, longestPowerLossMs: 60_000 }],
    ['a reset', { resets: 1 }],
    ['a contact that chatters', { longestChatterMs: 60_000 }],
  ];

  it.each(faults)('does not pass for one with %s', (_, environment) => {
    const harsher = questionOf(plain, { environment });
    const forged = mixed(questionOf(plain), partsOf(harsher, ['environment']));
    expect(verdictOn(forged, harsher)).toMatchObject({ kind: 'refused' });
  });

  it('does not pass for one of a clock that drifts', () => {
    const question = questionOf(plain, { timing: drifting });
    const forged = mixed(questionOf(plain), partsOf(question, ['device']));
    expect(verdictOn(forged, question)).toMatchObject({ kind: 'refused' });
  });

  it('does not pass for one of a watch that checks less often, or that keeps quiet for longer', () => {
    for (const settings of [
      { ...plain, checkIntervalMs: seconds(600) },
      { ...plain, alertCooldownMs: seconds(600) },
      { ...plain, escalationThreshold: { open: 3, outOf: 3 } },
    ]) {
      const question = questionOf(settings);
      const forged = mixed(questionOf(plain), partsOf(question, ['watch']));
      expect(verdictOn(forged, question)).toMatchObject({ kind: 'refused' });
    }
  });

  it('does not pass with a state left out, or with nothing from any state', () => {
    const question = questionOf(plain);
    const json = certificateOf(question);
    const { latestAtRest, bounds } = JSON.parse(JSON.stringify(json));
    latestAtRest.states.pop();
    expect(verdictOn(mixed(question, { latestAtRest }), question)).toMatchObject({
      kind: 'refused',
      place: expect.stringMatching(/^\/latestAtRest\//u),
    });
    bounds.alwaysReportedFromMs.anyState = null;
    bounds.alwaysDecidedFromMs.anyState = null;
    bounds.worstDelayMs.anyState = null;
    const none = mixed(question, { latestFromAnyState: null, bounds });
    expect(verdictOn(none, question)).toMatchObject({ kind: 'refused', place: '/neverReported' });
  });

  it('does not pass with a run to anything but a device that holds, where there is to be no bound', () => {
    const question = questionOf({ afterAlert: 'hold-until-reset' });
    const { neverReported } = JSON.parse(JSON.stringify(certificateOf(question)));
    expect(neverReported.then.length).toBeGreaterThan(0);
    neverReported.then.pop();
    expect(verdictOn(mixed(question, { neverReported }), question)).toMatchObject({
      kind: 'refused',
      place: '/neverReported',
    });
  });
});

type Steps = [lastsMs: number, choice: number][];

describe('a run', () => {
  const given = once(() => {
    const question = questionOf(plain, { environment: { longestOutageMs: 60_000, resets: 1 } });
    return { question, json: JSON.stringify(certificateOf(question)) };
  });

  it.each<readonly [string, (then: Steps) => void]>([
    ['more than can come next', (then) => (then[3] = [then[3]?.[0] ?? 0, 99])],
    ['a boot longer than any', (then) => (then[0] = [401, 0])],
    ['a sleep that is no whole one', (then) => (then[1] = [119_999, 0])],
    ['less than the bound', (then) => then.pop()],
    ['more after the delivery', (then) => then.push([120_000, 0])],
  ])('is refused that takes %s', (_, change) => {
    const { question, json } = given();
    const { latestFromAnyState } = JSON.parse(json);
    change(latestFromAnyState.delivered.then);
    expect(verdictOn(mixed(question, { latestFromAnyState }), question)).toMatchObject({
      kind: 'refused',
      place: expect.stringMatching(/^\/latestFromAnyState\/delivered/u),
    });
  });

  it('is refused that comes to something else than its bound', () => {
    const { question, json } = given();
    const { latestFromAnyState, latestAtRest } = JSON.parse(json);
    latestFromAnyState.decided = latestFromAnyState.delivered;
    latestAtRest.delivered = latestAtRest.decided;
    for (const parts of [{ latestFromAnyState }, { latestAtRest }]) {
      expect(verdictOn(mixed(question, parts), question).kind).toBe('refused');
    }
  });

  it('has no more resets, and no longer outages, than there are', () => {
    const harsher = questionOf(plain, { environment: { longestOutageMs: 90_000, resets: 2 } });
    const { question, json } = given();
    const { latestFromAnyState } = JSON.parse(json);
    const other = JSON.parse(JSON.stringify(certificateOf(harsher))).latestFromAnyState;
    latestFromAnyState.delivered = other.delivered;
    expect(verdictOn(mixed(question, { latestFromAnyState }), question)).toMatchObject({
      kind: 'refused',
      place: expect.stringMatching(/^\/latestFromAnyState\/delivered/u),
    });
  });
});
