// A golden case: command lines that run one after the other in one folder. Its transcript is kept as a file.

export interface GoldenCase {
  /** Of the file in `expected/` that holds the transcript, without its ending. */
  readonly name: string;
  /**
   * As after `dozewatch`; `< FILE` at the end is standard input. A word that names something in `inputs/` has it
   * copied into the folder first.
   */
  readonly runs: readonly string[];
  /** The exit status of every run; another one stands behind its line, as in `replay late.yaml # status 1`. */
  readonly status: number;
  /** Files written for this case: bad ones, mostly. */
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  /** Further names in `inputs/`, which no command line names. */
  readonly inputs: readonly string[];
  /** Both output streams are terminals of this width. */
  readonly terminalColumns?: number;
  readonly needsCompiler: boolean;
}

type Choices = Partial<Omit<GoldenCase, 'name' | 'runs'>>;

/** A case whose runs end with 0 where nothing else is said. */
export function golden(name: string, runs: readonly string[], choices: Choices = {}): GoldenCase {
  return { status: 0, files: {}, inputs: [], needsCompiler: false, ...choices, name, runs };
}

/** Bad input or usage: every run ends with 2. */
export function refused(name: string, runs: readonly string[], choices: Choices = {}): GoldenCase {
  return golden(`refused/${name}`, runs, { status: 2, ...choices });
}
