// Text from files and command lines on its way to a terminal: nothing in it may move the cursor, ring, hide or
// reorder what is printed.

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

/** `1 check`, `3 checks`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${numberText(count)} ${count === 1 ? one : many}`;
}

/** A whole number with its thousands set apart from 10,000 on. */
export function numberText(count: number): string {
  const digits = String(count);
  return digits.length <= 4 ? digits : inThousands(count, ',');
}

/** A whole number with a mark between its thousands; any other number as it is. */
export function inThousands(count: number, mark: string): string {
  if (!Number.isSafeInteger(count)) return String(count);
  const digits = String(Math.abs(count));
  let at = digits.length % 3 || 3;
  let text = digits.slice(0, at);
  for (; at < digits.length; at += 3) text += `${mark}${digits.slice(at, at + 3)}`;
  return count < 0 ? `-${text}` : text;
}

/** `a`, `a and b`, `a, b and c` */
export function listText(words: readonly string[], before: 'and' | 'or' = 'and'): string {
  const last = words.at(-1) ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} ${before} ${last}`;
}

/** `a lognormal`, `an exponential`, `a usage profile`. */
export function withArticle(words: string): string {
  return `${/^(?:[aeio]|u(?!s|ni))/iu.test(words) ? 'an' : 'a'} ${words}`;
}

/** A clause as a sentence: a capital letter first, and a full stop last. */
export function sentence(clause: string): string {
  const ends = /[.!?…:]$/u.test(clause) ? '' : '.';
  return `${clause.charAt(0).toUpperCase()}${clause.slice(1)}${ends}`;
}

/** A text as one word of a command line, quoted if needed. Double quotes also work on Windows. */
export function shellWord(text: string): string {
  if (/^[\w@%+=:,./-]+$/u.test(text)) return text;
  const needsSingle = text === '' || /["$`\\!]/u.test(text);
  return needsSingle ? `'${text.replaceAll("'", "'\\''")}'` : `"${text}"`;
}

/** The name of a file without its folders, which are nobody's business in a page or picture that is shared. */
export function nameOfFile(file: string): string {
  return file.split(/[/\\]/u).at(-1) ?? file;
}
