// What a signal does to a run. A handler in JavaScript runs only where the program gives way to it: while a large file is
// parsed in one go, nothing does, and Ctrl-C would wait for minutes. So the handlers are taken off meanwhile, where nothing
// is to be cleaned up: the system then ends the process at once.
//
// The first Ctrl-C goes to the command that can report what was done so far; without one, and the
// second time, it ends the process.

import { setImmediate } from 'node:timers/promises';

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

/** The statuses by which a shell also reports an end by signal. */
const signals = [
  { signal: 'SIGHUP', status: 129 },
  { signal: 'SIGINT', status: 130 },
  { signal: 'SIGTERM', status: 143 },
] as const;

/** What is left behind by a process that ends in the middle of its work. */
export interface Leftovers {
  readonly isThere: () => boolean;
  readonly remove: () => void;
}

let left: Leftovers | null = null;

const handlers = signals.map(({ signal, status }) => ({
  signal,
  handle: (): void => {
    if (signal === 'SIGINT' && passInterrupt()) return;
    left?.remove();
    // Nothing is left worth waiting for: not even what is still to be printed.
    process.exit(status);
  },
}));

/** From here on, signals end this process without leaving anything behind. */
export function guardSignals(leftovers: Leftovers): void {
  left = leftovers;
  for (const { signal, handle } of handlers) process.on(signal, handle);
}

/** Does work that may take long and does not give way: a signal ends the process even so, where that leaves nothing behind. */
export async function inOneGo<T>(work: () => T): Promise<T> {
  if (left === null) return work();
  // A signal that has come already is handled first: it would be lost with its handler.
  await setImmediate();
  if (listener !== null || left.isThere()) return work();
  for (const { signal, handle } of handlers) process.off(signal, handle);
  try {
    return work();
  } finally {
    for (const { signal, handle } of handlers) process.on(signal, handle);
  }
}
