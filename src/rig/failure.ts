// How a firmware can fail, besides deciding wrongly: each way has a name, and words for what happened.

export type FailureKind =
  | 'returned'
  | 'does-not-rest'
  | 'endless-loop'
  | 'waits-for-ever'
  | 'crashed'
  | 'stack-overflow'
  | 'out-of-memory'
  | 'floods-output'
  | 'asks-the-system'
  | 'exited'
  | 'out-of-bounds'
  | 'sends-for-ever'
  | 'over-time'
  | 'too-many-wakes'
  | 'called-too-early'
  | 'misused-heap'
  /** Followed a pointer that an earlier wake had left. */
  | 'stale-pointer'
  /** A firmware that is another program. */
  | 'breaks-protocol'
  /** To the end of a timeline. */
  | 'never-sleeps'
  | 'never-looks'
  /** The rig's host ended, or its answer makes no sense: the firmware wrote over it, or ended it. */
  | 'broke-the-rig';

/** How a run of a firmware ended before its timeline did. */
export interface Failure {
  readonly kind: FailureKind;
  /** Virtual time. */
  readonly atMs: number;
  /** One clause of plain words. */
  readonly what: string;
}

/** In the order of the host's numbers (assets/rig/rig.c), which begin at 1. */
const kinds: readonly FailureKind[] = [
  'returned',
  'does-not-rest',
  'endless-loop',
  'waits-for-ever',
  'crashed',
  'stack-overflow',
  'out-of-memory',
  'floods-output',
  'asks-the-system',
  'exited',
  'out-of-bounds',
  'sends-for-ever',
  'over-time',
  'too-many-wakes',
  'called-too-early',
  'misused-heap',
  'stale-pointer',
  'breaks-protocol',
];

/** In the order of the host's numbers, from 1 on (assets/rig/process.c). */
const protocolBreaches = [
  'its process ended',
  'its process asked for something that the protocol does not have',
  'its process asked again before it was answered',
  'its process sent a line that is too long',
];

/** Linux and its like number these signals alike, but for SIGBUS. */
const signals: Readonly<Record<number, string>> = {
  4: 'SIGILL',
  5: 'SIGTRAP',
  6: 'SIGABRT: often a failed assert, or an exception that nobody catches',
  7: 'SIGBUS',
  8: 'SIGFPE: often a division by zero',
  10: 'SIGBUS',
  11: 'SIGSEGV: memory that is not its own, often a null pointer',
};

/** In the order of the host's numbers. */
const requests = [
  'the operating system for something that a device does not have',
  'the operating system for another process or thread',
  'the operating system for signals or timers',
  'the operating system for a file',
  'the operating system for a network connection',
  'the operating system for memory',
  'the operating system to wait, which takes no virtual time: use dw_delay_ms',
  "the operating system for the time, which is this computer's: dw_clock_ms gives the device's",
  'the operating system for random numbers, which differ from run to run: use rand',
];

/** @returns undefined for a number that stands for no failure. */
export function failureOf(code: number, atMs: number, detail: number): Failure | undefined {
  const kind = kinds[code - 1];
  return kind === undefined ? undefined : { kind, atMs, what: failureWords(kind, detail) };
}

/**
 * What went wrong before the first wake: null: nothing is known of it.
 * @param reported the host's number of it, and the detail.
 */
export function earlyFailure(
  reported: { readonly code: number; readonly detail: number } | null,
): Failure {
  const failure = reported === null ? undefined : failureOf(reported.code, 0, reported.detail);
  if (failure === undefined) {
    const what = 'it ended the rig before its first wake, while its variables were set up';
    return { kind: 'broke-the-rig', atMs: 0, what };
  }
  return {
    ...failure,
    what: `before its first wake, while its variables were set up, ${failure.what}`,
  };
}

/** @param detail the number of the signal, of the request, or the exit status. */
export function failureWords(kind: FailureKind, detail: number): string {
  switch (kind) {
    case 'returned':
      return 'dw_wake returned without going to sleep';
    case 'does-not-rest':
      return 'it slept for less than 10 ms a thousand times in a row, so it never really rests';
    case 'endless-loop':
      return 'it computes endlessly while no time passes (time passes only in dw_sleep_ms, dw_delay_ms and sends)';
    case 'waits-for-ever':
      return 'it waits for something that never comes, outside the calls of dozewatch_rig.h';
    case 'crashed':
      return `it crashed with ${signals[detail] ?? `signal ${String(detail)}`}`;
    case 'stack-overflow':
      return 'its stack overflowed (1 MiB): it calls itself without end, or its local variables are too large';
    case 'out-of-memory':
      return detail === 1
        ? 'it took more than 64 MiB for its variables'
        : 'it used up its memory (32 MiB of heap) and failed when an allocation failed';
    case 'floods-output':
      return 'it printed more than 60 KB in one wake';
    case 'asks-the-system':
      return `it asked ${requests[detail] ?? requests[0] ?? ''}`;
    case 'exited':
      return `it ended itself with exit status ${String(detail)} instead of going to sleep`;
    case 'out-of-bounds':
      return 'it went outside an array (or ended itself by a trap)';
    case 'sends-for-ever':
      return 'it sent 100,000 messages in one wake';
    case 'over-time':
      return 'the time limit was reached before the end of the timeline';
    case 'too-many-wakes':
      return 'it woke 50 million times';
    case 'called-too-early':
      return 'it called the device before dw_wake, where that is first allowed';
    case 'misused-heap':
      return 'it misused the heap: it freed memory twice or memory that it had not allocated, used it after freeing it, or wrote past its end';
    case 'never-sleeps':
      return 'it never went to sleep: it was awake to the end of the timeline';
    case 'never-looks':
      return 'it never read the contact (dw_contact_is_open), and armed no edge to wake it';
    case 'stale-pointer':
      return 'it followed a pointer into the heap of an earlier wake: what a wake allocates is gone when the device sleeps, so a retained variable must not point to it';
    case 'breaks-protocol':
      return protocolBreaches[detail - 1] ?? 'its process broke the protocol';
    case 'broke-the-rig':
      return 'it overwrote the rig, ended it, or never reached its first wake';
  }
}
