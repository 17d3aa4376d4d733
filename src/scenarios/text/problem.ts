// What is wrong with one value, before its place in the file is known.
import type { Diagnostic, Result, SourceRef } from '../../base/index.js';

/** A finding about one value. `says` follows its name: "has no unit". */
export interface Problem {
  readonly code: string;
  readonly says: string;
  readonly found?: string | undefined;
  readonly expected?: string | undefined;
  readonly hint?: string | undefined;
  /** Options that would settle it, each of these alone. */
  readonly tries?: readonly string[] | undefined;
}

/** A value read from text, or what is wrong with the text. */
export type Decoded<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: Problem };

export function good<T>(value: T): Decoded<T> {
  return { ok: true, value };
}

export function bad(
  code: string,
  says: string,
  more: Omit<Problem, 'code' | 'says'> = {},
): { readonly ok: false; readonly problem: Problem } {
  return { ok: false, problem: { code, says, ...more } };
}

/** Gives a problem its place and the name of what it is about; without a name, `says` is a whole clause. */
export function diagnosed(
  problem: Problem,
  subject: string | null,
  source: SourceRef,
  severity: Diagnostic['severity'] = 'error',
): Diagnostic {
  const { code, says, found, expected, hint, tries } = problem;
  return {
    code,
    severity,
    source,
    message: subject === null ? says : `${subject} ${says}`,
    ...(found === undefined ? {} : { found: shortened(found) }),
    ...(expected === undefined ? {} : { expected }),
    ...(hint === undefined ? {} : { hint }),
    ...(tries === undefined ? {} : { tries }),
  };
}

/** A decoded value as a result, for values that stand alone. */
export function resultOf<T>(decoded: Decoded<T>, subject: string, source: SourceRef): Result<T> {
  return decoded.ok
    ? { ok: true, value: decoded.value, warnings: [] }
    : { ok: false, errors: [diagnosed(decoded.problem, subject, source)] };
}

const longestExcerpt = 60;

/** An excerpt that fits a line: one line, no control characters, cut where it is long. */
export function shortened(text: string): string {
  const line = Array.from(text.slice(0, longestExcerpt * 4), (character) =>
    /\s/u.test(character) ? ' ' : /[\p{Cc}\p{Cf}\p{Cs}]/u.test(character) ? '\u{FFFD}' : character,
  )
    .join('')
    .replaceAll(/ +/g, ' ')
    .trim();
  const characters = Array.from(line);
  return characters.length <= longestExcerpt
    ? line
    : `${characters.slice(0, longestExcerpt - 1).join('')}…`;
}
