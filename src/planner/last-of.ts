// What two steps in a row share is worked out once.

export interface Work<In, Out, Key = string> {
  /** What the answer depends on, and nothing else. */
  readonly key: (input: In) => Key;
  readonly work: (input: In) => Out;
}

/** A function that remembers its last answer, by its key. */
export function lastOf<In, Out, Key>({ key, work }: Work<In, Out, Key>): (input: In) => Out {
  let last: { readonly key: Key; readonly out: Out } | null = null;
  return (input) => {
    const now = key(input);
    if (last?.key !== now) last = { key: now, out: work(input) };
    return last.out;
  };
}
