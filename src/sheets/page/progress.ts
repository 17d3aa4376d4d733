// How far the drill has come, kept where a reload of the page finds it again.
import type { DrillData } from '../drill-data.js';
import type { Noted } from './record.js';

export interface Progress {
  /** Index of the step that is next, or under way. */
  readonly step: number;
  /** When its power-on is or was, in ms since 1970; null: it has not begun. */
  readonly zeroMs: number | null;
  /** Messages of the step that is under way. */
  readonly seenMs: readonly number[];
  readonly noted: Noted;
}

export const atFirst: Progress = { step: 0, zeroMs: null, seenMs: [], noted: new Map() };

/** A drill with other steps is another drill. */
function keyOf({ watch, steps }: DrillData): string {
  const shape = steps.map(({ endsMs, actions }) => `${String(endsMs)}/${String(actions.length)}`);
  return `dozewatch drill ${watch} ${shape.join(' ')}`;
}

export function keepProgress(data: DrillData, progress: Progress): void {
  const kept = { ...progress, noted: [...progress.noted] };
  try {
    window.localStorage.setItem(keyOf(data), JSON.stringify(kept));
  } catch {
    // A browser may keep nothing for pages from disk: then a reload begins again.
  }
}

export function keptProgress(data: DrillData): Progress {
  try {
    const text = window.localStorage.getItem(keyOf(data));
    const kept: unknown = text === null ? null : JSON.parse(text);
    return isKept(kept, data) ? { ...kept, noted: new Map(kept.noted) } : atFirst;
  } catch {
    return atFirst;
  }
}

type Kept = Omit<Progress, 'noted'> & { readonly noted: readonly [number, readonly number[]][] };

function isKept(value: unknown, { steps }: DrillData): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  if (!('step' in value && 'zeroMs' in value && 'seenMs' in value && 'noted' in value))
    return false;
  const { step, zeroMs, seenMs, noted } = value;
  return (
    typeof step === 'number' &&
    step >= 0 &&
    step < steps.length &&
    (zeroMs === null || typeof zeroMs === 'number') &&
    areNumbers(seenMs) &&
    Array.isArray(noted) &&
    noted.every((one) => Array.isArray(one) && typeof one[0] === 'number' && areNumbers(one[1]))
  );
}

function areNumbers(value: unknown): value is readonly number[] {
  return Array.isArray(value) && value.every((one) => typeof one === 'number');
}
