// One shape for everything that is wrong, or doubtful, about the user's input.

/** Where in which input. Lines and columns count from 1. */
export interface SourceRef {
  /** File name as the user gave it; `-` for standard input; `--option` for a command-line option. */
  readonly file: string;
  readonly line?: number | undefined;
  readonly column?: number | undefined;
}

/** A finding about the user's input: tests and tools rely on `code`, people on the words. */
export interface Diagnostic {
  /** Stable, kebab-case: `duration-without-unit`, `unknown-key`, … */
  readonly code: string;
  readonly severity: 'error' | 'warning';
  readonly source: SourceRef;
  /** What is wrong, one clause, without a full stop at its end. */
  readonly message: string;
  /** The offending text as it stands in the input, cut to a readable length. */
  readonly found?: string | undefined;
  /** What was expected in its place. */
  readonly expected?: string | undefined;
  /** What to write or do instead. */
  readonly hint?: string | undefined;
  /**
   * Options that would settle it, each of these alone; shown as whole command lines where the command line is known. A filter and a
   * bar before them: its output in place of the file.
   */
  readonly tries?: readonly string[] | undefined;
}
