// Words of command lines that are printed to be pasted.

/** A word as a shell takes it: in quotes where it needs them. */
export function shellWord(text: string): string {
  return /^[\w@%+=:,./-]+$/u.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;
}
