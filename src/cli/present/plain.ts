// Text from files and command lines on its way to a terminal: nothing in it may move the cursor, ring, hide or
// reorder what is printed.
import stringWidth from 'string-width';

/** Controls, lone surrogates, and the characters that reorder or break lines. */
const hostile =
  /[\p{Cs}\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/gu;

/** Each hostile character as one visible one: `␛` for escape, `�` where there is no picture. */
export function plain(text: string): string {
  return text.replace(hostile, (character) => {
    const code = character.charCodeAt(0);
    if (code < 0x20) return String.fromCharCode(0x2400 + code);
    return code === 0x7f ? '\u2421' : '\ufffd';
  });
}

/** `plain` text cut to a width in columns, with an ellipsis where something was cut. */
export function plainCut(text: string, columns: number): string {
  // No character is narrower than this many code units a column, so the rest never matters.
  const clean = plain(text.slice(0, columns * 16));
  if (stringWidth(clean) <= columns && text.length <= columns * 16) return clean;
  let kept = '';
  let width = 0;
  for (const character of clean) {
    width += stringWidth(character);
    if (width > columns - 1) break;
    kept += character;
  }
  return `${kept}…`;
}

/** Columns that text takes on a terminal. */
export function columnsOf(text: string): number {
  return stringWidth(text);
}

/** `1 check`, `3 checks`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${numberText(count)} ${count === 1 ? one : many}`;
}

/** A whole number with its thousands set apart from 10,000 on. */
export function numberText(count: number): string {
  const digits = String(count);
  return digits.length <= 4 ? digits : digits.replace(/\B(?=(?:\d{3})+$)/gu, ',');
}
