// A line of white space, which no format counts as a row.
export function isBlankLine(text: string): boolean {
  return text === '' || (text.charCodeAt(0) <= 32 && text.trim() === '');
}

/** A row of a table without a single value, as spreadsheets leave it below the others. */
export function isBlankRow(text: string): boolean {
  return isBlankLine(text) || /^(?:[\s,;|]|"")+$/u.test(text);
}
