// What the rows of a log add up to, row by row: edges or openings in time, or a complaint about a row. A lenient
// intake repairs instead and keeps a list of its repairs.
import type { Problem } from '../text/problem.js';
import { type GrowingColumn, growingColumn } from './column-store.js';
import { type Doubles, openDoubles } from './doubles.js';
import { type Findings, findings } from './findings.js';
import { type HeldRows, heldRows, type TwoReadings } from './held-rows.js';
import type { TextPlace } from './record.js';

/** A row's place, for complaints: its line, and its time as it stands there. */
export interface RowPlace {
  readonly line: number;
  /** The last line of a row that goes over several; absent: `line`. */
  readonly lastLine?: number;
  /** Where the first or second field begins, on its own line; worked out only for complaints. */
  at(field: 0 | 1): TextPlace;
  readonly first: string | number | boolean | null | undefined;
}

/** All that was taken in, in the order of the rows. */
export interface Intake {
  readonly lenient: boolean;
  readonly errors: Findings;
  readonly repairs: Findings;
  /** Local times that could be either of two instants. */
  readonly doubles: Doubles;
  /** Repairs after which a leave-open may be missing from the log. */
  hidingRepairs: number;
  /** Starts of openings, or instants of edges. */
  readonly atMs: GrowingColumn;
  /** Ends of openings, `Infinity` for an opening without an end; or 1 for an edge to open, 0 to shut, 2 for a state that is not known. */
  readonly other: GrowingColumn;
  /** What the rows are; null until the columns are known. */
  kind: 'edges' | 'openings' | null;
  /** The rows have the lengths of openings: these are known, whichever of two instants a start is. */
  hasLengths: boolean;
  rows: number;
  emptyOpenings: number;
  /** Rows with more cells than the header has columns, and the line of the first. */
  rowsWithMore: number;
  firstWithMore: number;
  /** Rows that changed nothing, and are not among what was taken in. */
  mergedRows: number;
  /** The state of the last edge. */
  state: number;
  firstMs: number;
  lastMs: number;
  /** The latest time of an edge or a start, the latest end so far, and the line of that end. */
  latestMs: number;
  latestEndMs: number;
  latestLine: number;
  /** Whether a repair has left rows out of order. */
  unsorted: boolean;
  /** How many rows go back in time and how many go on, each from the one above it. */
  readonly order: { lastMs: number; back: number; on: number };
  /** Rows to be taken from the last to the first; null: each is taken as it comes. */
  held: HeldRows | null;
  /** How to read some lines of the file cut out of it; null: they cannot be read without the others. */
  cutAs: 'csv' | 'ndjson' | null;
  /** The first and the last line whose row was taken; 0: none. */
  firstLine: number;
  lastLine: number;
}

export function openIntake(file: string, lenient: boolean, newestFirst = false): Intake {
  return {
    lenient,
    errors: findings(file, 'error'),
    repairs: findings(file, 'warning'),
    doubles: openDoubles(),
    hidingRepairs: 0,
    atMs: growingColumn(),
    other: growingColumn(),
    kind: null,
    hasLengths: false,
    rows: 0,
    emptyOpenings: 0,
    rowsWithMore: 0,
    firstWithMore: 0,
    mergedRows: 0,
    state: 0,
    firstMs: Number.POSITIVE_INFINITY,
    lastMs: Number.NEGATIVE_INFINITY,
    latestMs: Number.NEGATIVE_INFINITY,
    latestEndMs: Number.NEGATIVE_INFINITY,
    latestLine: 0,
    unsorted: false,
    order: { lastMs: Number.NaN, back: 0, on: 0 },
    held: newestFirst ? heldRows() : null,
    cutAs: null,
    firstLine: 0,
    lastLine: 0,
  };
}

function noteLine(intake: Intake, { line, lastLine }: RowPlace): void {
  if (intake.firstLine === 0) intake.firstLine = line;
  intake.lastLine = lastLine ?? line;
}

/** What a lenient intake does about a row, and whether a leave-open may then be missing from the log. */
export interface Repair {
  readonly repair: string;
  readonly mayHide: boolean;
}

/** Of a local time that does not exist. */
export const skippedRepair: Repair = {
  repair: 'read as if the clocks had not gone forward',
  mayHide: true,
};

/** Reports a row, or notes its repair. @returns whether to go on with the repaired row. */
export function complain(
  intake: Intake,
  problem: Problem,
  place: { readonly line: number; readonly column?: number | undefined },
  { repair, mayHide }: Repair,
): boolean {
  if (!intake.lenient) {
    intake.errors.add(problem, place.line, place.column);
    return false;
  }
  const { code, found } = problem;
  const says = `${problem.says}: ${repair}`;
  if (mayHide) intake.hidingRepairs += 1;
  intake.repairs.add({ code, says, found }, place.line, place.column);
  return true;
}

function complainOfRow(intake: Intake, problem: Problem, row: RowPlace, repair: Repair): boolean {
  const found = row.first === undefined ? undefined : String(row.first);
  return complain(intake, { ...problem, found }, row.at(0), repair);
}

function noteOrder({ order }: Intake, atMs: number): void {
  if (atMs < order.lastMs) order.back += 1;
  else if (atMs > order.lastMs) order.on += 1;
  order.lastMs = atMs;
}

/** Whether every row is at or before the one above it, and more than one is before it. */
export function isNewestFirst({ order }: Intake): boolean {
  return order.back > 1 && order.on === 0;
}

/** Takes all rows that are held, from the last to the first. */
export function takeHeld(intake: Intake): void {
  const { held } = intake;
  intake.held = null;
  held?.fromLast((first, second, line) => {
    const place: RowPlace = { line, at: () => ({ line, column: 1 }), first: undefined };
    if (intake.kind === 'openings') takeOpening(intake, first, second, place);
    else if (typeof second === 'number') takeEdge(intake, first, second, place);
  });
}

/** Takes an edge: from this instant on the door is open (1) or shut (0), or nothing is known of it (2). */
export function takeEdge(
  intake: Intake,
  at: number | TwoReadings,
  state: number,
  place: RowPlace,
): void {
  noteLine(intake, place);
  if (intake.held !== null) {
    intake.held.push(at, state, place.line);
    return;
  }
  const atMs = typeof at === 'number' ? at : edgeReading(intake, at, place);
  noteOrder(intake, atMs);
  if (atMs < intake.latestMs && !goesBack(intake, place, state !== 0)) return;
  const isFirst = intake.firstMs === Number.POSITIVE_INFINITY;
  intake.firstMs = Math.min(intake.firstMs, atMs);
  intake.lastMs = Math.max(intake.lastMs, atMs);
  intake.latestMs = Math.max(intake.latestMs, atMs);
  // Years of the same reading are no more than a count, unless a row may still come that belongs between them.
  if (!intake.lenient && state === intake.state) {
    // A log that begins with the door shut repeats nothing.
    if (!isFirst) intake.mergedRows += 1;
    return;
  }
  intake.state = state;
  intake.atMs.push(atMs);
  intake.other.push(state);
}

/** The earlier reading of an edge, unless time would go back. */
function edgeReading(intake: Intake, { earlierMs, laterMs }: TwoReadings, place: RowPlace): number {
  if (earlierMs >= intake.latestMs) {
    intake.doubles.note(earlierMs, laterMs, place.line);
    return earlierMs;
  }
  // Time would go back: every time above it is of the first of the two hours.
  intake.doubles.settle(laterMs);
  return laterMs;
}

/** Takes an opening. `Infinity` as its end: it has none. */
export function takeOpening(
  intake: Intake,
  start: number | TwoReadings,
  end: number | TwoReadings,
  place: RowPlace,
): void {
  noteLine(intake, place);
  if (intake.held !== null) {
    intake.held.push(start, end, place.line);
    return;
  }
  const [startMs, endMs] =
    typeof start === 'number' && typeof end === 'number'
      ? [start, end]
      : openingReading(intake, [start, end], place);
  noteOrder(intake, startMs);
  if (endMs < startMs) {
    const hint = 'correct its times, or leave the row out';
    const problem = {
      code: 'ends-before-start',
      says: 'this opening ends before it starts',
      hint,
      tries: ['--lenient'],
    };

    complainOfRow(intake, problem, place, { repair: 'the row is left out', mayHide: true });
    return;
  }
  if (startMs < intake.latestMs && !goesBack(intake, place, false)) return;
  if (startMs >= intake.latestMs && startMs < intake.latestEndMs && !overlaps(intake, place))
    return;
  intake.firstMs = Math.min(intake.firstMs, startMs);
  intake.lastMs = Math.max(intake.lastMs, endMs === Number.POSITIVE_INFINITY ? startMs : endMs);
  intake.latestMs = Math.max(intake.latestMs, startMs);
  if (startMs === endMs) {
    intake.emptyOpenings += 1;
    return;
  }
  const goesOn = !intake.lenient && startMs === intake.latestEndMs;
  if (endMs > intake.latestEndMs) {
    intake.latestEndMs = endMs;
    intake.latestLine = place.line;
  }
  if (goesOn) {
    intake.mergedRows += 1;
    intake.other.replaceLast(endMs);
    return;
  }
  intake.atMs.push(startMs);
  intake.other.push(endMs);
}

/** The earliest readings that are not before the event above them. */
function openingReading(
  intake: Intake,
  [start, end]: readonly [number | TwoReadings, number | TwoReadings],
  place: RowPlace,
): readonly [startMs: number, endMs: number] {
  const { latestMs, latestEndMs } = intake;
  const aboveMs = Math.max(latestMs, Number.isFinite(latestEndMs) ? latestEndMs : latestMs);
  const starts = readingsOf(start);
  const ends = readingsOf(end);
  if (intake.hasLengths) {
    const first = starts.findIndex((ms) => ms >= aboveMs);
    const which = first < 0 ? starts.length - 1 : first;
    return [starts[which] ?? 0, ends[which] ?? 0];
  }
  const startMs = starts.find((ms) => ms >= aboveMs) ?? starts.at(-1) ?? 0;
  const endMs = ends.find((ms) => ms >= startMs) ?? ends.at(-1) ?? 0;
  const [, laterStartMs] = starts;
  const [, laterEndMs] = ends;
  if (startMs === starts[1]) intake.doubles.settle(startMs);
  if (startMs !== laterStartMs && laterStartMs !== undefined && (ends.at(-1) ?? 0) >= laterStartMs)
    intake.doubles.note(startMs, laterStartMs, place.line);
  if (endMs !== laterEndMs && laterEndMs !== undefined)
    intake.doubles.note(endMs, laterEndMs, place.line);
  return [startMs, endMs];
}

function readingsOf(time: number | TwoReadings): readonly number[] {
  return typeof time === 'number' ? [time] : [time.earlierMs, time.laterMs];
}

/** @param mayHide whether an opening may be missing if the row belongs elsewhere. */
function goesBack(intake: Intake, place: RowPlace, mayHide: boolean): boolean {
  const problem = {
    code: 'row-goes-back',
    says: 'this row is earlier than the one above it',
    hint: 'sort the log by time, or add --lenient; if its newest row comes first, add --newest-first',
  };
  const goOn = complainOfRow(intake, problem, place, {
    repair: 'it is moved to its place',
    mayHide,
  });
  if (goOn) intake.unsorted = true;
  return goOn;
}

function overlaps(intake: Intake, place: RowPlace): boolean {
  const endless = intake.latestEndMs === Number.POSITIVE_INFINITY;
  const other = `line ${String(intake.latestLine)}`;
  const problem = {
    code: 'overlap',
    says: endless
      ? `this opening begins during the one of ${other}, which has no end`
      : `this opening begins before the one of ${other} ends`,
    hint: 'add --lenient to merge them',
  };
  const goOn = complainOfRow(intake, problem, place, {
    repair: 'the two are merged',
    mayHide: false,
  });
  // An opening without an end, followed by another, lasted until that one ended.
  if (endless) intake.latestEndMs = Number.NEGATIVE_INFINITY;
  return goOn;
}
