// What several tests of a file share is made when the first of them asks for it.

/** The function, called once: later calls return what the first one did. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
