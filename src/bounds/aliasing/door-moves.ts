// A door that is only ever opened for a short time, and how it can move while the device looks away. Each opening is
// counted; the clock of the opening under study tells how long the present one has lasted.
import type { RangeMs } from '../../model/index.js';
import { type Draft, draftOf, note, type Step, take } from '../track.js';

export interface Door {
  readonly draft: Draft;
  readonly open: boolean;
  /** Openings so far. */
  readonly openings: number;
}

/** A stretch of time in which no edge is noticed. */
export interface Stretch {
  /** The steps of one that lasts at least this time; null: it cannot. */
  readonly lasting: (leastMs: number) => readonly Step[] | null;
  /** The door may also move at its first instant. */
  readonly fromStart: boolean;
}

/** An awake stretch. */
export function awakeFor(what: 'boot' | 'send', range: RangeMs, fromStart: boolean): Stretch {
  return {
    lasting: (neededMs) => {
      const leastMs = Math.max(range.least, neededMs);
      return leastMs > range.most ? null : [{ op: 'advance', what, leastMs, mostMs: range.most }];
    },
    fromStart,
  };
}

/**
 * Every way for the door to move during a stretch, with as few openings as it takes; a door that opens does so at the
 * stretch's end, to be open for as short a time as can be.
 * @param leaveOpenAfterMs every opening is shorter.
 */
export function movesDuring(
  door: Door,
  stretch: Stretch,
  leaveOpenAfterMs: number,
): readonly Door[] {
  const ways: Door[] = [];
  const pass = (draft: Draft, moves: number): boolean => {
    const steps = stretch.lasting(moves - (stretch.fromStart ? 1 : 0));
    return steps?.every((step) => take(draft, step)) === true;
  };
  const same = draftOf(door.draft);
  if (pass(same, 0)) ways.push({ ...door, draft: same });
  if (!door.open) {
    const opened = draftOf(door.draft);
    if (pass(opened, 1)) ways.push(justOpened(opened, door.openings));
    return ways;
  }
  const shut = shutFrom(door, stretch.fromStart, leaveOpenAfterMs);
  if (shut === null) return ways;
  const again = draftOf(shut);
  if (pass(shut, 1)) ways.push({ draft: shut, open: false, openings: door.openings });
  if (pass(again, 2)) ways.push(justOpened(again, door.openings));
  return ways;
}

/** An opening that begins now. */
export function justOpened(draft: Draft, before: number): Door {
  note(draft, 'door opens');
  take(draft, { op: 'restart', clocks: ['opening'] });
  return { draft, open: true, openings: before + 1 };
}

/** The door shuts now, or a millisecond from now; null: it would have been open for too long. */
export function shutFrom(door: Door, now: boolean, leaveOpenAfterMs: number): Draft | null {
  const draft = draftOf(door.draft);
  const longestMs = leaveOpenAfterMs - (now ? 1 : 2);
  if (!take(draft, { op: 'at most', clock: 'opening', value: longestMs })) return null;
  note(draft, now ? 'door shuts' : 'door shuts next');
  return draft;
}
