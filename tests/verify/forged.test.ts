// Checksums are against accidents; a forger makes them anew. What is then still accepted proves what it says.
import { describe, expect, it } from 'vitest';
import { deviceMs, ppm } from '../../src/base/index.js';
import type { BoundsQuestion, Environment } from '../../src/bounds/index.js';
import { questionOf } from '../bounds/question.js';
import { timingWith } from '../support/experiments.js';
import { certificateOf, numbersIn, resealed, verdictOn } from './certificates.js';

const seconds = (count: number) => deviceMs(count * 1_000);

const plain = { recheckIntervalMs: seconds(20), alertCooldownMs: seconds(0) };
const drifting = {
  ...timingWith({}),
  clockError: { kind: 'drawn', leastPpm: ppm(-20_000), greatestPpm: ppm(30_000) },
} as const;

/** A certificate with parts of another one in it, and checksums that fit. */
function mixed(one: BoundsQuestion, parts: object): unknown {
  const json = certificateOf(one);
  return resealed({ ...(typeof json === 'object' ? json : {}), ...parts });
}

function partsOf(question: BoundsQuestion, names: readonly string[]): object {
  const json = certificateOf(question);
  return Object.fromEntries(Object.entries(json ?? {}).filter(([name]) => names.includes(name)));
}

describe('a certificate with one number changed, and checksums made anew', () => {
  it.each<readonly [string, BoundsQuestion]>([
    ['a plain watch', questionOf(plain)],
    ['a watch whose clock drifts', questionOf(plain, { timing: drifting })],
    ['a watch that openings wake', questionOf({ ...plain, wakeOn: 'opening' })],
  ])('is refused, where the number is a state or a bound of %s', (_, question) => {
    const json = certificateOf(question);
    let changed = 0;
    for (const place of numbersIn(json)) {
      if (!/^\/(bounds|latest|earliest)/u.test(place.pointer)) continue;
      changed += 1;
      place.set(place.value + (changed % 2 === 0 ? 1 : -1));
      const { kind } = verdictOn(resealed(json), question);
      // Where a proof names another state that holds the same it is as good.
      if (kind === 'verified') expect(place.pointer).toMatch(/\/(next|first)\//u);
      place.set(place.value);
    }
    expect(changed).toBeGreaterThan(100);
    expect(verdictOn(json, question).kind).toBe('verified');
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
    bounds.worstDelayMs.anyState = null;
    const courses = {
      ...JSON.parse(JSON.stringify(json)).courses,
      latestDecisionFromAnyState: null,
      latestDeliveryFromAnyState: null,
    };
    const none = mixed(question, { latestFromAnyState: null, bounds, courses });
    expect(verdictOn(none, question)).toMatchObject({
      kind: 'refused',
      place: '/courses/neverReported',
    });
  });
});

describe('a course', () => {
  const question = questionOf(plain, { environment: { longestOutageMs: 60_000, resets: 1 } });

  it.each<readonly [string, string, unknown]>([
    ['more resets than there are', 'resetsMs', [1_000, 2_000]],
    ['an outage longer than any', 'networkDownMs', [[0, 60_001]]],
    [
      'two outages for one',
      'networkDownMs',
      [
        [0, 1],
        [60_000, 60_001],
      ],
    ],
    ['a power loss where there is none', 'powerLostMs', [[1_000, 2_000]]],
    ['a boot longer than any', 'bootsMs', [401]],
    ['instants out of order', 'doorOpenMs', [[5, 4]]],
    ['an opening beyond its end', 'lengthMs', 1],
    ['more time than any course needs', 'lengthMs', 1e15],
  ])('is refused that takes %s', (_, name, value) => {
    const { courses } = JSON.parse(JSON.stringify(certificateOf(question)));
    courses.latestDeliveryFromAnyState[name] = value;
    expect(verdictOn(mixed(question, { courses }), question)).toMatchObject({
      kind: 'refused',
      place: expect.stringContaining('/courses/latestDeliveryFromAnyState/'),
    });
  });

  it('is refused that does not meet the device at rest, or does not come to its bound', () => {
    const { courses } = JSON.parse(JSON.stringify(certificateOf(question)));
    const stirred = { ...courses, latestDecisionAtRest: courses.latestDecisionFromAnyState };
    const early = { ...courses, latestDecisionFromAnyState: courses.earliestDecisionAtRest };
    for (const forged of [stirred, early]) {
      expect(verdictOn(mixed(question, { courses: forged }), question).kind).toBe('refused');
    }
  });
});
