// The user's input is wrong: commands throw it here, and the one place that runs them prints it and ends with 2.
import type { Diagnostic, Result } from '../base/index.js';
import { type FileKind, otherKindOfText } from '../scenarios/index.js';

/** Everything found wrong with the input or the command line. */
export class InputProblem extends Error {
  override readonly name = 'InputProblem';
  constructor(readonly diagnostics: readonly Diagnostic[]) {
    super(diagnostics.map(({ code, message }) => `${code}: ${message}`).join('; '));
  }
}

/** One thing wrong with a file or an option. */
export function problem(
  code: string,
  file: string,
  words: {
    readonly message: string;
    readonly found?: string;
    readonly expected?: string;
    readonly hint?: string;
    readonly tries?: readonly string[];
  },
): InputProblem {
  return new InputProblem([{ code, severity: 'error', source: { file }, ...words }]);
}

/** The value of a result. @throws InputProblem with its errors when it has none. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new InputProblem(result.errors);
  return result.value;
}

/**
 * The value of a file that was read.
 * @throws InputProblem with its errors; with only one where the file is of another kind altogether.
 */
export function valueOfFile<T>(
  result: Result<T>,
  text: string,
  of: { readonly file: string; readonly wanted: FileKind; readonly option?: string },
): T {
  const other = result.ok ? null : otherKindOfText(text, of);
  if (other !== null) throw new InputProblem([other]);
  return valueOf(result);
}
