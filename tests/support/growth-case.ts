// What a case of growth is, and how the reading of an input ends, whatever reads it.

/** An input that can be made of any length, and is to be read, or refused, in about linear time. */
export interface GrowthCase {
  readonly name: string;
  /** The kind of input. */
  readonly of: string;
  /** With which `n` the tests run it: work that grows with its square does not end within a test. */
  readonly size: number;
  /** Null: either. */
  readonly ends: 'read' | 'refused' | null;
  /** @param n about how many characters or rows it has. */
  make(n: number): string;
  run(input: string): Outcome | Promise<Outcome>;
}

/** Refused: with the codes of all that was wrong. */
export type Outcome = 'read' | { readonly refused: readonly string[] };

/** Of a result, of a plan, of what a link holds. @throws Error for anything else. */
export function howItEnds(result: unknown): Outcome {
  if (typeof result === 'object' && result !== null) {
    if ('ok' in result) return result.ok === true ? 'read' : { refused: codesOf(result) };
    if ('kind' in result) {
      return result.kind === 'read' ? 'read' : { refused: [`link-${String(result.kind)}`] };
    }
  }
  throw new Error(`no reader ends so: ${JSON.stringify(result)}`);
}

function codesOf(result: object): readonly string[] {
  const errors: unknown = 'errors' in result ? result.errors : null;
  if (!Array.isArray(errors)) throw new Error('a refusal lists what is wrong');
  return errors.map((error: unknown) =>
    typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : '',
  );
}
