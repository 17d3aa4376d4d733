// CSV and TSV: a header, then rows. A quoted field may run over several lines.

import { shellWord } from '../../base/index.js';
import { mostLineCharacters, mostTitleLines } from '../../model/index.js';
import type { Problem } from '../text/problem.js';
import { isBlankRow } from './blank-line.js';
import {
  columnNamed,
  columnTwice,
  findColumns,
  type LogColumns,
  nameTwice,
  usedColumns,
} from './columns.js';
import { withGuess } from './guess.js';
import { type FieldPlaces, type LineTaker, type LogParts, piped } from './line-taker.js';
import { leadingTime } from './lines-of-text.js';
import { objectOf, pathsOf, valueAt } from './ndjson.js';
import {
  isQuoteOpen,
  linesBefore,
  placeIn,
  plainField,
  type RecordField,
  splitRecord,
  type TextPlace,
  unclosedQuote,
} from './record.js';
import { type RowFields, type RowReader, rowReader } from './row-reader.js';

/** @param delimiter null: whichever of comma, semicolon, tab and bar the header has. */
export function delimitedTaker(parts: LogParts, delimiter: string | null): LineTaker {
  let rows: RowTaker | null = null;
  let header: PendingHeader | null = null;
  // A first line may name it, as in sep=;
  let mark = delimiter;
  let isFramed = false;
  // That of the header, once it is read.
  let used: string | null = null;
  const markOf = (text: string): string => used ?? mark ?? likelyDelimiter(text);
  const record = (written: string, line: number, at?: FieldPlaces): void => {
    if (rows === null && header === null) isFramed = /^\|.*\|\s*$/u.test(written);
    if (isFramed && /^[|:\s-]+$/u.test(written)) return;
    const text = isFramed ? unframed(written) : written;
    if (rows !== null) {
      rows.take(text, line, at);
      return;
    }
    if (header !== null) {
      rows = seekHeader(header, { text, line, parts });
      if (rows === null) return;
      header = null;
      rows.take(text, line);
      return;
    }
    const named = /^"?sep=(.)"?$/iu.exec(text.trim())?.[1];
    if (named !== undefined) {
      mark = named;
      return;
    }
    if (isComment(text, parts)) return;
    rows = timedRows(['time', 'state'], { text, line, parts });
    if (rows !== null) {
      rows.take(text, line);
      return;
    }
    used = markOf(text);
    const read = readHeader(parts, text, { line, delimiter: used });
    if (read === null) return;
    if ('take' in read) rows = read;
    else header = read;
  };
  const whole = wholeRows({ record, markOf, parts });
  return {
    line: whole.line,
    end() {
      if (whole.isUnclosed()) return;
      if (header !== null) parts.giveUp(header.problem, header.place.line, 1);
      else {
        const doubt = rows?.end() ?? null;
        if (doubt !== null) parts.giveUp(doubt.problem, doubt.line, doubt.column);
      }
    },
  };
}

/** Joins the lines of a row whose quoted field goes on in the next. */
function wholeRows({
  record,
  markOf,
  parts,
}: {
  readonly record: LineTaker['line'];
  readonly markOf: (text: string) => string;
  readonly parts: LogParts;
}): { readonly line: LineTaker['line']; readonly isUnclosed: () => boolean } {
  let begun = '';
  let begunLine = 0;
  const giveUp = (): void => {
    const split = splitRecord(begun, markOf(begun));
    const at = placeOfRest(begun, begunLine, split.ok ? unclosedQuote : split.problem);
    parts.giveUp(unclosedQuote, at.line, at.column);
  };
  return {
    line(text, line, at) {
      if (begun === '') {
        if (isBlankRow(text)) return;
        if (!text.includes('"') || !isQuoteOpen(text, markOf(text))) {
          record(text, line, at);
          return;
        }
        begunLine = line;
        begun = text;
        return;
      }
      begun += `\n${text}`;
      if (begun.length > mostLineCharacters) giveUp();
      else if (text.includes('"') && !isQuoteOpen(begun, markOf(begun))) {
        const row = begun;
        begun = '';
        record(row, begunLine);
      }
    },
    isUnclosed() {
      if (begun !== '') giveUp();
      return begun !== '';
    },
  };
}

/** A row of a table with a bar at each end. */
function unframed(text: string): string {
  const cells = text.trim().split('|').slice(1, -1);
  return cells.map((cell) => cell.trim()).join('|');
}

/** What takes lines of a time and words behind it; null: they are not such lines, or the names mean nothing. */
function timedRows(
  names: readonly string[],
  at: { readonly text: string; readonly line: number; readonly parts: LogParts },
): RowTaker | null {
  const { text, line, parts } = at;
  const led = leadingTime(text, parts.times);
  if (led === null || !/^[\p{L}"']/u.test(led.rest)) return null;
  const columns = findColumns(names, parts.options);
  if (!columns.ok) return null;
  const place = { line, delimiter: '\t' };
  const rows = rowsBelow(columns.value, parts, { header: names, inside: [], place });
  if (rows === null) return null;
  return {
    take(row, rowLine) {
      const one = leadingTime(row, parts.times) ?? { time: row, rest: '' };
      rows.take(`${one.time}\t${one.rest.replaceAll(/[\t"]/gu, ' ')}`, rowLine);
    },
    end: () => rows.end(),
  };
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
  readonly take: (text: string, line: number, at?: FieldPlaces) => void;
  readonly end: RowReader['end'];
}

/** A header that does not say which columns are which. */
interface PendingHeader {
  readonly problem: Problem;
  readonly place: HeaderPlace;
  readonly names: readonly string[];
}

/**
 * The first row shows which columns could be which; else the header may stand further down, below a title.
 * @returns what takes the rows, if values inside a field of JSON are the columns.
 */
function seekHeader(
  { problem, place, names }: PendingHeader,
  at: { readonly text: string; readonly line: number; readonly parts: LogParts },
): RowTaker | null {
  const { text, line, parts } = at;
  const inside = columnsInside(names, text, place.delimiter);
  if (inside.length > 0) {
    const all = [...names, ...inside.map(({ name }) => name)];
    const columns = findColumns(all, parts.options);
    if (columns.ok) return rowsBelow(columns.value, parts, { header: all, inside, place });
  }
  const words = (names.length === 1 ? (names[0] ?? '') : '').split(/\s+/u);
  const timed = words.length === 2 ? timedRows(words, at) : null;
  if (timed !== null) return timed;
  const guess = withGuess(problem, { names, row: text, place, parts });
  if (guess.tries !== undefined) {
    parts.giveUp(guess, place.line, 1);
    return null;
  }
  if (findColumns(headerIn(text), parts.options).ok) {
    const from = `tail -n +${String(line)} ${shellWord(parts.options.file)}`;
    const hint = `the header is on line ${String(line)}: leave out the lines above it`;
    parts.giveUp({ ...problem, hint, tries: piped(from, parts.options) }, place.line, 1);
  } else if (names.length === 1 && isInSpaces(names, text)) {
    const hint = 'if spaces separate the columns, put commas there';
    const commas = `sed -E 's/ +/,/g' ${shellWord(parts.options.file)}`;
    parts.giveUp({ ...problem, hint, tries: piped(commas, parts.options) }, place.line, 1);
  } else if (line - place.line >= mostTitleLines) parts.giveUp(problem, place.line, 1);
  return null;
}

/** A header and a row of as many words, with spaces between them. */
function isInSpaces([name = '']: readonly string[], row: string): boolean {
  const words = (text: string): number => text.trim().split(/\s+/u).length;
  return words(name) > 1 && words(name) === words(row) && !row.includes('=');
}

/** A value inside a field that holds a JSON object. */
interface InsideColumn {
  /** The name of the field's column, a dot, and the path of the value. */
  readonly name: string;
  readonly field: number;
  readonly path: string;
}

function columnsInside(
  names: readonly string[],
  row: string,
  delimiter: string,
): readonly InsideColumn[] {
  const fields = splitRecord(row, delimiter);
  if (!fields.ok) return [];
  return fields.value.flatMap(({ text }, field) => {
    const object = text.trim().startsWith('{') ? objectOf(text, { line: 1, column: 1 }) : null;
    if (object?.ok !== true) return [];
    const name = names[field] ?? '';
    return pathsOf(object.row).map((path) => ({ name: `${name}.${path}`, field, path }));
  });
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
  const fields = quotedFields(text, delimiter, { line, parts });
  if (fields === null) return null;
  const header = fields.map((field) => field.text);
  const columns = findColumns(header, parts.options);
  if (!columns.ok) {
    if (!isDataRow(header, parts))
      return { problem: columns.problem, place: { line, delimiter }, names: header };
    parts.giveUp(noHeader(text, parts), line, 1);
    return null;
  }
  return rowsBelow(columns.value, parts, { header, inside: [], place: { line, delimiter } });
}

/** What takes the rows below a header whose columns are known. */
function rowsBelow(
  value: LogColumns,
  parts: LogParts,
  of: {
    readonly header: readonly string[];
    readonly inside: readonly InsideColumn[];
    readonly place: HeaderPlace;
  },
): RowTaker | null {
  const { header, inside, place } = of;
  const { line, delimiter } = place;
  const names = usedColumns(value);
  const indexOf = (name: string | null): number => (name === null ? -1 : header.indexOf(name));
  const twice = nameTwice(header, names);
  if (twice !== null) {
    const tries = renamed(header, twice, { place, parts });
    parts.giveUp({ ...columnTwice(header, twice), tries }, line, 1);
    return null;
  }
  const [first, second, firstDate, secondDate] = names;
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
  const own = header.length - inside.length;
  const at = {
    first: indexOf(first),
    second: indexOf(second),
    firstDate: indexOf(firstDate),
    secondDate: indexOf(secondDate),
    places,
    delimiter,
    own,
    inside,
  };
  return rowTaker(parts, rowReader(value, parts), at);
}

/** Commands that read one of two columns of the same name. */
function renamed(
  header: readonly string[],
  name: string,
  { place, parts }: { readonly place: HeaderPlace; readonly parts: LogParts },
): readonly string[] | undefined {
  const { line, delimiter } = place;
  const isPlain = header.every((one) => /^[\w .-]*$/u.test(one));
  if (!isPlain || delimiter === '\t') return undefined;
  const places = header.flatMap((one, index) => (one === name ? [index] : []));
  return places.flatMap((kept) => {
    const names = header.map((one, index) =>
      one === name && index !== kept ? `other${String(index + 1)}` : one,
    );
    const filter = `sed ${shellWord(`${String(line)}s/.*/${names.join(delimiter)}/`)}`;
    return piped(`${filter} ${shellWord(parts.options.file)}`, parts.options) ?? [];
  });
}

/** Names for the columns of a first row that is not one of names; null: it is. */
export function namesFor(fields: readonly string[], parts: LogParts): readonly string[] | null {
  return findColumns(fields, parts.options).ok || !isDataRow(fields, parts)
    ? null
    : headerFor(fields, parts);
}

function isDataRow(header: readonly string[], { times }: LogParts): boolean {
  return header.some((field) => field !== '' && !Number.isNaN(times.read(field)));
}

function noHeader(found: string, parts: LogParts): Problem {
  const file = shellWord(parts.options.file);
  const mark = likelyDelimiter(found);
  const line = headerFor(headerIn(found), parts).join(mark);
  const echo =
    mark === '\t' ? `printf '${line.replaceAll(mark, '\\t')}\\n'` : `echo ${shellWord(line)}`;
  return {
    code: 'log-without-header',
    says: 'the log has no header',
    found,
    expected: 'a first line that names the columns, such as time,state or start,end',
    hint: `add this line above the rows: ${line}`,
    tries: piped(`(${echo}; cat ${file})`, parts.options),
  };
}

/** Names for the columns of a row: the first time and the first state are called so. */
function headerFor(fields: readonly string[], parts: LogParts): readonly string[] {
  const { times } = parts;
  const states = parts.statesOf('');
  const isTime = (text: string): boolean => text.length > 5 && !Number.isNaN(times.read(text));
  const long = fields.findIndex((text) => isTime(text.trim()));
  // Seconds from a start of its own are few digits.
  const time =
    long >= 0 ? long : fields.findIndex((text) => !Number.isNaN(times.read(text.trim())));
  const end = fields.findIndex((text, index) => index > time && isTime(text.trim()));
  const known = fields.findIndex((text, index) => index !== time && states.read(text.trim()) >= 0);
  const state = known < 0 ? fields.length - 1 : known;
  return fields.map((_, index) => {
    if (end >= 0 && known < 0) {
      return index === time ? 'start' : index === end ? 'end' : `column${String(index + 1)}`;
    }
    return index === time ? 'time' : index === state ? 'state' : `column${String(index + 1)}`;
  });
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
    /** How many columns the rows have; those after them are inside others. */
    readonly own: number;
    readonly inside: readonly InsideColumn[];
  },
): RowTaker {
  const { intake, sensors } = parts;
  const { first, second, firstDate, secondDate, places, delimiter, own, inside } = at;
  let current = '';
  let placesOf: FieldPlaces | undefined;
  const written = (index: number): number =>
    index < own ? index : (inside[index - own]?.field ?? 0);
  // The fields of a row with quotes; those of others are cut out as they are needed.
  let fields: readonly RecordField[] | null = null;
  const cellAt = (index: number): string | undefined =>
    fields === null ? plainField(current, delimiter, index) : fields[index]?.text;
  const fieldAt = (index: number): string | undefined =>
    index < 0 ? undefined : index >= own ? insideAt(index - own) : cellAt(index);
  const insideAt = (index: number): string | undefined => {
    const one = inside[index];
    return one && insideValue(fieldAt(one.field) ?? '', one.path);
  };
  const valueIn = (column: string): string | null => fieldAt(places.get(column) ?? -1) ?? null;
  // One row object for all rows: its reader keeps nothing of it.
  const row: { -readonly [Key in keyof RowFields]: RowFields[Key] } = {
    first: '',
    second: '',
    firstDate: undefined,
    secondDate: undefined,
    line: 0,
    lastLine: 0,
    at(field) {
      const index = written(field === 0 ? first : second);
      return placesOf?.(index) ?? fieldPlace(current, delimiter, { index, line: row.line });
    },
  };
  const take: RowTaker['take'] = (text, line, placed) => {
    current = text;
    placesOf = placed;
    fields = null;
    if (text.includes('"')) {
      fields = quotedFields(text, delimiter, { line, parts });
      if (fields === null) return;
    }
    if (!sensors.isChosen(valueIn)) return;
    sensors.note(valueIn, line);
    intake.rows += 1;
    row.line = line;
    row.lastLine = fields === null ? line : line + linesBefore(text, text.length);
    row.first = fieldAt(first);
    row.second = fieldAt(second);
    row.firstDate = fieldAt(firstDate);
    noteMore(intake, cellAt(own), line);
    row.secondDate = fieldAt(secondDate);
    reader.read(row);
  };
  return { take, end: () => reader.end() };
}

/** The fields of a row with quotes; null: one is in the wrong place, and the log is given up. */
function quotedFields(
  text: string,
  delimiter: string,
  { line, parts }: { readonly line: number; readonly parts: LogParts },
): readonly RecordField[] | null {
  const split = splitRecord(text, delimiter);
  if (split.ok) return split.value;
  const at = placeOfRest(text, line, split.problem);
  parts.giveUp(split.problem, at.line, at.column);
  return null;
}

/** A value of a field that holds a JSON object; undefined: it holds none. */
function insideValue(text: string, path: string): string | undefined {
  const object = objectOf(text, { line: 1, column: 1 });
  return object.ok ? String(valueAt(object.row, path) ?? '') : undefined;
}

/** Counts a row with a cell behind those of the columns; an empty one is no more than a comma at the end. */
function noteMore(intake: LogParts['intake'], cell: string | undefined, line: number): void {
  if (cell === undefined || cell.trim() === '') return;
  if (intake.rowsWithMore === 0) intake.firstWithMore = line;
  intake.rowsWithMore += 1;
}

/** Where the text that a problem quotes, the rest of the row, begins. */
function placeOfRest(text: string, line: number, { found = '' }: Problem): TextPlace {
  return placeIn(text, text.length - found.length, line);
}

/** Where a field begins; where the row ends when it has no such field. */
function fieldPlace(
  text: string,
  delimiter: string,
  { index, line }: { readonly index: number; readonly line: number },
): TextPlace {
  const fields = splitRecord(text, delimiter);
  const column = (fields.ok ? fields.value[index]?.column : undefined) ?? text.length + 1;
  return placeIn(text, column - 1, line);
}
