// Amounts that stand alone on a command line: temperatures, sizes of doorways and rooms, and a measured life.

import type { Result, SourceRef } from '../../base/index.js';
import {
  capacityLimits,
  celsiusLimits,
  doorwayLimits,
  exampleLife,
  isWithin,
  type MeasuredLife,
  roomLimits,
} from '../../model/index.js';
import { bad, type Decoded, good, resultOf } from '../text/problem.js';
import { readDuration } from './duration.js';
import {
  chargeMeasure,
  lengthMeasure,
  type Measure,
  readMeasure,
  volumeMeasure,
} from './measure.js';

/**
 * Reads a temperature: `4C`, `-18°C`, `46F`; a bare number is °C.
 * @returns °C. Errors: `temperature-unreadable`, `temperature-unknown-unit`, `out-of-range` (−100 to 200 °C).
 */
export function parseCelsius(text: string, source: SourceRef): Result<number> {
  return resultOf(readCelsius(text), 'this', source);
}

/** The same without a place. */
export function readCelsius(text: string): Decoded<number> {
  const expected = 'a temperature such as 4C, -18C or 46F';
  const written = text.trim().replace(/^−/, '-');
  const [, number = '', unit = ''] =
    /^([+-]?(?:\d+(?:\.\d+)?|\.\d+))\s*(?:°\s*)?([^\s\d.,]*)$/.exec(written) ?? [];
  if (number === '' || number.length > 12) {
    const hint = written.includes(',') ? 'write decimals with a point: 4.5C' : undefined;
    return bad('temperature-unreadable', 'is not a temperature', { found: text, expected, hint });
  }
  if (!/^[cf]?$/i.test(unit)) {
    const hint = 'the units are C and F';
    return bad('temperature-unknown-unit', `has the unknown unit ${unit}`, {
      found: text,
      expected,
      hint,
    });
  }
  const celsius = /^f$/i.test(unit) ? ((Number(number) - 32) * 5) / 9 : Number(number);
  if (isWithin(celsius, celsiusLimits)) return good(celsius);
  return bad('out-of-range', 'is out of range', {
    found: text,
    expected: `from ${String(celsiusLimits.least)}C to ${String(celsiusLimits.most)}C`,
  });
}

/** Reads the width or height of a doorway, from 10 cm to 20 m. @returns whole millimetres. */
export function parseLength(text: string, source: SourceRef): Result<number> {
  return resultOf(within(lengthMeasure, text, doorwayRange), 'this', source);
}

/** Reads the volume of a room, from 10 l to 100,000 m³. @returns whole litres. */
export function parseVolume(text: string, source: SourceRef): Result<number> {
  return resultOf(within(volumeMeasure, text, roomRange), 'this', source);
}

/**
 * Reads a charge and how long it lasted: a capacity, the word lasted, a duration.
 * @returns Errors: `calibration-unreadable`, `out-of-range`, and those of charges and durations.
 */
export function parseMeasuredLife(text: string, source: SourceRef): Result<MeasuredLife> {
  const given = text.trim().split(/\s+/u);
  const at = given.findIndex((word, index) => index > 0 && word === 'at');
  const words = at < 0 ? given : given.slice(0, at);
  const verb = words.findIndex((word, index) => index > 0 && /^last(?:ed|s)?$/u.test(word));
  const [charge, life] = [words.slice(0, verb).join(' '), words.slice(verb + 1).join(' ')];
  if (verb < 0 || life === '') {
    const problem = bad('calibration-unreadable', 'must be a charge and how long it lasted', {
      found: text,
      expected: `"${exampleLife}"`,
      hint: 'put all of it in quotes',
    });
    return resultOf(problem, 'this', source);
  }
  const capacity = within(chargeMeasure, charge, capacityRange);
  if (!capacity.ok) return resultOf(capacity, 'the charge', source);
  const interval = at < 0 ? null : readDuration(given.slice(at + 1).join(' '));
  if (interval !== null && !interval.ok) return resultOf(interval, 'the check interval', source);
  const duration = readDuration(life);
  if (!duration.ok) return resultOf(duration, 'the life', source);
  if (duration.value < 3_600_000) {
    const says = 'is too short for a measured life';
    const problem = bad('out-of-range', says, { found: life, expected: 'at least 1h' });
    return resultOf(problem, 'the life', source);
  }
  return {
    ok: true,
    value: {
      capacityNah: capacity.value,
      lifeMs: duration.value,
      ...(interval === null ? {} : { checkIntervalMs: interval.value }),
    },
    warnings: [],
  };
}

const doorwayRange = { ...doorwayLimits, says: 'from 10cm to 20m' };
const roomRange = { ...roomLimits, says: 'from 10l to 100000m3' };
const capacityRange = { ...capacityLimits, says: 'from 0.001mAh to 1000000Ah' };

function within(
  measure: Measure,
  text: string,
  range: { readonly least: number; readonly most: number; readonly says: string },
): Decoded<number> {
  const decoded = readMeasure(measure, text);
  if (!decoded.ok || (decoded.value >= range.least && decoded.value <= range.most)) return decoded;
  return bad('out-of-range', 'is out of range', { found: text, expected: range.says });
}
