import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chargeMeasure,
  currentMeasure,
  errorMeasure,
  gapMeasure,
  type Measure,
  readMeasure,
  shareMeasure,
  writeMeasure,
} from '../../src/scenarios/quantity/measure.js';

const read = (measure: Measure, value: string | number): number | string => {
  const decoded = readMeasure(measure, value);
  return decoded.ok ? decoded.value : decoded.problem.code;
};

describe('a number with a unit', () => {
  it.each([
    ['8mm', 8_000],
    ['10.5 mm', 10_500],
    ['0.35mm', 350],
    ['1.2cm', 12_000],
    ['350um', 350],
    ['350µm', 350],
    [8, 8_000],
    [10.5, 10_500],
    ['.5', 500],
    ['0.0005mm', 'gap-not-whole'],
    ['8', 8_000],
    ['8m', 'gap-unknown-unit'],
    ['-1mm', 'gap-negative'],
    ['eight', 'gap-unreadable'],
    ['', 'gap-unreadable'],
    ['8mm 9mm', 'gap-unreadable'],
    ['8constructor', 'gap-unknown-unit'],
    [1e-9, 'gap-unknown-unit'],
  ])('is a gap: %s', (text, expected) => {
    expect(read(gapMeasure, text)).toBe(expected);
  });

  it.each([
    ['2%', 20_000],
    ['-2%', -20_000],
    ['−2 %', -20_000],
    ['+0.5%', 5_000],
    ['-150ppm', -150],
    ['0%', 0],
    ['-0%', 0],
    ['0.00001%', 'clock-error-not-whole'],
    ['2', 'clock-error-without-unit'],
    [0, 'clock-error-without-unit'],
    ['2 percent', 'clock-error-unknown-unit'],
  ])('is a clock error: %s', (text, expected) => {
    expect(read(errorMeasure, text)).toBe(expected);
  });

  it.each([
    [currentMeasure, '10uA', 10_000],
    [currentMeasure, '10µA', 10_000],
    [currentMeasure, '10\u03bcA', 10_000],
    [currentMeasure, '31mA', 31_000_000],
    [currentMeasure, '12.8uA', 12_800],
    [chargeMeasure, '600mAh', 600_000_000],
    [chargeMeasure, '2.2Ah', 2_200_000_000],
    [chargeMeasure, '600', 'charge-without-unit'],
    [shareMeasure, '85%', 850_000],
    [shareMeasure, '-5%', 'share-negative'],
  ])('is a current, a charge or a share: %#', (measure, text, expected) => {
    expect(read(measure, text)).toBe(expected);
  });

  it('is written so that it reads back the same', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), (um) => {
        expect(read(gapMeasure, writeMeasure(gapMeasure, um, 'mm'))).toBe(um);
      }),
    );
  });
});
