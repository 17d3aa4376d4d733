// Gaps, shares, currents and charges: one number with one unit, kept as a whole number of the smallest unit.
import { mostDigits, mostQuantityCharacters } from '../../model/index.js';
import { bad, type Decoded, good } from '../text/problem.js';
import { timesWhole } from './decimal.js';

/** A kind of quantity: how its units read, and what they are worth. */
export interface Measure {
  /** `gap`: goes into the codes of its errors. */
  readonly name: string;
  /** What each unit is worth in the smallest one. */
  readonly units: Readonly<Record<string, number>>;
  /** The unit of a bare number, where one is allowed. */
  readonly bareUnit: string | null;
  readonly signed: boolean;
  /** The smallest unit, in words. */
  readonly grain: string;
  readonly examples: readonly string[];
}

/** Whole micrometres. */
export const gapMeasure: Measure = {
  name: 'gap',
  units: { mm: 1_000, cm: 10_000, µm: 1, um: 1 },
  bareUnit: 'mm',
  signed: false,
  grain: 'micrometres',
  examples: ['8mm', '10.5mm'],
};

/** Whole parts per million, of either sign. */
export const errorMeasure: Measure = {
  name: 'clock-error',
  units: { '%': 10_000, ppm: 1 },
  bareUnit: null,
  signed: true,
  grain: 'parts per million',
  examples: ['2%', '-150ppm'],
};

/** Whole parts per million. */
export const shareMeasure: Measure = {
  name: 'share',
  units: { '%': 10_000, ppm: 1 },
  bareUnit: null,
  signed: false,
  grain: 'parts per million',
  examples: ['85%'],
};

/** Whole nanoamperes. */
export const currentMeasure: Measure = {
  name: 'current',
  units: { nA: 1, µA: 1_000, uA: 1_000, mA: 1_000_000, A: 1_000_000_000 },
  bareUnit: null,
  signed: false,
  grain: 'nanoamperes',
  examples: ['10uA', '31mA'],
};

/** Whole nanoampere hours. */
export const chargeMeasure: Measure = {
  name: 'charge',
  units: { µAh: 1_000, uAh: 1_000, mAh: 1_000_000, Ah: 1_000_000_000 },
  bareUnit: null,
  signed: false,
  grain: 'nanoampere hours',
  examples: ['1200mAh'],
};

/** Whole picocoulombs, which are nanoamperes times milliseconds: the charge of one act. */
export const actChargeMeasure: Measure = {
  name: 'charge',
  units: {
    mC: 1_000_000_000,
    µC: 1_000_000,
    uC: 1_000_000,
    C: 1_000_000_000_000,
    µAh: 3_600_000_000,
    uAh: 3_600_000_000,
    mAh: 3_600_000_000_000,
  },
  bareUnit: null,
  signed: false,
  grain: 'picocoulombs',
  examples: ['3.8mC', '2uAh'],
};

/** Whole ohms. */
export const resistanceMeasure: Measure = {
  name: 'resistance',
  units: { kOhm: 1_000, kΩ: 1_000, MOhm: 1_000_000, MΩ: 1_000_000, Ohm: 1, Ω: 1 },
  bareUnit: null,
  signed: false,
  grain: 'ohms',
  examples: ['45kOhm', '1MOhm'],
};

/** Whole millivolts. */
export const voltageMeasure: Measure = {
  name: 'voltage',
  units: { V: 1_000, mV: 1 },
  bareUnit: null,
  signed: false,
  grain: 'millivolts',
  examples: ['3.3V', '2900mV'],
};

/** Whole millimetres of a doorway. */
export const lengthMeasure: Measure = {
  name: 'length',
  units: { m: 1_000, cm: 10, mm: 1 },
  bareUnit: null,
  signed: false,
  grain: 'millimetres',
  examples: ['2m', '90cm'],
};

/** Whole litres of a room. */
export const volumeMeasure: Measure = {
  name: 'volume',
  units: { m3: 1_000, 'm³': 1_000, l: 1, L: 1 },
  bareUnit: null,
  signed: false,
  grain: 'litres',
  examples: ['12m3', '500l'],
};

/**
 * Reads one number and its unit. Errors: `…-without-unit`, `…-unknown-unit`, `…-negative`, `…-not-whole`,
 * `…-unreadable`, each beginning with the measure's name.
 */
export function readMeasure(measure: Measure, value: string | number): Decoded<number> {
  const { name } = measure;
  // The Greek letter and the micro sign look the same.
  const found = String(value);
  const written = found.trim().replaceAll('\u03bc', 'µ').replace(/^−/, '-');
  const expected = `a ${name.replace('-', ' ')} such as ${measure.examples.join(' or ')}`;
  const [number = '', sign = '', digits = ''] =
    written.length > mostQuantityCharacters
      ? []
      : (/^([+-]?)(\d+(?:\.\d+)?|\.\d+)/.exec(written) ?? []);
  const ending = written.slice(number.length).trimStart();
  if (digits === '' || digits.length > mostDigits || /\s/.test(ending)) {
    return bad(`${name}-unreadable`, `is not a ${name.replace('-', ' ')}`, { found, expected });
  }
  const unit = ending === '' ? measure.bareUnit : ending;
  if (unit === null) {
    // The unit of the first example is the one that most people mean.
    const usual = (measure.examples[0] ?? '').replace(/^[\d.\-−]+/u, '');
    const hint = sign === '-' && !measure.signed ? undefined : `write ${written}${usual}`;
    return bad(`${name}-without-unit`, 'has no unit', { found, expected, hint });
  }
  const worth = Object.hasOwn(measure.units, unit) ? measure.units[unit] : undefined;
  if (worth === undefined) {
    const hint = /^,\d/u.test(unit)
      ? `write decimals with a point: ${written.replace(',', '.')}`
      : `the units are ${Object.keys(measure.units).join(', ')}`;
    return bad(`${name}-unknown-unit`, `has the unknown unit ${unit}`, { found, expected, hint });
  }
  if (sign === '-' && !measure.signed && Number(digits) !== 0) {
    return bad(`${name}-negative`, 'is negative', { found, expected });
  }
  const whole = timesWhole(digits.startsWith('.') ? `0${digits}` : digits, worth);
  if (whole === null) {
    return bad(`${name}-not-whole`, `is not a whole number of ${measure.grain}`, {
      found,
      expected,
    });
  }
  return good(sign === '-' && whole !== 0 ? -whole : whole);
}

/** A whole number of the smallest unit, in the unit given, exact: 10,500 as mm is `10.5mm`. */
export function writeMeasure(measure: Measure, whole: number, unit: string): string {
  return `${String(whole / (measure.units[unit] ?? 1))}${unit}`;
}
