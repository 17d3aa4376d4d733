// The first Ctrl-C belongs to whoever has something to say about what was done so far; without anybody, and the
// second time, it ends the process.

let listener: (() => void) | null = null;

/** Takes the next interrupt in place of the end of the process. @returns what gives it back. */
export function onInterrupt(tell: () => void): () => void {
  listener = tell;
  return () => {
    if (listener === tell) listener = null;
  };
}

/** Hands an interrupt to who waits for it. @returns false when nobody does. */
export function passInterrupt(): boolean {
  const tell = listener;
  listener = null;
  tell?.();
  return tell !== null;
}
