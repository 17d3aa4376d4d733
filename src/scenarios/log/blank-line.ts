// A line of white space, which no format counts as a row.
export function isBlankLine(text: string): boolean {
  return text === '' || (text.charCodeAt(0) <= 32 && text.trim() === '');
}
