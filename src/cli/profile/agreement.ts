// The table that shows whether a fit serves its purpose: false alarms and misses per year of the log itself, over up
// to 200 phases of the checks, beside those of years drawn from the profile.
import { setImmediate } from 'node:timers/promises';
import { type Diagnostic, durationText, figure, greatestOf } from '../../base/index.js';
import {
  type Agreement,
  type AgreementRow,
  agreementAt,
  agreementConfidence,
  agreementIntervalsMs,
  type Compared,
  type OpeningsAgreement,
  openingsAgreement,
} from '../../estimate/index.js';
import {
  type LoggedDoor,
  loggedDays,
  type ProfileFit,
  type Timeline,
  type UsageProfile,
  yearWorlds,
} from '../../scenarios/index.js';
import { plainCut, spanText } from '../../wording/index.js';
import { deviceTiming, type Spans, type World } from '../../world/index.js';
import type { Io } from '../host/io.js';
import { openProgress } from '../host/progress.js';
import type { LoadedWatch } from '../inputs/load-watch.js';
import { logAtEveryPhase } from '../inputs/log-at-every-phase.js';

export interface Checked {
  readonly profile: UsageProfile;
  readonly openings: Spans;
  readonly lengthMs: number;
  readonly unseen?: Spans | undefined;
  /** The log itself. */
  readonly log: Timeline;
  readonly watch: LoadedWatch;
}

export async function agreementOf(checked: Checked, io: Io): Promise<readonly AgreementRow[]> {
  const { profile, openings, lengthMs, unseen, log, watch } = checked;
  const { timing, judge } = watch.watchFile;
  const worlds = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  const drawn = new Map<number, World>();
  const compared = {
    program: watch.program,
    timing: deviceTiming({}, timing),
    judge,
    openings,
    lengthMs,
    unseen,
    everyPhase: everyPhasePerYear(log, watch),
    // Each interval meets the same years: drawn once.
    worldOf: (year: number): World => {
      const world = drawn.get(year) ?? worlds('agreement', year);
      drawn.set(year, world);
      return world;
    },
  };
  const progress = openProgress(io, 'comparing simulated years with the log');
  const rows: AgreementRow[] = [];
  const { checkIntervalMs, recheckIntervalMs } = watch.watchFile.watch;
  const own = { check: checkIntervalMs, recheck: recheckIntervalMs };
  const all = [...agreementIntervalsMs.map((ms) => ({ check: ms, recheck: ms })), own];
  for (const [index, { check, recheck }] of all.entries()) {
    // Lets an interrupt be heard.
    await setImmediate();
    progress.at(index / all.length);
    rows.push(agreementAt(compared, check, timing.bootTime.least, recheck));
  }
  progress.end();
  return rows;
}

function everyPhasePerYear(
  log: Timeline,
  watch: LoadedWatch,
): NonNullable<Compared['everyPhase']> | null {
  const every = logAtEveryPhase(log, watch);
  if (every === null) return null;
  const perYear = (expected: number): number => (expected * daysAYear) / every.days;
  const { expectedFalseAlarms, expectedMissed } = every;
  return { falseAlarms: perYear(expectedFalseAlarms), missed: perYear(expectedMissed) };
}

const daysAYear = 365;

/** Openings, and years, that are drawn to see the openings per year: enough to see one more in ten. */
const openingsDrawn = 60_000;
const [fewestYears, mostYears] = [8, 20];

/** Null: the log has too few days or openings to compare. */
export function openingsAgreementOf(
  { profile }: ProfileFit,
  { start, lengthMs, openings, unseen }: LoggedDoor,
): OpeningsAgreement | null {
  const worlds = yearWorlds({ profile, contact: null, outages: null, powerCuts: null });
  const drawn: number[] = [];
  let all = 0;
  while (drawn.length < fewestYears || (all < openingsDrawn && drawn.length < mostYears)) {
    const year = worlds('openings', drawn.length).openings.fromMs.length;
    drawn.push(year);
    all += year;
  }
  const days = loggedDays(start, lengthMs, openings, { unseen });
  const countsOf = (isWeekend: boolean): readonly number[] =>
    days.filter(({ weekend }) => weekend === isWeekend).map((day) => day.openings.length);
  const daily = { weekdays: countsOf(false), weekendDays: countsOf(true) };
  return openingsAgreement(daily, drawn, agreementConfidence);
}

/** Empty: years simulated from the profile have about as many openings as the log. */
export function openingsWarnings(
  perYear: OpeningsAgreement | null,
  file: string,
): readonly Diagnostic[] {
  if (perYear === null || perYear.agrees) return [];
  const { drawn, logged } = perYear;
  return [
    {
      code: 'profile-does-not-fit',
      severity: 'warning',
      source: { file },
      message: `years simulated from the profile fitted to this log have ${moreText(perYear)}: about ${threeFigures(drawn)} per year, and by its days ${threeFigures(logged)} (${certainty}: ${spanText(perYear, figure)}), so the rates per year are off`,
      hint: 'simulate days of the log instead, with --as-logged',
    },
  ];
}

const certainty = `${String(100 * agreementConfidence)} %`;

/** `29 % more openings than the log`. */
function moreText({ drawn, logged }: OpeningsAgreement): string {
  const percent = Math.round(100 * Math.abs(drawn / logged - 1));
  return `${String(percent)} % ${drawn > logged ? 'more' : 'fewer'} openings than the log`;
}

function threeFigures(value: number): string {
  return figure(Number(value.toPrecision(3)));
}

function openingsLine(perYear: OpeningsAgreement): string {
  const { logged, drawn, agrees } = perYear;
  return `openings per year: by the days of the log ${threeFigures(logged)} (${spanText(perYear, figure)}), simulated ${threeFigures(drawn)}${agrees ? '' : ' (!)'}`;
}

const columns = [
  'check',
  'recheck',
  'false alarms: log',
  'simulated',
  'missed: log',
  'simulated',
] as const;

/** What the log and simulated years have in common, and what not. */
interface AgreementFound {
  readonly rows: readonly AgreementRow[];
  /** Null: not compared. */
  readonly perYear: OpeningsAgreement | null;
}

/**
 * The table, a line each, for the comment of a profile file; the last row is the watch as its file has it.
 * @param name of the watch file; null: the defaults. @param isShort whether the log is too short to show a misfit.
 */
export function agreementLines(
  { rows, perYear }: AgreementFound,
  name: string | null,
  isShort: boolean,
): readonly string[] {
  const file = plainCut(name ?? 'the defaults', 200);
  const cells = rows.map(({ checkIntervalMs, recheckIntervalMs, falseAlarms, missed }) => [
    durationText(checkIntervalMs),
    durationText(recheckIntervalMs),
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
  const asSet = cells.at(-1);
  const isOther = ([check, recheck]: readonly string[]): boolean =>
    check !== asSet?.[0] || recheck !== asSet?.[1];
  return [
    `does it fit? False alarms and misses per year, of the log itself at ${phasesOf(rows.at(-1), file)} (${String(100 * agreementConfidence)} % interval, from how its days differ) and of years simulated from this profile (their average, with its own interval where it lies outside that of the log and the two overlap)`,
    line(columns),
    ...cells.slice(0, -1).filter(isOther).map(line),
    ...cells.slice(-1).map((row) => `${line(row)}  (as in ${file})`),
    `everything else as in ${file}`,
    ...(perYear === null ? [] : [openingsLine(perYear)]),
    verdictText({ rows, perYear }, isShort),
  ];
}

function phasesOf(own: AgreementRow | undefined, file: string): string {
  const some = 'up to 200 phases of the checks';
  return own?.atEveryPhase === true
    ? `${some}, and as in ${file} at every phase, like estimate and replay --every-phase`
    : `${some} (estimate and replay --every-phase judge all phases, so their figures can differ a little)`;
}

function loggedText({ kind, logged, low, high }: Agreement): string {
  if (kind === 'at-most') return `none (at most ${figure(high, 'up')})`;
  return `${figure(logged, 'up')} (${spanText({ low, high }, figure)})`;
}

/** Outside the interval of the log, also with its own: else one looks for the mark of a difference. */
function drawnText({ drawn, drawnRange, agrees, low, high }: Agreement): string {
  const text = drawn === 0 ? 'none' : figure(drawn, 'up');
  if (!agrees) return `${text} (!)`;
  if (drawn >= low && drawn <= high) return text;
  return drawn === 0
    ? `none (at most ${figure(drawnRange.high, 'up')})`
    : `${text} (${spanText(drawnRange, figure)})`;
}

function unlike(rows: readonly AgreementRow[]): readonly string[] {
  return rows
    .filter(({ falseAlarms, missed }) => !falseAlarms.agrees || !missed.agrees)
    .map(({ checkIntervalMs, recheckIntervalMs }) =>
      checkIntervalMs === recheckIntervalMs
        ? durationText(checkIntervalMs)
        : `${durationText(checkIntervalMs)} (recheck ${durationText(recheckIntervalMs)})`,
    );
}

function verdictText({ rows, perYear }: AgreementFound, isShort: boolean): string {
  const where = unlike(rows);
  const differences = [
    ...(where.length === 0
      ? []
      : [`differ from the log by more than chance with a check every ${where.join(', ')}`]),
    ...(perYear === null || perYear.agrees
      ? []
      : [`have ${moreText(perYear)}, which is more than chance`]),
  ];
  if (differences.length > 0) {
    return `it does NOT fit: the simulated years ${differences.join(', and ')}, marked (!)`;
  }
  return isShort
    ? 'too little log to see whether it fits: in no row do the simulated years differ from the log by more than chance, but with so little log chance explains nearly everything'
    : 'it fits: in no row do the simulated years differ from the log by more than chance';
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
      message: `years simulated from this profile do not agree with the log, with a check every ${where.join(', ')}`,
      hint: asLogged
        ? 'the table shows by how much; replay the log itself with these intervals'
        : 'the table shows by how much; simulate days of the log with --as-logged',
    },
  ];
}
