// One row of delimited text. Rows without quotes, nearly all of them, are cut at their delimiters in place; a
// parser of whole files takes most of the time budget of a million rows. Quotes are those of RFC 4180.
import { bad, type Decoded, good, type Problem } from '../text/problem.js';

/** A character of a file; both count from 1. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/** Whether a quoted field goes on in the next line. A quote inside a field that does not begin with one is a character like any. */
export function isQuoteOpen(text: string, delimiter: string): boolean {
  let at = 0;
  while (at < text.length) {
    let end = text.indexOf(delimiter, at);
    if (text[at] === '"') {
      const quoted = quotedField(text, at);
      if (quoted === null) return true;
      if (quoted.end < text.length && text[quoted.end] !== delimiter) return false;
      ({ end } = quoted);
    }
    if (end < 0) return false;
    at = end + delimiter.length;
  }
  return false;
}

/** Of a quoted field that never ends. */
export const unclosedQuote: Problem = {
  code: 'quote-unclosed',
  says: 'a quoted field has no closing quote',
  hint: 'close it; a quote inside a quoted field is written twice',
};

/**
 * The field at an index of a row without quotes.
 * @returns undefined when the row has fewer fields.
 */
export function plainField(text: string, delimiter: string, index: number): string | undefined {
  let start = 0;
  for (let skipped = 0; skipped < index; skipped += 1) {
    start = text.indexOf(delimiter, start) + 1;
    if (start === 0) return undefined;
  }
  const end = text.indexOf(delimiter, start);
  return end < 0 ? text.slice(start) : text.slice(start, end);
}

/** A field, and its column in its line's text. */
export interface RecordField {
  readonly text: string;
  readonly column: number;
}

/** All fields of a row, quotes taken off. Error: `quote-misplaced`. */
export function splitRecord(text: string, delimiter: string): Decoded<readonly RecordField[]> {
  const fields: RecordField[] = [];
  let at = 0;
  for (;;) {
    const start = at;
    let field: string;
    if (text[at] === '"') {
      const quoted = quotedField(text, at);
      if (quoted === null || (quoted.end < text.length && text[quoted.end] !== delimiter)) {
        const hint = 'put the whole field in quotes, and write a quote inside it twice';
        const found = text.slice(start);
        return bad('quote-misplaced', 'this row has a quote in the wrong place', { found, hint });
      }
      field = quoted.text;
      at = quoted.end;
    } else {
      const end = text.indexOf(delimiter, at);
      at = end < 0 ? text.length : end;
      field = text.slice(start, at);
    }
    fields.push({ text: field, column: start + 1 });
    if (at >= text.length) return good(fields);
    at += delimiter.length;
  }
}

/** The field that begins with the quote at `start`, and where it ends; null when it does not. */
function quotedField(text: string, start: number): { text: string; end: number } | null {
  let field = '';
  let from = start + 1;
  for (;;) {
    const quote = text.indexOf('"', from);
    if (quote < 0) return null;
    field += text.slice(from, quote);
    if (text[quote + 1] !== '"') return { text: field, end: quote + 1 };
    field += '"';
    from = quote + 2;
  }
}

/** How many lines of a text end before an index. */
export function linesBefore(text: string, index: number): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < index; at = text.indexOf('\n', at + 1)) {
    count += 1;
  }
  return count;
}

/** The place of a character of a text that begins on a line, perhaps behind others. */
export function placeIn(text: string, index: number, line: number, column = 1): TextPlace {
  const start = index === 0 ? 0 : text.lastIndexOf('\n', index - 1) + 1;
  return start === 0
    ? { line, column: index + column }
    : { line: line + linesBefore(text, start), column: index - start + 1 };
}
