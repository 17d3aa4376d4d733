// A door log, read as it comes: text is pushed in pieces, cut anywhere, and what is kept of a row is two numbers.
import { type Diagnostic, err, ok, type Result } from '../../base/index.js';
import { diagnosed, type Problem } from '../text/problem.js';
import { readZone, type Zone } from '../time/zone.js';
import type { DoorLog, DoorLogOptions, DoorLogReader, LogFormat } from '../types.js';
import { openingsFromEdges, openingsFromRows } from './build.js';
import { delimitedTaker } from './delimited.js';
import { openIntake } from './intake.js';
import type { LineTaker, LogParts } from './line-taker.js';
import { logTimes } from './log-time.js';
import { ndjsonTaker } from './ndjson.js';
import { logRemarks } from './remarks.js';
import { openSensors } from './sensors.js';
import { type StateWords, stateWords } from './state-words.js';

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
  const times = logTimes(zone?.ok === true ? zone.value : null);
  const own = { open: options.openWords ?? [], shut: options.shutWords ?? [] };
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
  let taker: LineTaker | null = null;
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
      taker = takerFor(parts, formatOf(options, first));
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
      rest = eachLine(rest + chunk, take);
      if (rest.length > longestLine) parts.giveUp(tooLong(rest), line + 1);
    },
    finish() {
      if (rest !== '') take(rest);
      rest = '';
      if (!givenUp) taker?.end();
      return finished(parts, {
        zone: zone?.ok === true ? zone.value : null,
        begun: taker !== null,
        givenUp,
        states,
      });
    },
  };
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
    case 'json':
      return 'ndjson';
    case 'csv':
      return 'csv';
    default:
      return /^\s*[[{]/.test(first) ? 'ndjson' : null;
  }
}

function takerFor(parts: LogParts, format: LogFormat | null): LineTaker {
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
  const errors = intake.errors.list();
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
    firstMs: intake.firstMs,
    lastMs: intake.lastMs,
    rows: intake.rows,
    mergedRows: built.mergedRows,
    emptyOpenings: built.emptyOpenings,
    timeZone: zone?.name ?? times.firstOffset ?? 'UTC',
    remarks: logRemarks(intake, built, { times, states, file }),
  });
}

function wholeFile(code: string, file: string, message: string): Diagnostic {
  return { code, severity: 'error', source: { file }, message };
}
