// What is no certificate, or one of something else, is told apart from one that is wrong.
import { describe, expect, it } from 'vitest';
import { deviceMs } from '../../src/base/index.js';
import { sealed, verifyCertificate } from '../../src/verify/index.js';
import { questionOf } from '../bounds/question.js';
import { rangesWith, watchWith } from '../support/experiments.js';
import { once } from '../support/once.js';
import { certificateOf, drained, numbersIn, verdictOn } from './certificates.js';

const given = once(() => {
  const question = questionOf({
    recheckIntervalMs: deviceMs(20_000),
    alertCooldownMs: deviceMs(0),
  });
  return { question, text: JSON.stringify(certificateOf(question)) };
});

/** A certificate of its own for each test. */
function parsed(): Record<string, unknown> {
  return JSON.parse(given().text);
}

function deep(levels: number): unknown {
  return JSON.parse(`${'['.repeat(levels)}${']'.repeat(levels)}`);
}

describe('no certificate', () => {
  it.each<readonly [string, () => unknown]>([
    ['nothing', () => null],
    ['a number', () => 3],
    ['a list', () => []],
    ['a deep list', () => deep(5_000)],
    ['an empty object', () => ({})],
    ['another schema', () => ({ ...parsed(), schema: 'dozewatch/replay/2' })],
    ['a key too many', () => ({ ...parsed(), proved: true })],
    [
      'a key that is the name of the prototype',
      () => JSON.parse(`{"__proto__": 1, ${given().text.slice(1)}`),
    ],
    [
      'states that are an object',
      () => ({ ...parsed(), latestAtRest: { first: [0], states: { length: 1 } } }),
    ],
    ['a deep state', () => ({ ...parsed(), latestAtRest: { first: [0], states: [deep(5_000)] } })],
  ])('is %s', (_, make) => {
    expect(verdictOn(make(), given().question).kind).toBe('malformed');
  });

  it.each<readonly [string, unknown]>([
    ['no number', Number.NaN],
    ['without end', Number.POSITIVE_INFINITY],
    ['below nothing', -0],
    ['broken', 0.5],
    ['beyond what is exact', 2 ** 53],
    ['a text', '1'],
    ['missing', undefined],
    ['null', null],
    ['a list', [1]],
    ['an object with a value of its own', { valueOf: 1 }],
  ])('has a number that is %s', (_, value) => {
    const { question } = given();
    for (const part of ['/device/', '/environment/', '/bounds/', '/latestAtRest/decided/']) {
      const json = parsed();
      const place = numbersIn(json).find(
        ({ pointer }) => pointer.startsWith(part) && !/anyState|clockErrorPpm/u.test(pointer),
      );
      place?.set(value);
      expect(verdictOn(json, question)).toMatchObject({ kind: 'malformed', place: place?.pointer });
    }
    const json = parsed();
    const clock = numbersIn(json).find(({ pointer }) => pointer.includes('/clocks/'));
    clock?.set(value);
    expect(verdictOn(json, question)).toMatchObject({ kind: 'malformed', place: clock?.pointer });
  });
});

describe('a part with a checksum', () => {
  // FNV-1a, 32 bits, by its published offset and prime (Fowler, Noll and Vo; draft-eastlake-fnv), digit by digit.
  function fnv(text: string): string {
    let hash = 2_166_136_261n;
    for (const byte of Buffer.from(text)) hash = ((hash ^ BigInt(byte)) * 16_777_619n) % 2n ** 32n;
    return hash.toString(16).padStart(8, '0');
  }

  it('has the FNV-1a hash of its text, with leading zeros', () => {
    let zeros = 0;
    for (let value = 0; value < 100; value += 1) {
      const { checksum } = sealed({ value });
      expect(checksum).toBe(fnv(JSON.stringify({ value })));
      if (checksum.startsWith('0')) zeros += 1;
    }
    expect(zeros).toBeGreaterThan(0);
  });

  it('is refused with both checksums named, where they differ', () => {
    const json = parsed();
    const { environment } = JSON.parse(given().text);
    const verdict = verdictOn(
      { ...json, environment: { ...environment, resets: 1 } },
      given().question,
    );
    expect(verdict).toMatchObject({
      kind: 'refused',
      place: '/environment/checksum',
      found: environment.checksum,
      expected: sealed({ ...environment, resets: 1 }).checksum,
    });
  });
});

describe('a certificate of something else', () => {
  const of = () => {
    const { question } = given();
    const { program, timing, reset } = question;
    return { watch: program.watch, timing, reset };
  };

  it('names the setting in which the watch differs', () => {
    const watch = watchWith({ ...of().watch, retryAttempts: 4 });
    expect(drained(verifyCertificate(parsed(), { ...of(), watch }))).toMatchObject({
      kind: 'other watch',
      place: '/watch/retryAttempts',
      found: '5',
      expected: '4',
    });
  });

  it('names the time in which the device differs', () => {
    const timing = rangesWith({ bootMs: 401 });
    expect(drained(verifyCertificate(parsed(), { ...of(), timing }))).toMatchObject({
      kind: 'other watch',
      place: '/device/bootMs/least',
    });
  });
});
