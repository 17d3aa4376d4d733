// One wake of a firmware as a line of NDJSON. What a firmware remembers is its own affair: nothing is said of it.
import type { Reply } from '../../rig/index.js';
import { isoTime, type Moments } from '../../wording/index.js';

/** The line, with its line break. */
export function rigTraceLine(
  wake: Reply['wakes'][number],
  sends: Reply['sends'],
  moments: Moments,
): string {
  const { wakeMs, cause, entryMs, check, reads, blinks, ends, endMs, sleep, armed } = wake;
  const line = {
    wakeMs,
    wakeAt: isoTime(moments(wakeMs)),
    cause,
    entryMs,
    check,
    reads,
    blinks,
    sends: sends.map(({ kind, startMs, endMs: sentMs, outcome }) => ({
      kind,
      startMs,
      endMs: sentMs,
      outcome,
    })),
    ends,
    endMs,
    sleep,
    armed,
  };
  return `${JSON.stringify(line)}\n`;
}
