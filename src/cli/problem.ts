// The user's input is wrong: commands throw it here, and the one place that runs them prints it and ends with 2.
import type { Diagnostic, Result } from '../base/index.js';

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
