// CSV and TSV: a header, then rows. A quoted field may run over several lines.
import { shellWord } from '../../base/index.js';
import type { Problem } from '../text/problem.js';
import { columnNamed, findColumns, usedColumns } from './columns.js';
import { withGuess } from './guess.js';
import type { LineTaker, LogParts } from './line-taker.js';
import { hasOpenQuote, plainField, type RecordField, splitRecord } from './record.js';
import { type RowFields, type RowReader, rowReader } from './row-reader.js';

/** A quoted field that goes on for longer is one whose end is missing. */
const longestRecord = 1_000_000;

/** @param delimiter null: whichever of comma, semicolon, tab and bar the header has. */
export function delimitedTaker(parts: LogParts, delimiter: string | null): LineTaker {
  let rows: RowTaker | null = null;
  let header: PendingHeader | null = null;
  let begun = '';
  let begunLine = 0;
  const record = (text: string, line: number): void => {
    if (rows !== null) {
      rows.take(text, line);
      return;
    }
    if (header !== null) {
      seekHeader(header, { text, line, parts });
      return;
    }
    if (isComment(text, parts)) return;
    const read = readHeader(parts, text, { line, delimiter: delimiter ?? likelyDelimiter(text) });
    if (read === null) return;
    if ('take' in read) rows = read;
    else header = read;
  };
  return {
    line(text, line) {
      if (begun === '') {
        if (isBlankLine(text)) return;
        if (!text.includes('"') || !hasOpenQuote(text)) {
          record(text, line);
          return;
        }
        begunLine = line;
        begun = text;
        return;
      }
      begun += `\n${text}`;
      if (begun.length > longestRecord) {
        parts.giveUp(unclosedQuote, begunLine);
      } else if (hasOpenQuote(text)) {
        const whole = begun;
        begun = '';
        record(whole, begunLine);
      }
    },
    end() {
      if (begun !== '') parts.giveUp(unclosedQuote, begunLine);
      else if (header !== null) parts.giveUp(header.problem, header.place.line, 1);
      else {
        const doubt = rows?.end() ?? null;
        if (doubt !== null) parts.giveUp(doubt.problem, doubt.line, doubt.column);
      }
    },
  };
}

const unclosedQuote: Problem = {
  code: 'quote-unclosed',
  says: 'a quoted field has no closing quote',
  hint: 'close it; a quote inside a quoted field is written twice',
};

export function isBlankLine(text: string): boolean {
  return text === '' || (text.charCodeAt(0) <= 32 && text.trim() === '');
}

function likelyDelimiter(header: string): string {
  const counts = [',', ';', '\t', '|'].map((mark) => ({ mark, count: header.split(mark).length }));
  return counts.reduce((best, next) => (next.count > best.count ? next : best)).mark;
}

interface HeaderPlace {
  readonly line: number;
  readonly delimiter: string;
}

interface RowTaker {
  readonly take: (text: string, line: number) => void;
  readonly end: RowReader['end'];
}

/** A header that does not say which columns are which. */
interface PendingHeader {
  readonly problem: Problem;
  readonly place: HeaderPlace;
  readonly names: readonly string[];
}

/** Lines that are looked at for a header after one that makes no sense. */
const mostTitleLines = 10;

/** The first row shows which columns could be which; else the header may stand further down, below a title. */
function seekHeader(
  { problem, place, names }: PendingHeader,
  at: { readonly text: string; readonly line: number; readonly parts: LogParts },
): void {
  const { text, line, parts } = at;
  const guess = withGuess(problem, { names, row: text, place, parts });
  if (guess.tries !== undefined) {
    parts.giveUp(guess, place.line, 1);
    return;
  }
  if (findColumns(headerIn(text), parts.options).ok) {
    const from = `tail -n +${String(line)} ${shellWord(parts.options.file)}`;
    const hint = `the header is on line ${String(line)}: leave out the lines above it, as in ${from} | dozewatch replay - --format csv`;
    parts.giveUp({ ...problem, hint }, place.line, 1);
  } else if (line - place.line >= mostTitleLines) parts.giveUp(problem, place.line, 1);
}

/** A line that a program wrote for people. */
function isComment(text: string, parts: LogParts): boolean {
  if (!text.startsWith('#') && !text.startsWith('//')) return false;
  // A column may be called #.
  return !findColumns(headerIn(text), parts.options).ok;
}

function headerIn(text: string): readonly string[] {
  const fields = splitRecord(text, likelyDelimiter(text));
  return fields.ok ? fields.value.map((field) => field.text) : [];
}

/** What takes the rows below a header, or null when it makes no sense. */
function readHeader(
  parts: LogParts,
  text: string,
  { line, delimiter }: HeaderPlace,
): RowTaker | PendingHeader | null {
  const fields = splitRecord(text, delimiter);
  if (!fields.ok) {
    parts.giveUp(fields.problem, line, columnOfRest(text, fields.problem));
    return null;
  }
  const header = fields.value.map((field) => field.text);
  const columns = findColumns(header, parts.options);
  if (!columns.ok) {
    if (!isDataRow(header, parts))
      return { problem: columns.problem, place: { line, delimiter }, names: header };
    parts.giveUp(noHeader(text), line, 1);
    return null;
  }
  const { value } = columns;
  const names = usedColumns(value);
  const [first = -1, second = -1, firstDate = -1, secondDate = -1] = names.map((name) =>
    name === null ? -1 : header.indexOf(name),
  );
  const places = new Map(header.map((name, index) => [name, index]));
  for (const wanted of parts.sensors.wanted) {
    const column = columnNamed(header, wanted);
    if (!column.ok) {
      parts.giveUp(column.problem, line, 1);
      return null;
    }
    places.set(wanted, header.indexOf(column.value));
  }
  parts.sensors.begin(header, names);
  const at = { first, second, firstDate, secondDate, places, delimiter };
  return rowTaker(parts, rowReader(value, parts), at);
}

function isDataRow(header: readonly string[], { times }: LogParts): boolean {
  return header.some((field) => field !== '' && !Number.isNaN(times.read(field)));
}

function noHeader(found: string): Problem {
  return {
    code: 'log-without-header',
    says: 'the log has no header',
    found,
    expected: 'a first line that names the columns, such as time,state or start,end',
    hint: 'add this line above the rows',
  };
}

function rowTaker(
  parts: LogParts,
  reader: RowReader,
  at: {
    readonly first: number;
    readonly second: number;
    readonly firstDate: number;
    readonly secondDate: number;
    readonly places: ReadonlyMap<string, number>;
    readonly delimiter: string;
  },
): RowTaker {
  const { intake, sensors } = parts;
  const { first, second, firstDate, secondDate, places, delimiter } = at;
  let current = '';
  // The fields of a row with quotes; those of others are cut out as they are needed.
  let fields: readonly RecordField[] | null = null;
  const fieldAt = (index: number): string | undefined =>
    index < 0
      ? undefined
      : fields === null
        ? plainField(current, delimiter, index)
        : fields[index]?.text;
  const valueIn = (column: string): string | null => fieldAt(places.get(column) ?? -1) ?? null;
  // One row object for all rows: its reader keeps nothing of it.
  const row: { -readonly [Key in keyof RowFields]: RowFields[Key] } = {
    first: '',
    second: '',
    firstDate: undefined,
    secondDate: undefined,
    line: 0,
    column: (field) => columnOf(current, delimiter, field === 0 ? first : second),
  };
  const take = (text: string, line: number): void => {
    current = text;
    fields = null;
    if (text.includes('"')) {
      const split = splitRecord(text, delimiter);
      if (!split.ok) {
        parts.giveUp(split.problem, line, columnOfRest(text, split.problem));
        return;
      }
      fields = split.value;
    }
    if (!sensors.isChosen(valueIn)) return;
    sensors.note(valueIn, line);
    intake.rows += 1;
    row.line = line;
    row.first = fieldAt(first);
    row.second = fieldAt(second);
    row.firstDate = fieldAt(firstDate);
    row.secondDate = fieldAt(secondDate);
    reader.read(row);
  };
  return { take, end: () => reader.end() };
}

/** Where the text that a problem quotes, the rest of the row, begins. */
function columnOfRest(text: string, { found = '' }: Problem): number {
  return text.length - found.length + 1;
}

/** Where a field begins on its line; where the row ends when it has no such field. */
function columnOf(text: string, delimiter: string, index: number): number {
  const fields = splitRecord(text, delimiter);
  const column = (fields.ok ? fields.value[index]?.column : undefined) ?? text.length + 1;
  return column - (text.lastIndexOf('\n', column - 2) + 1);
}
