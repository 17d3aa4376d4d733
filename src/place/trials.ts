// Trials at the door: which way it moved, how far it then stood open, and what the contact read.

import { type Diagnostic, err, ok, type Result } from '../base/index.js';
import { gapLimits, mostGapErrorMm, mostTypedRows } from '../model/index.js';
import { asWritten, cellsOf, isCurrentReading } from './current-readings.js';

export type Direction = 'closing' | 'opening';

export interface Trial {
  readonly line: number;
  readonly direction: Direction;
  readonly gapMm: number;
  readonly reads: 'open' | 'shut';
  /** How far the gap itself may be wrong, one standard error; absent: no more than others. */
  readonly errorMm?: number;
}

export interface Trials {
  readonly trials: readonly Trial[];
}

/** A door is not opened by more than this to place a magnet. */
const mostGapMm = gapLimits.most / 1_000;

/**
 * Reads `direction,gap,reads`, a row a trial, with the error of the gap as a fourth cell where it is known; lines that begin with # are left out.
 * @returns all trials, or all that is wrong, each with its line.
 */
export function parseTrials(text: string, file: string): Result<Trials> {
  const errors: Diagnostic[] = [];
  const trials: Trial[] = [];
  const complain = (
    line: number,
    says: Pick<Diagnostic, 'code' | 'message' | 'found' | 'hint'>,
  ) => {
    errors.push({ severity: 'error', source: { file, line }, ...says });
  };
  const lines = text.replace(/^\uFEFF/u, '').split(/\r\n|\r|\n/u);
  for (const [index, row] of lines.entries()) {
    const line = index + 1;
    const written = cellsOf(row);
    const cells = written.map((cell) => cell.toLowerCase());
    const isBlank = row.trim() === '' || row.trim().startsWith('#');
    if (isBlank || cells[0] === 'direction') continue;
    if (trials.length >= mostTypedRows) {
      complain(line, {
        code: 'too-many-trials',
        message: `there are more than ${String(mostTypedRows)} trials`,
        hint: 'leave some of them out',
      });
      break;
    }
    if (isCurrentReading(row)) return err(readingsOfCurrent(file, line, row));
    const trial = trialOf(cells, line);
    if ('code' in trial) complain(line, asWritten(trial, written));
    else trials.push(trial);
  }
  if (errors.length > 0) return { ok: false, errors };
  if (trials.length > 0) return ok({ trials });
  return err({
    code: 'no-trials',
    severity: 'error',
    source: { file },
    message: 'there is no trial in this file',
    hint: 'print the sheet with "dozewatch place", and write a row for each trial: closing,12,open',
  });
}

/** One error for a file of another sheet. */
function readingsOfCurrent(file: string, line: number, row: string): Diagnostic {
  return {
    code: 'trials-of-current',
    severity: 'error',
    source: { file, line },
    message: 'this is a reading for the current asleep, not a trial at the door',
    found: row.trim(),
    tries: ['--sleep-current'],
  };
}

type Problem = Pick<Diagnostic, 'code' | 'message' | 'found' | 'hint'>;

const readings: Readonly<Record<string, Trial['reads']>> = { open: 'open', shut: 'shut' };
const directions: Readonly<Record<string, Direction>> = { closing: 'closing', opening: 'opening' };

function trialOf(cells: readonly string[], line: number): Trial | Problem {
  const hint = 'write closing or opening, the gap in mm, and open or shut: closing,12,open';
  const [way = '', gap = '', read = ''] = cells;
  if (cells.length !== 3 && cells.length !== 4) {
    const found = cells.join(',');
    return {
      code: 'trial-cells',
      message: 'a trial has three cells, or four with ± mm',
      found,
      hint,
    };
  }
  const direction = directions[way];
  if (direction === undefined) {
    return { code: 'trial-direction', message: 'this is not a direction', found: way, hint };
  }
  const digits = /^(\d+(?:\.\d+)?)\s*(?:mm)?$/u.exec(gap)?.[1];
  const gapMm = Number(digits);
  if (digits === undefined || gapMm > mostGapMm) {
    return { code: 'trial-gap', message: 'this is not a gap of up to 500 mm', found: gap, hint };
  }
  const reads = readings[read];
  if (reads === undefined) {
    return { code: 'trial-reading', message: 'this is not a reading', found: read, hint };
  }
  const given = cells[3] ?? '';
  if (given === '') return { line, direction, gapMm, reads };
  const errorMm = Number(/^±?\s*(\d+(?:\.\d+)?)\s*(?:mm)?$/u.exec(given)?.[1]);
  if (Number.isNaN(errorMm) || errorMm > mostGapErrorMm) {
    return {
      code: 'trial-error',
      message: 'this is not an error of up to 50 mm',
      found: given,
      hint,
    };
  }
  return { line, direction, gapMm, reads, errorMm };
}
