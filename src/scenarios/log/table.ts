// A small table that is read whole: CSV with commas, semicolons or tabs, NDJSON, or a list of JSON objects. Each field has its
// line and column. Device logs and temperature readings are such tables.
import { mostColumns } from '../../model/index.js';
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { isBlankRow } from './blank-line.js';
import { columnTwice, nameTwice, plainName } from './columns.js';
import { objectScanner } from './json-array.js';
import {
  type JsonRow,
  type ObjectPlace,
  objectOf,
  pathsOf,
  valueAt,
  valuePlace,
} from './ndjson.js';
import { isQuoteOpen, placeIn, splitRecord, type TextPlace, unclosedQuote } from './record.js';

/** One row: its fields by the name of their column. */
export interface TableRow {
  readonly line: number;
  /** Trimmed; undefined: it has no such field. */
  value(column: string): string | undefined;
  /** Where a field begins. */
  place(column: string): TextPlace;
}

/** A row, or what is wrong with it. */
export type ReadRow =
  | { readonly ok: true; readonly row: TableRow }
  | {
      readonly ok: false;
      readonly problem: Problem;
      readonly line: number;
      readonly column: number;
    };

export interface Table {
  /** Empty: there is no header. */
  readonly header: readonly string[];
  readonly headerLine: number;
  /** The line of the header as it stands there. */
  readonly headerText: string;
  readonly rows: readonly ReadRow[];
}

export function readTable(text: string): Table {
  const written = text.replace(/^\ufeff/u, '');
  const start = /\S/u.exec(written)?.[0];
  if (start === '[' || start === '{') return jsonTable(written);
  const lines = recordsIn(written).filter(
    ({ text: line }) => !isBlankRow(line) && !/^(?:#|\/\/)/u.test(line),
  );
  const [head, ...rest] = lines;
  if (head === undefined) return { header: [], headerLine: 1, headerText: '', rows: [] };
  const delimiter = delimiterOf(head.text);
  const fields = splitRecord(head.text, delimiter);
  const header = fields.ok ? fields.value.map((field) => field.text.trim()) : [];
  const rows = rest.map((line) => delimitedRow(line, header, delimiter));
  return { header, headerLine: head.line, headerText: head.text, rows };
}

/** Lines; a quoted field may run over several. */
function recordsIn(text: string): readonly { readonly text: string; readonly line: number }[] {
  const records: { text: string; line: number }[] = [];
  let delimiter: string | null = null;
  let isOpen = false;
  // Old systems end lines with CR alone.
  const lines = text.includes('\n') ? text.split('\n') : text.split('\r');
  for (const [index, ended] of lines.entries()) {
    const line = ended.replace(/\r$/u, '');
    const last = records.at(-1);
    if (isOpen && last !== undefined) last.text += `\n${line}`;
    else records.push({ text: line, line: index + 1 });
    if (!line.includes('"')) continue;
    delimiter ??= delimiterOf(records.find(({ text: one }) => !isBlankRow(one))?.text ?? '');
    isOpen = isQuoteOpen(records.at(-1)?.text ?? '', delimiter);
  }
  return records;
}

function delimiterOf(header: string): string {
  return [';', '\t'].find((mark) => header.includes(mark)) ?? ',';
}

function delimitedRow(
  { text, line }: { readonly text: string; readonly line: number },
  header: readonly string[],
  delimiter: string,
): ReadRow {
  const fields = splitRecord(text, delimiter);
  if (!fields.ok) {
    const problem = isQuoteOpen(text, delimiter) ? unclosedQuote : fields.problem;
    return {
      ok: false,
      problem,
      ...placeIn(text, text.length - (fields.problem.found ?? '').length, line),
    };
  }
  const { value } = fields;
  const row: TableRow = {
    line,
    value: (column) => value[header.indexOf(column)]?.text.trim(),
    place: (column) =>
      placeIn(text, (value[header.indexOf(column)]?.column ?? text.length + 1) - 1, line),
  };
  return { ok: true, row };
}

function jsonTable(text: string): Table {
  const rows: ReadRow[] = [];
  // A key may be missing from the first rows.
  const header = new Set<string>();
  const scanner = objectScanner({
    take(object, place) {
      const read = objectOf(object, place);
      if (!read.ok) rows.push(read);
      else {
        if (header.size < mostColumns) for (const path of pathsOf(read.row)) header.add(path);
        rows.push({ ok: true, row: jsonRow(read.row, object, place) });
      }
    },
    stop(problem, place) {
      rows.push({ ok: false, problem, ...place });
    },
    end: () => undefined,
  });
  scanner.chunk(text);
  scanner.end();
  const headerText = text.split('\n', 1)[0] ?? '';
  return { header: [...header], headerLine: 1, headerText, rows };
}

function jsonRow(object: JsonRow, text: string, place: ObjectPlace): TableRow {
  return {
    line: place.line,
    value(column) {
      const value = valueAt(object, column);
      return value === null || value === undefined ? undefined : String(value).trim();
    },
    place: (column) => valuePlace(text, column, place),
  };
}

/** A column by its option, or by one of its usual names. Errors: `column-unknown`; null: no such column. */
export function tableColumn(
  { header }: Table,
  named: string | undefined,
  usual: readonly string[],
): Decoded<string | null> {
  if (named !== undefined) {
    const column = header.find((name) => plainName(name) === plainName(named));
    if (column !== undefined) return once(header, column);
    return bad('column-unknown', `the log has no column ${named}`, { found: header.join(', ') });
  }
  for (const word of usual) {
    const column = header.find((name) => plainName(name) === word);
    if (column !== undefined) return once(header, column);
  }
  return good(null);
}

function once(header: readonly string[], column: string): Decoded<string> {
  return nameTwice(header, [column]) === null
    ? good(column)
    : { ok: false, problem: columnTwice(header, column) };
}
