// What a signal does to a run. A handler in JavaScript runs only where the program gives way to it: while a year is simulated
// or a page is drawn, nothing does, and Ctrl-C would wait for minutes. So there is a handler only while something is to be
// cleaned up, or a command waits for an interrupt to report what was done so far: at all other times the system ends the
// process at once. The second Ctrl-C ends it also where a command waits.

let listener: (() => void) | null = null;

/** Takes the next interrupt in place of the end of the process. @returns what gives it back. */
export function onInterrupt(onSignal: () => void): () => void {
  listener = onSignal;
  guard();
  return () => {
    if (listener === onSignal) listener = null;
    guard();
  };
}

/** Hands an interrupt to the command that waits for it. @returns false when none does. */
export function passInterrupt(): boolean {
  const onSignal = listener;
  listener = null;
  guard();
  onSignal?.();
  return onSignal !== null;
}

/** What a run leaves behind that ends in the middle: each has a way to remove it. */
const leftovers = new Map<object, () => void>();

/** A signal from here on removes this before the process ends. @returns what to call once it is removed or complete. */
export function removedOnSignal(remove: () => void): () => void {
  const key = {};
  leftovers.set(key, remove);
  guard();
  return () => {
    leftovers.delete(key);
    guard();
  };
}

/** Removes all that would be left behind. */
export function removeLeftovers(): void {
  for (const remove of leftovers.values()) remove();
  leftovers.clear();
  guard();
}

/** The statuses by which a shell also reports an end by signal. */
const handlers = (
  [
    { signal: 'SIGHUP', status: 129 },
    { signal: 'SIGINT', status: 130 },
    { signal: 'SIGTERM', status: 143 },
  ] as const
).map(({ signal, status }) => ({
  signal,
  isOn: false,
  handle: (): void => {
    if (signal === 'SIGINT' && passInterrupt()) return;
    removeLeftovers();
    // Nothing is left worth waiting for: not even what is still to be printed.
    process.exit(status);
  },
}));

let guards = false;

/** From here on, signals end this process without leaving anything behind. */
export function guardSignals(): void {
  guards = true;
  guard();
}

/** Sets or takes off each handler, as needed now. */
function guard(): void {
  for (const one of handlers) {
    const waits = one.signal === 'SIGINT' && listener !== null;
    const isNeeded = guards && (waits || leftovers.size > 0);
    if (isNeeded === one.isOn) continue;
    if (isNeeded) process.on(one.signal, one.handle);
    else process.off(one.signal, one.handle);
    one.isOn = isNeeded;
  }
}
