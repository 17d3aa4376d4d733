// Our own mistakes are not the user's and not the watch's: they throw here, with the facts that show how.

/** A fault of dozewatch itself. The command layer turns it into exit status 3 and a request to report it. */
export class InvariantError extends Error {
  override readonly name = 'InvariantError';
  constructor(
    message: string,
    readonly facts: Readonly<Record<string, unknown>>,
  ) {
    super(message);
  }
}

/** States what must hold; stays on in production. @throws InvariantError when it does not. */
export function invariant(
  holds: boolean,
  message: string,
  facts: Readonly<Record<string, unknown>> = {},
): asserts holds {
  if (!holds) throw new InvariantError(message, facts);
}

/** The end of an exhaustive `switch`: reaching it means that a case was forgotten. @throws InvariantError always. */
export function unreachable(value: never): never {
  throw new InvariantError('a case was forgotten', { value });
}
