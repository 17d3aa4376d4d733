// The table that shows whether a fit serves its purpose: false alarms and misses per year of the log itself, over every
// phase of the checks, beside those of years drawn from the profile.
import { setImmediate } from 'node:timers/promises';
import { type Diagnostic, durationText, figure, greatestOf } from '../../base/index.js';
import {
  type Agreement,
  type AgreementRow,
  agreementAt,
  agreementConfidence,
  agreementIntervalsMs,
} from '../../estimate/index.js';
import { openingsAYear, type UsageProfile, yearWorlds } from '../../scenarios/index.js';
import { deviceTiming, type Spans, type World } from '../../world/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import type { LoadedWatch } from '../inputs/load-watch.js';

export interface Checked {
  readonly profile: UsageProfile;
  readonly openings: Spans;
  readonly lengthMs: number;
  readonly watch: LoadedWatch;
}

export async function agreementOf(checked: Checked, io: Io): Promise<readonly AgreementRow[]> {
  const { profile, openings, lengthMs, watch } = checked;
  const { timing, judge } = watch.watchFile;
  const worlds = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  const drawn = new Map<number, World>();
  const compared = {
    program: watch.program,
    timing: deviceTiming({}, timing),
    judge,
    openings,
    lengthMs,
    // Each interval meets the same years: drawn once.
    worldOf: (year: number): World => {
      const world = drawn.get(year) ?? worlds('agreement', year);
      drawn.set(year, world);
      return world;
    },
    openingsPerYear: openingsAYear(profile),
  };
  const progress = openProgress(io, 'comparing drawn years with the log');
  const rows: AgreementRow[] = [];
  for (const [index, intervalMs] of agreementIntervalsMs.entries()) {
    // Lets an interrupt be heard.
    await setImmediate();
    progress.at(index / agreementIntervalsMs.length);
    rows.push(agreementAt(compared, intervalMs, timing.bootTime.least));
  }
  progress.end();
  return rows;
}

const columns = ['check', 'false alarms: log', 'drawn', 'missed: log', 'drawn'] as const;

/** The table, a line each, for the comment of a profile file. */
export function agreementLines(rows: readonly AgreementRow[]): readonly string[] {
  const cells = rows.map(({ checkIntervalMs, falseAlarms, missed }) => [
    durationText(checkIntervalMs),
    loggedText(falseAlarms),
    drawnText(falseAlarms),
    loggedText(missed),
    drawnText(missed),
  ]);
  const widths = columns.map((title, column) =>
    greatestOf([title.length, ...cells.map((row) => row[column]?.length ?? 0)]),
  );
  const line = (row: readonly string[]): string =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd();
  return [
    `per year, at several check intervals: the log itself over every phase (${String(100 * agreementConfidence)} % interval, from how its days differ), and years drawn from this profile`,
    line(columns),
    ...cells.map(line),
    verdictText(rows),
  ];
}

function loggedText({ kind, logged, low, high }: Agreement): string {
  if (kind === 'at-most') return `0 (at most ${figure(high, 'up')})`;
  return `${figure(logged)} (${figure(low, 'down')} to ${figure(high, 'up')})`;
}

function drawnText({ drawn, agrees }: Agreement): string {
  return `${figure(drawn)}${agrees ? '' : ' (!)'}`;
}

function unlike(rows: readonly AgreementRow[]): readonly string[] {
  return rows
    .filter(({ falseAlarms, missed }) => !falseAlarms.agrees || !missed.agrees)
    .map(({ checkIntervalMs }) => durationText(checkIntervalMs));
}

function verdictText(rows: readonly AgreementRow[]): string {
  const where = unlike(rows);
  return where.length === 0
    ? 'the log contradicts the drawn years at none of these intervals'
    : `the drawn years DO NOT agree with the log at ${where.join(', ')}, marked (!)`;
}

/** Empty: the profile fits. */
export function agreementWarnings(
  rows: readonly AgreementRow[],
  { file, asLogged }: { readonly file: string; readonly asLogged: boolean },
): readonly Diagnostic[] {
  const where = unlike(rows);
  if (where.length === 0) return [];
  return [
    {
      code: 'profile-does-not-fit',
      severity: 'warning',
      source: { file },
      message: `years drawn from this profile do not agree with the log, with a check every ${where.join(', ')}`,
      hint: asLogged
        ? 'the table shows by how much; replay the log itself with these intervals'
        : 'the table shows by how much; draw years from the days of the log with --as-logged',
    },
  ];
}
