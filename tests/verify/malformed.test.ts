// What is no certificate, or one of something else, is told apart from one that is wrong.
import { describe, expect, it } from 'vitest';
import { sealed } from '../../src/verify/index.js';
import { numbersIn } from './places.js';
import { changed, recorded, verdictOnRecorded } from './recorded.js';

const parsed = () => recorded('plain');
const verdictOn = (json: unknown) => verdictOnRecorded('plain', json);

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
      () => JSON.parse(`{"__proto__": 1, ${JSON.stringify(parsed()).slice(1)}`),
    ],
    [
      'states that are an object',
      () => ({ ...parsed(), latestAtRest: { first: [0], states: { length: 1 } } }),
    ],
    ['a deep state', () => ({ ...parsed(), latestAtRest: { first: [0], states: [deep(5_000)] } })],
  ])('is %s', (_, make) => {
    expect(verdictOn(make()).kind).toBe('malformed');
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
    for (const part of ['/device/', '/environment/', '/bounds/', '/latestAtRest/decided/']) {
      const json = parsed();
      const place = numbersIn(json).find(
        ({ pointer }) => pointer.startsWith(part) && !/anyState|clockErrorPpm/u.test(pointer),
      );
      place?.set(value);
      expect(verdictOn(json)).toMatchObject({ kind: 'malformed', place: place?.pointer });
    }
    const json = parsed();
    const clock = numbersIn(json).find(({ pointer }) => pointer.includes('/clocks/'));
    clock?.set(value);
    expect(verdictOn(json)).toMatchObject({ kind: 'malformed', place: clock?.pointer });
  });
});

const whole = 'a whole number';
const schema = 'dozewatch/certificate/';

describe('a refusal of what is no certificate', () => {
  it.each<readonly [place: string, value: unknown, found: string, expected: string]>([
    ['/bounds/bestDelayMs', 'x'.repeat(160), 'x'.repeat(160), whole],
    ['/bounds/bestDelayMs', 'x'.repeat(161), `${'x'.repeat(160)}…`, whole],
    ['/bounds/bestDelayMs', undefined, 'nothing', whole],
    ['/bounds/bestDelayMs', 0.5, '0.5', whole],
    ['/bounds/bestDelayMs', -0, '0', whole],
    ['/bounds/bestDelayMs', -1, '-1', 'a whole number of at least 0'],
    [
      '/environment/outages',
      1e13 + 1,
      '10000000000001',
      'a whole number of at most 10000000000000',
    ],
    ['/bounds/bestDelayMs', [1], 'a list', whole],
    ['/bounds/bestDelayMs', { at: 1 }, 'an object', whole],
    ['/bounds', 3, '3', 'an object'],
    ['/neverReported', undefined, 'nothing', 'an object'],
    ['/latestAtRest/first', {}, 'an object', 'a list'],
    ['/latestAtRest/checksum', 1, '1', 'text'],
    ['/latestAtRest/states/0/next', null, 'null', 'a list'],
    ['/latestAtRest/states/0/device', 3, '3', 'text'],
    ['/latestAtRest/states/0/clocks', [], 'a list', 'an object'],
    ['/latestAtRest/states/0/left/reset', -1, '-1', 'a whole number of at least 0'],
    ['/latestAtRest/decided/then/0', 3, '3', 'a pair'],
    ['/latestAtRest/decided/then/0', [1], 'a list', 'a pair'],
    ['/latestAtRest/decided/then/0', [1, 2, 3], 'a list', 'a pair'],
    ['/device/resets/keep', 1, '1', 'true or false'],
    ['/device/bootMs/extra', 1, '1', 'no such key'],
    ['/schema', `${schema}7`, `${schema}7`, `${schema}8`],
    ['/schema', `${schema}1`, `${schema}1`, `${schema}8`],
    ['/schema', `${schema}0`, `${schema}0`, `"${schema}8"`],
    ['/schema', `${schema}71`, `${schema}71`, `"${schema}8"`],
    ['/schema', `x ${schema}7`, `x ${schema}7`, `"${schema}8"`],
    ['/schema', 6, '6', `"${schema}8"`],
    ['/schema', [`${schema}7`], 'a list', `"${schema}8"`],
  ])('says what belongs at %s', (place, value, found, expected) => {
    const verdict = verdictOn(changed('plain', [place, value]));
    expect(verdict).toMatchObject({ kind: 'malformed', place, found, expected });
  });

  it('names the first of several keys too many', () => {
    const verdict = verdictOn({ ...parsed(), proved: true, signed: true });
    expect(verdict).toMatchObject({
      ...{ kind: 'malformed', place: '/proved', found: 'true', expected: 'no such key' },
    });
  });

  it.each([
    [null, 'null'],
    [3, '3'],
    [[], 'a list'],
    ['text', 'text'],
  ])('is of the whole where it is %j', (json, found) => {
    expect(verdictOn(json)).toMatchObject({
      ...{ kind: 'malformed', place: '', found, expected: 'an object' },
    });
  });

  it('lists the phases that a state can have', () => {
    const place = '/latestAtRest/states/0/phase';
    const expected = ['rest', 'stirred', 'before', 'during', 'decided', 'lost'];
    const verdict = verdictOn(changed('plain', [place, 'asleep']));
    expect(verdict).toMatchObject({
      ...{ kind: 'malformed', place, found: 'asleep' },
      expected: `one of ${expected.map((phase) => `"${phase}"`).join('|')}`,
    });
  });

  it('takes numbers up to their limits', () => {
    const { kind } = verdictOn(changed('plain', ['/environment/outages', 1e13]));
    expect(kind).toBe('refused');
    const clock = '/latestAtRest/states/3/clocks/opening <=';
    expect(verdictOn(changed('plain', [clock, -1])).kind).toBe('refused');
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
    const { environment } = JSON.parse(JSON.stringify(json));
    const verdict = verdictOn({ ...json, environment: { ...environment, resets: 1 } });
    expect(verdict).toMatchObject({
      kind: 'refused',
      place: '/environment/checksum',
      found: environment.checksum,
      expected: sealed({ ...environment, resets: 1 }).checksum,
    });
  });
});
