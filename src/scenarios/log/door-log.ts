// A door log, read as it comes: text is pushed in pieces, cut anywhere, and what is kept of a row is two numbers.
import { type Diagnostic, err, ok, type Result, shellWord } from '../../base/index.js';
import { type Decoded, diagnosed, good, type Problem, shortened } from '../text/problem.js';
import { compileTimePattern } from '../time/time-pattern.js';
import { readZone, type Zone } from '../time/zone.js';
import type {
  DoorLog,
  DoorLogOptions,
  DoorLogReader,
  DoubledOpening,
  LogFormat,
} from '../types.js';
import { type BuiltOpenings, openingsFromEdges, openingsFromRows } from './build.js';
import { delimitedTaker } from './delimited.js';
import { type Intake, openIntake } from './intake.js';
import { type ChunkTaker, jsonTaker } from './json-array.js';
import type { LineTaker, LogParts } from './line-taker.js';
import { logTimes } from './log-time.js';
import { ndjsonTaker } from './ndjson.js';
import { logRemarks } from './remarks.js';
import { openSensors } from './sensors.js';
import { type StateWords, stateWords } from './state-words.js';
import type { TimeFormat } from './time-forms.js';

/** A line that is longer is none of a log's. */
const longestLine = 1_000_000;

/**
 * Opens a reader of a door log: CSV, TSV or NDJSON, one row an edge or one row an opening.
 * @returns a reader whose `finish` gives the log; or the errors, each with its line: `log-empty`, `log-not-text`,
 * `log-without-header`, `log-without-rows`, `columns-not-found`, `columns-unclear`, `column-unknown`,
 * `field-missing`, `log-time-unreadable`, `local-time-skipped`, `local-time-twice`, `state-unknown`,
 * `several-sensors`, `where-matches-nothing`, `row-goes-back`, `ends-before-start`, `overlap`, `quote-misplaced`, `quote-unclosed`, `json-row-unreadable`,
 * `unknown-zone`.
 */
export function openDoorLog(options: DoorLogOptions): DoorLogReader {
  const intake = openIntake(options.file, options.lenient === true);
  const zone = options.zone === undefined ? null : readZone(options.zone);
  const format = timeFormatOf(options.timeFormat);
  const times = logTimes(zone?.ok === true ? zone.value : null, format.ok ? format.value : null);
  const own = {
    open: options.openWords ?? [],
    shut: options.shutWords ?? [],
    unavailable: options.unavailableWords ?? [],
  };
  let states: StateWords | null = null;
  let givenUp = false;
  const parts: LogParts = {
    options,
    intake,
    times,
    sensors: openSensors(options.where ?? []),
    statesOf(column) {
      states = stateWords(own, column);
      return states;
    },
    giveUp(problem, line, column) {
      givenUp = true;
      intake.errors.add(problem, line, column);
    },
  };
  if (zone?.ok === false) {
    const problem = { ...zone.problem, says: `--zone ${zone.problem.says}` };
    parts.giveUp(problem, 1);
  }
  if (!format.ok) parts.giveUp(format.problem, 1);
  let taker: LineTaker | null = null;
  let list: ChunkTaker | null = null;
  let line = 0;
  let rest = '';
  const take = (text: string): void => {
    line += 1;
    if (givenUp) return;
    if (taker === null) {
      const first = line === 1 && text.startsWith('\ufeff') ? text.slice(1) : text;
      if (first.trim() === '') return;
      const binary = binaryProblem(first);
      if (binary !== null) {
        parts.giveUp(binary, line);
        return;
      }
      const format = formatOf(options, first);
      taker = takerFor(parts, format === 'json' ? 'ndjson' : format);
      taker.line(first, line);
      return;
    }
    taker.line(text, line);
  };
  return {
    push(chunk) {
      if (givenUp) return;
      const zero = chunk.indexOf('\0');
      if (zero >= 0) {
        const linesBefore = chunk.slice(0, zero).split('\n').length;
        parts.giveUp(notText('the character U+0000'), line + linesBefore);
        return;
      }
      if (list === null && taker === null && isList(options, rest + chunk)) {
        list = jsonTaker(parts);
      }
      if (list !== null) {
        list.chunk(rest + chunk);
        rest = '';
        return;
      }
      rest = eachLine(rest + chunk, take);
      if (rest.length > longestLine) parts.giveUp(tooLong(rest), line + 1);
    },
    finish() {
      if (rest !== '' && list === null) take(rest);
      rest = '';
      if (!givenUp) (list ?? taker)?.end();
      return finished(parts, {
        zone: zone?.ok === true ? zone.value : null,
        begun: taker !== null || list !== null,
        givenUp,
        states,
      });
    },
  };
}

/** The form that `--time-format` names; null: none. */
export function timeFormatOf(text: string | undefined): Decoded<TimeFormat | null> {
  if (text === undefined) return good(null);
  if (text.trim().toLowerCase() === 'serial') return good('serial');
  return compileTimePattern(text);
}

/** Hands on each whole line, without its end, and returns what is left over. */
function eachLine(text: string, take: (line: string) => void): string {
  let start = 0;
  for (let end = text.indexOf('\n'); end >= 0; end = text.indexOf('\n', start)) {
    const stop = end > start && text.charCodeAt(end - 1) === 13 ? end - 1 : end;
    take(text.slice(start, stop));
    start = end + 1;
  }
  return start === 0 ? text : text.slice(start);
}

/** Bytes that are not UTF-8, or control characters, in the first line. */
function binaryProblem(first: string): Problem | null {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
  const odd = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffd]/.exec(first);
  if (odd === null) return null;
  return notText(
    `the character U+${odd[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
  );
}

function notText(found: string): Problem {
  return {
    code: 'log-not-text',
    says: 'the log is not a text file',
    found,
    expected: 'CSV, TSV or NDJSON in UTF-8',
  };
}

function tooLong(found: string): Problem {
  return { code: 'log-not-text', says: 'the log has a line that is too long', found };
}

function formatOf(options: DoorLogOptions, first: string): LogFormat | null {
  if (options.format !== undefined) return options.format;
  const [, ending = ''] = /\.([a-z]+)$/i.exec(options.file) ?? [];
  switch (ending.toLowerCase()) {
    case 'tsv':
    case 'tab':
      return 'tsv';
    case 'ndjson':
    case 'jsonl':
      return 'ndjson';
    case 'json':
      return 'json';
    case 'csv':
      return 'csv';
    default:
      return /^\s*\[/.test(first) ? 'json' : /^\s*\{/.test(first) ? 'ndjson' : null;
  }
}

/** Whether a text is JSON that need not have an object a line. */
function isList(options: DoorLogOptions, text: string): boolean {
  const first = /^[\ufeff\s]*(\S)/u.exec(text.slice(0, 1_000))?.[1];
  if (first === undefined) return false;
  const format = formatOf(options, first);
  return format === 'json' || (format === 'ndjson' && first === '[');
}

function takerFor(parts: LogParts, format: Exclude<LogFormat, 'json'> | null): LineTaker {
  switch (format) {
    case 'ndjson':
      return ndjsonTaker(parts);
    case 'tsv':
      return delimitedTaker(parts, '\t');
    case 'csv':
    case null:
      return delimitedTaker(parts, null);
  }
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
  const errors = withWords(intake.errors.list(), states);
  if (errors.length > 0) return { ok: false, errors };
  if (!begun) return err(wholeFile('log-empty', file, 'the log is empty'));
  if (intake.firstMs === Number.POSITIVE_INFINITY) {
    const hint = 'for a door that nobody opens, write a scenario without door:';
    return err({
      ...wholeFile('log-without-rows', file, 'the log has no rows'),
      hint,
    });
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
    remarks: logRemarks(intake, built, { times, states, file }),
    repairs: intake.repairs.list(),
  });
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
      leastMs: Math.min(...lengths),
      mostMs: Math.max(...lengths),
    });
  }
  return found;
}

/** The first unknown word gets all words that the column has. */
function withWords(
  errors: readonly Diagnostic[],
  states: StateWords | null,
): readonly Diagnostic[] {
  const first = errors.findIndex(({ code }) => code === 'state-unknown');
  if (first < 0 || states === null) return errors;
  return errors.map((error, index) => (index === first ? wordHint(error, states) : error));
}

function wordHint(error: Diagnostic, { newWords, column }: StateWords): Diagnostic {
  const [one = '', two] = newWords.map(shellWord);
  if (error.hint !== undefined && two === undefined) return error;
  const words = newWords.map(shortened).join(', ');
  const hint = `the column ${column} also has ${words}: say which mean open and shut, or that the state is not known`;
  const tries =
    two === undefined
      ? [`--open-word ${one}`, `--shut-word ${one}`, `--unavailable-word ${one}`]
      : [`--open-word ${one} --shut-word ${two}`, `--open-word ${two} --shut-word ${one}`];
  return { ...error, hint, tries };
}

function wholeFile(code: string, file: string, message: string): Diagnostic {
  return { code, severity: 'error', source: { file }, message };
}
