// Rows that wait: while it is not settled whether the day or the month is first in the times of a log, both readings of each
// row are kept, in columns.
import type { Problem } from '../text/problem.js';
import { writeLocal } from '../time/local-time.js';
import { growingColumn } from './column-store.js';
import type { TwoReadings } from './held-rows.js';
import { complain, type RowPlace, skippedRepair } from './intake.js';
import type { LogParts } from './line-taker.js';
import type { TextPlace } from './record.js';
import type { DoubtfulTime } from './time-forms.js';

/** An instant or a state; a local time that occurs twice; or one of which the order of its date is in doubt. */
export type KeptCell = number | TwoReadings | DoubtfulTime;

/** Times that the whole column did not settle. */
export interface RowDoubt {
  readonly problem: Problem;
  readonly line: number;
  readonly column: number;
}

/** A row whose times are settled. */
export interface KeptRow {
  readonly place: RowPlace;
  readonly first: number | TwoReadings;
  readonly second: number | TwoReadings;
}

export interface KeptRows {
  readonly isEmpty: boolean;
  /** Takes a row at once if its times are settled and none waits, else keeps it. */
  keep(place: RowPlace, row: WaitingRow): void;
  /** Hands on all rows that wait, in their order, once the order of dates is settled. */
  flush(): void;
  /** The first row in doubt; null: no row is. Rows that wait for another reason are handed on. */
  doubt(): RowDoubt | null;
}

export interface WaitingRow {
  readonly first: KeptCell;
  readonly second: KeptCell;
  /** Where the settled row goes. */
  readonly take: (row: KeptRow) => void;
}

/** What the two readings of a kept cell are. */
const kinds = { instant: 0, local: 1, twice: 2 } as const;

export function openKeptRows({ intake, times }: LogParts): KeptRows {
  const lines = growingColumn();
  const places = [openPlaces(), openPlaces()] as const;
  const kindOf = [growingColumn(), growingColumn()] as const;
  const early = [growingColumn(), growingColumn()] as const;
  const late = [growingColumn(), growingColumn()] as const;
  let first: RowDoubt | null = null;
  let taker: WaitingRow['take'] = () => undefined;
  const push = (field: 0 | 1, cell: KeptCell): void => {
    const [kind, a, b] = storedOf(cell);
    kindOf[field].push(kind);
    early[field].push(a);
    late[field].push(b);
  };
  const settled = (field: 0 | 1, index: number, place: RowPlace): number | TwoReadings | null => {
    const kind = kindOf[field].values()[index] ?? 0;
    const a = early[field].values()[index] ?? 0;
    const b = late[field].values()[index] ?? 0;
    if (kind === kinds.twice) return { earlierMs: a, laterMs: b };
    const ms = times.dayFirst === false ? b : a;
    return kind === kinds.instant ? ms : placed(ms, { field, place, intake, times });
  };
  const flush = (): void => {
    const count = lines.length;
    for (let index = 0; index < count; index += 1) {
      const place: RowPlace = {
        line: lines.values()[index] ?? 0,
        at: (field) => places[field].at(index),
        first: undefined,
      };
      const cells = [settled(0, index, place), settled(1, index, place)] as const;
      const [a, b] = cells;
      if (a !== null && b !== null) taker({ place, first: a, second: b });
    }
    for (const column of [lines, ...places, ...kindOf, ...early, ...late]) column.clear();
    first = null;
  };
  return {
    get isEmpty() {
      return lines.length === 0;
    },
    keep(place, row) {
      taker = row.take;
      const doubtful = [row.first, row.second].find(isDoubtful);
      if (doubtful !== undefined && first === null) {
        first = {
          problem: orderInDoubt(doubtful),
          ...place.at(isDoubtful(row.first) ? 0 : 1),
        };
      }
      lines.push(place.line);
      for (const field of [0, 1] as const) places[field].push(place.at(field));
      push(0, row.first);
      push(1, row.second);
      if (first === null || times.dayFirst !== null) flush();
    },
    flush,
    doubt() {
      const found = first;
      if (found === null) flush();
      return found;
    },
  };
}

/** Places, in columns. */
function openPlaces() {
  const lines = growingColumn();
  const columns = growingColumn();
  return {
    push({ line, column }: TextPlace): void {
      lines.push(line);
      columns.push(column);
    },
    at: (index: number): TextPlace => ({
      line: lines.values()[index] ?? 1,
      column: columns.values()[index] ?? 1,
    }),
    clear(): void {
      lines.clear();
      columns.clear();
    },
  };
}

/** The instant of a local time, or both that it could be; null: the row is left out. */
function placed(
  localMs: number,
  at: Pick<LogParts, 'intake' | 'times'> & { readonly field: 0 | 1; readonly place: RowPlace },
): number | TwoReadings | null {
  const { intake, times, field, place } = at;
  const instantMs = times.instantOf(localMs);
  if (!Number.isNaN(instantMs)) return instantMs;
  const [only, other] = times.readingsOf(localMs);
  if (only === undefined) return null;
  if (other !== undefined) return { earlierMs: only, laterMs: other };
  const problem = {
    code: 'local-time-skipped',
    says: 'this is a time that does not exist, because the clocks go forward',
    found: writeLocal(localMs),
  };
  return complain(intake, problem, place.at(field), skippedRepair) ? only : null;
}

function isDoubtful(cell: KeptCell): cell is DoubtfulTime {
  return typeof cell !== 'number' && 'dayFirstMs' in cell;
}

function storedOf(cell: KeptCell): readonly [kind: number, early: number, late: number] {
  if (typeof cell === 'number') return [kinds.instant, cell, cell];
  if (!isDoubtful(cell)) return [kinds.twice, cell.earlierMs, cell.laterMs];
  const kind = cell.isLocal ? kinds.local : kinds.instant;
  return [kind, cell.dayFirstMs, cell.monthFirstMs];
}

/** What is wrong with a time whose day and month could be either way round. */
export function orderInDoubt({
  dayFirst,
  monthFirst,
  dayFirstMs,
  monthFirstMs,
}: DoubtfulTime): RowDoubt['problem'] {
  const day = writeLocal(dayFirstMs).slice(0, 10);
  const month = writeLocal(monthFirstMs).slice(0, 10);
  return {
    code: 'time-order-unclear',
    says: `the day or the month may be first in these times: no row has a number over 12 (${day} or ${month})`,
    hint: 'say which, with --time-format',
    tries: [`--time-format '${dayFirst}'`, `--time-format '${monthFirst}'`],
  };
}
