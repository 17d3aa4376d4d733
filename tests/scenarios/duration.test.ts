import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { writeDuration } from '../../src/base/index.js';
import { parseDuration } from '../../src/scenarios/index.js';
import { readDuration } from '../../src/scenarios/quantity/duration.js';
import { anyText, codesOf, valueOf } from './reading.js';

const at = { file: '--interval' };
const longestMs = 100 * 365 * 86_400_000;

describe('a duration', () => {
  it.each([
    ['400ms', 400],
    ['90s', 90_000],
    ['3m', 180_000],
    ['1h30m', 5_400_000],
    ['2d', 172_800_000],
    ['1d12h', 129_600_000],
    ['1.5s', 1_500],
    ['0.25h', 900_000],
    ['1m0.001s', 60_001],
    ['1h 30m', 5_400_000],
    [' 3 min ', 180_000],
    ['25 minutes', 1_500_000],
    ['0s', 0],
    ['PT3M', 180_000],
    ['pt3m', 180_000],
    ['P1DT2H', 93_600_000],
    ['P1W', 604_800_000],
    ['PT1.5S', 1_500],
    ['+PT5S', 5_000],
  ])('reads %s', (text, ms) => {
    expect(valueOf(parseDuration(text, at))).toBe(ms);
  });

  it.each([
    ['3', 'duration-without-unit'],
    ['0', 'duration-without-unit'],
    ['1.5', 'duration-without-unit'],
    ['-3m', 'duration-negative'],
    ['−3m', 'duration-negative'],
    ['-PT5S', 'duration-negative'],
    ['3M', 'duration-unknown-unit'],
    ['3y', 'duration-unknown-unit'],
    ['30m1h', 'duration-order'],
    ['1m1m', 'duration-order'],
    ['1.5h30m', 'duration-unreadable'],
    ['0.5ms', 'duration-not-whole-ms'],
    ['1.0001s', 'duration-not-whole-ms'],
    ['PT0.0001S', 'duration-not-whole-ms'],
    ['P1M', 'duration-unreadable'],
    ['P1Y', 'duration-unreadable'],
    ['P', 'duration-unreadable'],
    ['PT', 'duration-unreadable'],
    ['', 'duration-unreadable'],
    ['soon', 'duration-unreadable'],
    ['3m!', 'duration-unknown-unit'],
    ['m3', 'duration-unreadable'],
    ['36600d', 'duration-too-long'],
    [`${'9'.repeat(400)}s`, 'duration-too-long'],
    ['1e3s', 'duration-unknown-unit'],
  ])('refuses %s as %s', (text, code) => {
    expect(codesOf(parseDuration(text, at))).toEqual([code]);
  });

  it('says of a bare number what to write instead', () => {
    const result = parseDuration('3', at);
    expect(result).toMatchObject({
      errors: [{ found: '3', source: at, hint: 'write 3s for seconds or 3m for minutes' }],
    });
  });

  it('is written so that it reads back the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: longestMs }), (ms) => {
        expect(readDuration(writeDuration(ms))).toEqual({ ok: true, value: ms });
      }),
    );
  });

  it('reads ISO 8601 as the date library writes it, and refuses it with a sign', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: longestMs }), (milliseconds) => {
        const duration = Temporal.Duration.from({ milliseconds }).round({ largestUnit: 'days' });
        expect(readDuration(duration.toString())).toEqual({ ok: true, value: milliseconds });
        expect(readDuration(duration.negated().toString())).toMatchObject({ ok: false });
      }),
    );
  });

  it('is read or refused, whatever the text', () => {
    fc.assert(
      fc.property(anyText(20), (text) => {
        const decoded = readDuration(text);
        if (decoded.ok) expect(Number.isSafeInteger(decoded.value)).toBe(true);
      }),
    );
  });
});
