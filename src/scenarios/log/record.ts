// One row of delimited text. Rows without quotes, nearly all of them, are cut at their delimiters in place; a
// parser of whole files takes most of the time budget of a million rows. Quotes are those of RFC 4180.
import { bad, type Decoded, good } from '../text/problem.js';

/** The number of double quotes in a line: odd when a quoted field goes on in the next. */
export function hasOpenQuote(text: string): boolean {
  let open = false;
  for (let at = text.indexOf('"'); at >= 0; at = text.indexOf('"', at + 1)) open = !open;
  return open;
}

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
