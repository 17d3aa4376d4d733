// The results of a drill: typed in by a person, or taken from the device's own log.

import { type Diagnostic, durationText, err, itemAt, ok, type Result } from '../base/index.js';
import { mostListedErrors } from '../model/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import type { Step } from './plan.js';
import { type Wrong, wrongs } from './wrongs.js';

/** Messages of each step that was tried, by its number from 1: instants from its power-on. */
export type Seen = ReadonlyMap<number, readonly number[]>;

export interface StepResult {
  readonly step: number;
  readonly outcome: 'passed' | 'failed' | 'not-tried';
  readonly seenMs: readonly number[];
  readonly wrongs: readonly Wrong[];
}

export function resultsOf(steps: readonly Step[], seen: Seen): readonly StepResult[] {
  return steps.map((step, index) => {
    const seenMs = seen.get(index + 1);
    if (seenMs === undefined) {
      return { step: index + 1, outcome: 'not-tried', seenMs: [], wrongs: [] };
    }
    const found = wrongs(step, seenMs);
    return {
      step: index + 1,
      outcome: found.length > 0 ? 'failed' : 'passed',
      seenMs,
      wrongs: found,
    };
  });
}

/** A message of a step's last seconds may be noted when it arrives. */
const noteWithinMs = 60_000;

const timePattern = /^(?:(?<hours>\d{1,4}):)?(?<minutes>\d{1,4}):(?<seconds>[0-5]\d)$/u;

/**
 * Reads a typed record: a row a message, `step,message`, with the time from the step's power-on as minutes:seconds or
 * hours:minutes:seconds, or `none`. Blank lines, those that begin with `#`, and a first line of names are left out.
 * @param endsMs of each step, from its power-on: the device is without power afterwards, and sends nothing.
 * Errors: `drill-row-unreadable`, `drill-step-unknown`, `drill-time-unreadable`, `drill-time-after-end`, `drill-row-contradicts`.
 */
export function parseDrillRecord(
  text: string,
  file: string,
  endsMs: readonly number[],
): Result<Seen> {
  const seen = new Map<number, number[]>();
  const none = new Set<number>();
  const errors: Diagnostic[] = [];
  const lines = text.replace(/^\ufeff/u, '').split(/\r?\n/u);
  for (const [index, line] of lines.entries()) {
    const written = line.trim();
    if (written === '' || written.startsWith('#') || /^step\b/iu.test(written)) continue;
    if (errors.length >= mostListedErrors) break;
    const row = rowOf(written, endsMs);
    if (typeof row === 'string' || contradicts(row, { seen, none })) {
      const code = typeof row === 'string' ? row : 'drill-row-contradicts';
      const source = { file, line: index + 1 };
      errors.push({
        severity: 'error',
        source,
        found: written.slice(0, 60),
        code,
        ...words(code, { endsMs, written }),
      });
      continue;
    }
    if (row.atMs === null) none.add(row.step);
    const times = seen.get(row.step) ?? [];
    if (row.atMs !== null) times.push(row.atMs);
    seen.set(row.step, times);
  }
  const [first, ...others] = errors;
  return first === undefined ? ok(seen) : err(first, ...others);
}

interface Row {
  readonly step: number;
  /** Null: no message. */
  readonly atMs: number | null;
}

/** A row, or the code of what is wrong with it. */
function rowOf(written: string, endsMs: readonly number[]): Row | string {
  const [digits, message] = cellsOf(written);
  if (!/^\d{1,4}$/u.test(digits) || message === null) return 'drill-row-unreadable';
  const step = Number(digits);
  const endMs = endsMs[step - 1];
  if (endMs === undefined) return 'drill-step-unknown';
  if (/^(?:none|no|-)$/iu.test(message)) return { step, atMs: null };
  const time = timePattern.exec(message)?.groups;
  if (time === undefined) return 'drill-time-unreadable';
  const { hours = '0', minutes = '0', seconds = '0' } = time;
  const atMs = ((Number(hours) * 60 + Number(minutes)) * 60 + Number(seconds)) * 1_000;
  return atMs > endMs + noteWithinMs ? 'drill-time-after-end' : { step, atMs };
}

/** The two cells of a row; blanks around the mark between them mean nothing, even where they are tabs. */
function cellsOf(written: string): readonly [step: string, message: string | null] {
  const [digits = ''] = /^\d*/u.exec(written) ?? [];
  const after = written.slice(digits.length);
  const rest = after.trimStart();
  const isMarked = rest.startsWith(',') || rest.startsWith(';');
  const isTabbed = after.slice(0, after.length - rest.length).includes('\t');
  const message = (isMarked ? rest.slice(1) : rest).trim();
  return [digits, (isMarked || isTabbed) && !/[,;\t]/u.test(message) ? message : null];
}

function contradicts(
  { step, atMs }: Row,
  on: { readonly seen: Seen; readonly none: ReadonlySet<number> },
): boolean {
  return on.none.has(step) || (atMs === null && on.seen.has(step));
}

function words(
  code: string,
  { endsMs, written }: { readonly endsMs: readonly number[]; readonly written: string },
): { readonly message: string; readonly expected?: string; readonly hint?: string } {
  switch (code) {
    case 'drill-step-unknown':
      return { message: 'the drill has no such step', expected: `1 to ${String(endsMs.length)}` };
    case 'drill-time-unreadable':
      return {
        message: `${shownCell(written)} is not the time of a message`,
        ...secondsHint(written),
        expected: 'minutes:seconds from the power-on of the step, such as 3:12, or none',
      };
    case 'drill-time-after-end': {
      const [step] = cellsOf(written);
      const end = durationText(endsMs[Number(step) - 1] ?? 0);
      return {
        message: `${shownCell(written)} is after the end of step ${step}`,
        expected: `at most ${end}: then the device is disconnected, and sends nothing`,
        hint: 'times count from the power-on of the step; or the record is of a drill with other options (--short, --without, --tolerance, --quick)',
      };
    }
    case 'drill-row-contradicts':
      return { message: 'this step has a row with none and another row' };
    default:
      return {
        message: 'this row is not a step, a comma and a time',
        expected: 'a row such as 2,3:12 or 3,none',
      };
  }
}

function shownCell(written: string): string {
  return (cellsOf(written)[1] ?? '').slice(0, 20) || 'nothing';
}

/** A time that was typed in seconds. */
function secondsHint(written: string): { readonly hint?: string } {
  const cell = cellsOf(written)[1] ?? '';
  if (!/^\d{1,5}$/u.test(cell)) return {};
  const [minutes, seconds] = [Math.floor(Number(cell) / 60), Number(cell) % 60];
  const [step] = cellsOf(written);
  return {
    hint: `for ${cell} seconds write ${step},${String(minutes)}:${String(seconds).padStart(2, '0')}`,
  };
}

/**
 * What a device log holds of a drill: each step begins with a power-on, and has one more for each power loss in it. A
 * step cut short at the end of the log counts as tried when its last power-on is there.
 * @returns null when the log has more power-ons than the drill.
 */
export function seenInDeviceLog(
  rows: readonly DeviceLogRow[],
  steps: readonly Step[],
): Seen | null {
  const powerOns = rows.filter(({ event }) => event === 'power-on');
  const seen = new Map<number, readonly number[]>();
  let next = 0;
  for (const [index, step] of steps.entries()) {
    const count = 1 + step.actions.filter(({ deed }) => deed === 'power-on').length;
    if (next + count > powerOns.length) break;
    const beganMs = itemAt(powerOns, next).atMs;
    next += count;
    const overMs = powerOns[next]?.atMs ?? Number.POSITIVE_INFINITY;
    const delivered = rows.filter(
      (row) => row.event === 'alert' && row.delivered && row.atMs >= beganMs && row.atMs < overMs,
    );
    seen.set(
      index + 1,
      delivered.map(({ atMs }) => atMs - beganMs),
    );
  }
  return next < powerOns.length && seen.size === steps.length ? null : seen;
}
