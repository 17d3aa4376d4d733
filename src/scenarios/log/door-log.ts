// A door log, read as it comes: text is pushed in pieces, cut anywhere, and what is kept of a row is two numbers.
import {
  type Diagnostic,
  err,
  greatestOf,
  leastOf,
  ok,
  type Result,
  shellWord,
} from '../../base/index.js';
import { type Decoded, diagnosed, good, type Problem, shortened } from '../text/problem.js';
import { recognisedPatterns } from '../time/recognise.js';
import { compileTimePattern } from '../time/time-pattern.js';
import { readZone, type Zone } from '../time/zone.js';
import type { DoorLog, DoorLogOptions, DoorLogReader, DoubledOpening } from '../types.js';
import { type BuiltOpenings, openingsFromEdges, openingsFromRows } from './build.js';
import { type Intake, isNewestFirst, openIntake, takeHeld } from './intake.js';
import { type LogParts, piped } from './line-taker.js';
import { logTimes } from './log-time.js';
import { groupsOf, type OpenReadings, readingIn, readOpenReadings } from './readings.js';
import { logRemarks } from './remarks.js';
import { readFirstDate, rowDates } from './row-dates.js';
import { openSensors } from './sensors.js';
import { type StateWords, stateWords, wordTwice } from './state-words.js';
import { textTaker } from './text-taker.js';
import type { TimeFormat } from './time-forms.js';

/**
 * Opens a reader of a door log: CSV, TSV or NDJSON, one row an edge or one row an opening.
 * @returns a reader whose `finish` gives the log; or the errors, each with its line: `log-empty`, `log-not-text`,
 * `log-without-header`, `log-without-rows`, `columns-not-found`, `columns-unclear`, `column-unknown`,
 * `field-missing`, `log-time-unreadable`, `local-time-skipped`, `local-time-twice`, `state-unknown`,
 * `several-sensors`, `where-matches-nothing`, `row-goes-back`, `ends-before-start`, `overlap`, `quote-misplaced`, `quote-unclosed`, `json-row-unreadable`,
 * `unknown-zone`.
 */
export function openDoorLog(options: DoorLogOptions): DoorLogReader {
  const intake = openIntake(options.file, options.lenient === true, options.newestFirst === true);
  const zone = options.zone === undefined ? null : readZone(options.zone);
  const format = timeFormatOf(options.timeFormat);
  const times = logTimes(zone?.ok === true ? zone.value : null, format.ok ? format.value : null);
  const firstDate = readFirstDate(options.date);
  const readings = openReadingsOf(options);
  const own = {
    open: options.openWords ?? [],
    shut: options.shutWords ?? [],
    unavailable: options.unavailableWords ?? [],
    readings: readings.ok ? readings.value : null,
  };
  let states: StateWords | null = null;
  let givenUp = false;
  const parts: LogParts = {
    options,
    intake,
    times,
    sensors: openSensors(options.where ?? []),
    dates: rowDates(firstDate.ok ? firstDate.value : null, options.newestFirst === true),
    statesOf(column) {
      states = stateWords(own, column);
      return states;
    },
    giveUp(problem, line, column) {
      givenUp = true;
      intake.errors.add(problem, line, column);
    },
  };
  const refuseOption = (option: string, problem: Problem): void => {
    givenUp = true;
    intake.errors.addOption(option, problem);
  };
  if (zone?.ok === false) {
    refuseOption('--zone', { ...zone.problem, says: `this ${zone.problem.says}` });
  }
  const twice = wordTwice(own);
  if (twice !== null) refuseOption('--open-word', twice);
  if (!format.ok) refuseOption('--time-format', format.problem);
  if (!readings.ok) {
    const option = options.openAbove === undefined ? '--open-below' : '--open-above';
    refuseOption(option, { ...readings.problem, says: `this ${readings.problem.says}` });
  }
  if (!firstDate.ok) {
    refuseOption('--date', { ...firstDate.problem, says: `this ${firstDate.problem.says}` });
  }
  const text = textTaker(parts, () => givenUp);
  return {
    push(chunk) {
      if (!givenUp) text.chunk(chunk);
    },
    finish() {
      text.end();
      if (!givenUp) takeHeld(intake);
      const usedZone = zone?.ok === true ? zone.value : null;
      return finished(parts, { zone: usedZone, begun: text.hasBegun(), givenUp, states });
    },
  };
}

/** Where a sensor's readings mean an open door; null: the states are words. */
function openReadingsOf({ openAbove, openBelow }: DoorLogOptions): Decoded<OpenReadings | null> {
  if (openAbove !== undefined) return readOpenReadings('above', openAbove);
  return openBelow === undefined ? good(null) : readOpenReadings('below', openBelow);
}

/** The form that `--time-format` names; null: none. */
export function timeFormatOf(text: string | undefined): Decoded<TimeFormat | null> {
  if (text === undefined) return good(null);
  if (text.trim().toLowerCase() === 'serial') return good('serial');
  return compileTimePattern(text);
}

function finished(
  parts: LogParts,
  {
    zone,
    begun,
    givenUp,
    states,
  }: {
    readonly zone: Zone | null;
    readonly begun: boolean;
    readonly givenUp: boolean;
    readonly states: StateWords | null;
  },
): Result<DoorLog> {
  const { options, intake, times } = parts;
  const { file } = options;
  // Rows of another sensor are wrong in many ways: of those only the one cause is named.
  const fault = givenUp ? null : parts.sensors.fault();
  if (fault !== null) return err(diagnosed(fault.problem, null, { file, line: fault.line }));
  const all = intake.errors.list();
  // A word that comes again and again is no remark above or below the rows.
  const isRemark = all.every(
    ({ code, found }) => code !== 'state-unknown' || states?.isRepeated(found ?? '') !== true,
  );
  const listed = isRemark ? withStart(parts, withEnd(parts, all)) : all;
  const errors = withOrder(once(withWords(listed, states, options), intake), intake);
  if (errors.length > 0) return { ok: false, errors };
  if (!begun) return err(wholeFile('log-empty', file, 'the log is empty'));
  if (intake.firstMs === Number.POSITIVE_INFINITY) {
    return err(withoutRows(file, intake));
  }
  const built = intake.kind === 'edges' ? openingsFromEdges(intake) : openingsFromRows(intake);
  return ok({
    file,
    openings: built.openings,
    unavailable: built.unavailable,
    doubled: doubledOpenings(intake, built),
    lenient: intake.lenient,
    hidingRepairs: intake.hidingRepairs,
    firstMs: intake.firstMs,
    lastMs: intake.lastMs,
    rows: intake.rows,
    mergedRows: built.mergedRows,
    emptyOpenings: built.emptyOpenings,
    timeZone: zone?.name ?? times.firstOffset ?? 'UTC',
    remarks: logRemarks(intake, built, { times, states, file, dates: parts.dates }),
    repairs: intake.repairs.list(),
  });
}

/** The error of a log with no row, or none that could be repaired. */
function withoutRows(file: string, intake: Intake): Diagnostic {
  const [first, ...others] = intake.repairs.list();
  if (first !== undefined) {
    const more = others.length === 0 ? '' : `, and ${String(others.length)} more like it`;
    const where = `line ${String(first.source.line ?? 1)}: ${first.message}${more}`;
    const message = `no row of the log is left (${where})`;
    return { ...wholeFile('log-without-rows', file, message), hint: 'correct the log' };
  }
  return {
    ...wholeFile('log-without-rows', file, 'the log has no rows'),
    hint: 'for a door that nobody opens, write a scenario without a door: section',
  };
}

/** Openings with an end that could be either of two instants, and the lengths that they can have. */
function doubledOpenings(intake: Intake, { openings }: BuiltOpenings): readonly DoubledOpening[] {
  const doubles = new Map(intake.doubles.list().map((one) => [one.atMs, one]));
  if (doubles.size === 0) return [];
  const found: DoubledOpening[] = [];
  for (let index = 0; index < openings.fromMs.length; index += 1) {
    const fromMs = openings.fromMs[index] ?? 0;
    const toMs = openings.toMs[index] ?? 0;
    const start = doubles.get(fromMs);
    const end = doubles.get(toMs);
    const line = (start ?? end)?.line;
    if (line === undefined) continue;
    const lengths = [toMs, end?.laterMs ?? toMs]
      .flatMap((to) => [fromMs, start?.laterMs ?? fromMs].map((from) => to - from))
      .filter((length) => length >= 0);
    const takenMs = toMs - fromMs;
    found.push({
      line,
      fromMs,
      takenMs,
      leastMs: leastOf(lengths),
      mostMs: greatestOf(lengths),
    });
  }
  return found;
}

/** Of a log in reverse, the one cause is named, and not each row. */
function withOrder(errors: readonly Diagnostic[], intake: Intake): readonly Diagnostic[] {
  const [first] = errors;
  if (first === undefined || !isNewestFirst(intake)) return errors;
  const others = errors.filter(({ code }) => code !== 'row-goes-back' && code !== 'more-errors');
  if (others.length > 0) return others;
  const message =
    'every row is earlier than the one above it: the newest row of this log comes first';
  const hint = 'read it from the last row to the first';
  return [{ ...first, message, hint, tries: ['--newest-first'] }];
}

/** Lines below the last row that could be read are no rows: a sum, or a remark. */
function withEnd(
  { options, intake }: LogParts,
  errors: readonly Diagnostic[],
): readonly Diagnostic[] {
  const [first] = errors;
  const isBelow = (error: Diagnostic): boolean =>
    isNoRow(error, errors) && (error.source.line ?? 0) > intake.lastLine;
  if (first === undefined || intake.lastLine === 0 || !errors.every(isBelow)) return errors;
  // A list that was cut off says so itself.
  if (first.code === 'json-row-unreadable' && intake.cutAs === null) return errors;
  const head = `head -n ${String(intake.lastLine)} ${shellWord(options.file)}`;
  const hint = 'if the lines from here on are no rows of the log, leave them out';
  return [{ ...first, hint, tries: cutOut(head, { options, intake }) }, ...errors.slice(1)];
}

/** Lines above the first row that could be read: units, or a second header. */
function withStart(
  { options, intake }: LogParts,
  errors: readonly Diagnostic[],
): readonly Diagnostic[] {
  const [first] = errors;
  const last = greatestOf(errors.map(({ source }) => source.line ?? 0));
  const isAbove = errors.every((error) => isNoRow(error, errors)) && last < intake.firstLine;
  if (first === undefined || !isAbove) return errors;
  const from = first.source.line ?? last;
  const which = from === last ? `${String(from)}d` : `${String(from)},${String(last)}d`;
  const hint = `if ${from === last ? 'this line is no row' : 'these lines are no rows'} of the log, leave ${from === last ? 'it' : 'them'} out`;
  const without = `sed ${which} ${shellWord(options.file)}`;
  return [{ ...first, hint, tries: cutOut(without, { options, intake }) }];
}

/** The lines that are left, read as what the file is; a list of JSON would be broken by that. */
function cutOut(
  filter: string,
  { options, intake }: Pick<LogParts, 'options' | 'intake'>,
): readonly string[] | undefined {
  return intake.cutAs === null ? undefined : piped(filter, options, intake.cutAs);
}

/** Where no row could be read, and all for the same reason, one of them stands for the rest. */
function once(
  errors: readonly Diagnostic[],
  { errors: all, lastLine }: Intake,
): readonly Diagnostic[] {
  const [first] = errors;
  const isSame = ({ code, hint }: Diagnostic): boolean =>
    code === 'more-errors' || (code === first?.code && hint === first.hint);
  if (first === undefined || lastLine > 0 || errors.length < 2 || !errors.every(isSame))
    return errors;
  const message = `${first.message}; and so it is in all ${String(all.count)} rows`;
  return [{ ...first, message }];
}

const notRows: readonly string[] = ['log-time-unreadable', 'field-missing', 'json-row-unreadable'];

/** Whether a line may be a remark: one with a time is a row, whatever its state is called. */
function isNoRow({ code, source, found }: Diagnostic, errors: readonly Diagnostic[]): boolean {
  // A line with a time that is in no calendar is a row.
  if (code === 'log-time-unreadable' && recognisedPatterns(found ?? '').length > 0) return false;
  if (notRows.includes(code)) return true;
  const others = errors.filter((one) => one.source.line === source.line);
  return code === 'state-unknown' && others.some((one) => notRows.includes(one.code));
}

/** The first unknown word gets all words that the column has. */
function withWords(
  errors: readonly Diagnostic[],
  states: StateWords | null,
  options: DoorLogOptions,
): readonly Diagnostic[] {
  const first = errors.findIndex(({ code }) => code === 'state-unknown');
  if (first < 0 || states === null) return errors;
  const read = withReadings(errors, first, states);
  if (read !== null) return read;
  return errors.map((error, index) => (index === first ? wordHint(error, states, options) : error));
}

/** As many different numbers are readings: two words are enough for two states. */
const fewestReadings = 3;

/** One error in place of those of all numbers, where a column holds readings of a sensor; null: it does not. */
function withReadings(
  errors: readonly Diagnostic[],
  at: number,
  { newWords, newReadings, column }: StateWords,
): readonly Diagnostic[] | null {
  const numbers = newWords.filter((word) => !Number.isNaN(readingIn(word)));
  const groups = numbers.length < fewestReadings ? null : groupsOf(newReadings);
  const error = errors[at];
  if (groups === null || error === undefined) return null;
  const { least, most, limit, band, rarer } = groups;
  const message = `the column ${column} has readings of a sensor, from ${String(least)} to ${String(most)}, not states`;
  const hint = `say which readings mean an open door; with two numbers, such as ${band.map(String).join('..')}, the door stays as it was between them`;
  const sides = rarer === 'above' ? ['above', 'below'] : ['below', 'above'];
  const tries = sides.map((side) => `--open-${side} ${String(limit)}`);
  const others = errors.filter(
    ({ code, found }, index) =>
      index !== at && !(code === 'state-unknown' && !Number.isNaN(readingIn(found ?? ''))),
  );
  const isAll = others.every(({ code }) => code === 'more-errors');
  return [{ ...error, message, expected: undefined, hint, tries }, ...(isAll ? [] : others)];
}

function wordHint(
  error: Diagnostic,
  { newWords, column, lastOpen, lastShut }: StateWords,
  { openWords, shutWords }: DoorLogOptions,
): Diagnostic {
  const [one = '', two] = newWords.map(shellWord);
  if (openWords !== undefined && shutWords !== undefined) {
    return otherWordHint(error, { newWords, column, known: [...openWords, ...shutWords] });
  }
  if (error.hint !== undefined && two === undefined) return error;
  const words = newWords.map(shortened).join(', ');
  const known = [lastOpen, lastShut].flatMap((word) => (word === null ? [] : [word.trim()]));
  const read = (known.length === 0 ? ['open'] : known)
    .map((word) => `--where ${shellWord(`${column}=${word}`)}`)
    .join(' ');
  const others =
    two === undefined
      ? `; to leave such rows out, name the values to read with --where, as in ${read}`
      : '';
  const hint = `the column ${column} has ${words}: name the words for open and shut, and those for a state that is not known${others}`;
  const tries =
    two === undefined
      ? [
          ...(known.length === 2 ? [read] : []),
          ...['--open-word', '--shut-word', '--unavailable-word'].map(
            (option) => `${option} ${one}`,
          ),
        ]
      : bothWays(newWords, [one, two]);
  return { ...error, hint, tries };
}

/** Where the words for open and shut are given, others are most likely no states, or states that are not known. */
function otherWordHint(
  error: Diagnostic,
  of: {
    readonly newWords: readonly string[];
    readonly column: string;
    readonly known: readonly string[];
  },
): Diagnostic {
  const { newWords, column, known } = of;
  const given = (option: string): string =>
    newWords.map((word) => `${option} ${shellWord(word)}`).join(' ');
  const only = known.map((word) => `--where ${shellWord(`${column}=${word}`)}`).join(' ');
  const words = newWords.map(shortened).join(', ');
  const hint = `besides the words for open and shut the column ${column} has ${words}: say that the state is not known there, or leave such rows out, or take the word for open or shut`;
  const tries = [given('--unavailable-word'), only, given('--open-word'), given('--shut-word')];
  return { ...error, hint, tries };
}

/** The likelier way first; the only one where the words say which is which. */
function bothWays(
  [first = '', second = '']: readonly string[],
  [one, two]: readonly [string, string],
): readonly string[] {
  const asIs = `--open-word ${one} --shut-word ${two}`;
  const swapped = `--open-word ${two} --shut-word ${one}`;
  const isOpen = (word: string): boolean => /open|ajar|^o$/iu.test(word);
  if (isOpen(first) !== isOpen(second)) return [isOpen(first) ? asIs : swapped];
  const isYes = (word: string): boolean =>
    /^(?:y|yes|t|ja|oui|s[ií]|sim|da|tak|kyllä|up|high)$/iu.test(word);
  return isYes(second) ? [swapped, asIs] : [asIs, swapped];
}

function wholeFile(code: string, file: string, message: string): Diagnostic {
  return { code, severity: 'error', source: { file }, message };
}
