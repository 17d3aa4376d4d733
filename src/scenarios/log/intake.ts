// What the rows of a log add up to, row by row: edges or openings in time, or a complaint about a row. A lenient
// intake repairs instead and keeps a list of its repairs.
import type { Problem } from '../text/problem.js';
import { type GrowingColumn, growingColumn } from './column-store.js';
import { type Findings, findings } from './findings.js';

/** A row's place, for complaints: its line, and its time as it stands there. */
export interface RowPlace {
  readonly line: number;
  /** The column at which the first or second field begins; worked out only for complaints. */
  column(field: 0 | 1): number;
  readonly first: string | number | boolean | null | undefined;
}

/** All that was taken in, in the order of the rows. */
export interface Intake {
  readonly lenient: boolean;
  readonly errors: Findings;
  readonly repairs: Findings;
  /** Starts of openings, or instants of edges. */
  readonly atMs: GrowingColumn;
  /** Ends of openings, `Infinity` where there is none; or 1 for an edge to open and 0 to shut. */
  readonly other: GrowingColumn;
  /** What the rows are; null until the columns are known. */
  kind: 'edges' | 'openings' | null;
  rows: number;
  emptyOpenings: number;
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
}

export function openIntake(file: string, lenient: boolean): Intake {
  return {
    lenient,
    errors: findings(file, 'error'),
    repairs: findings(file, 'warning'),
    atMs: growingColumn(),
    other: growingColumn(),
    kind: null,
    rows: 0,
    emptyOpenings: 0,
    mergedRows: 0,
    state: 0,
    firstMs: Number.POSITIVE_INFINITY,
    lastMs: Number.NEGATIVE_INFINITY,
    latestMs: Number.NEGATIVE_INFINITY,
    latestEndMs: Number.NEGATIVE_INFINITY,
    latestLine: 0,
    unsorted: false,
  };
}

/** Reports a row, or notes its repair. @returns whether to go on with the repaired row. */
export function complain(
  intake: Intake,
  problem: Problem,
  place: { readonly line: number; readonly column?: number | undefined },
  repair: string | null,
): boolean {
  if (!intake.lenient || repair === null) {
    intake.errors.add(problem, place.line, place.column);
    return false;
  }
  const { code, found } = problem;
  const says = `${problem.says}: ${repair}`;
  intake.repairs.add({ code, says, found }, place.line, place.column);
  return true;
}

function complainOfRow(intake: Intake, problem: Problem, row: RowPlace, repair: string): boolean {
  const found = String(row.first);
  const place = { line: row.line, column: row.column(0) };
  return complain(intake, { ...problem, found }, place, repair);
}

/** Takes an edge: from this instant on the door is open (1) or shut (0). */
export function takeEdge(intake: Intake, atMs: number, state: number, place: RowPlace): void {
  if (atMs < intake.latestMs && !goesBack(intake, place)) return;
  intake.firstMs = Math.min(intake.firstMs, atMs);
  intake.lastMs = Math.max(intake.lastMs, atMs);
  intake.latestMs = Math.max(intake.latestMs, atMs);
  // Years of the same reading are no more than a count, unless a row may still come that belongs between them.
  if (!intake.lenient && state === intake.state) {
    intake.mergedRows += 1;
    return;
  }
  intake.state = state;
  intake.atMs.push(atMs);
  intake.other.push(state);
}

/** Takes an opening. `Infinity` as its end: it has none. */
export function takeOpening(intake: Intake, startMs: number, endMs: number, place: RowPlace): void {
  if (endMs < startMs) {
    const problem = { code: 'ends-before-start', says: 'this opening ends before it starts' };
    complainOfRow(intake, problem, place, 'the row is left out');
    return;
  }
  if (startMs < intake.latestMs && !goesBack(intake, place)) return;
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

function goesBack(intake: Intake, place: RowPlace): boolean {
  const problem = {
    code: 'row-goes-back',
    says: 'this row is earlier than the one above it',
    hint: 'sort the log by time, or add --lenient',
  };
  const goOn = complainOfRow(intake, problem, place, 'it is moved to its place');
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
  const goOn = complainOfRow(intake, problem, place, 'the two are merged');
  // An opening without an end, followed by another, lasted until that one ended.
  if (endless) intake.latestEndMs = Number.NEGATIVE_INFINITY;
  return goOn;
}
