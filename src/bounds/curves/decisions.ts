// When an opening is decided on, from the first check that reads it: the same for openings that begin in the same
// stretch of a sleep, but where some of them make a heartbeat fall due that others do not.
import { effectBit } from '../../machine/index.js';
import { type CalmDevice, checked, sleepAfter, woken } from './calm-device.js';

/** Openings alike, a millisecond apart, with what the heartbeat's clock reads at their first check. */
export interface Alike {
  readonly openings: number;
  readonly leastReadingMs: number;
  readonly mostReadingMs: number;
}

export interface Decision {
  readonly openings: number;
  /** From the first check to the one that decides; null: none ever does. */
  readonly afterMs: number | null;
  /** The same on the device's clock. */
  readonly countedMs: number;
}

interface Pending extends Alike {
  readonly awake: number;
  readonly afterMs: number;
  readonly countedMs: number;
  readonly checks: number;
}

/** The decisions on openings whose first check comes in an awake state. */
export function decisionsFrom(
  device: CalmDevice,
  awake: number,
  alike: Alike,
): readonly Decision[] {
  const decisions: Decision[] = [];
  const pending: Pending[] = [{ ...alike, awake, afterMs: 0, countedMs: 0, checks: 0 }];
  // A table has fewer states than entries: a run of as many checks without a decision has repeated itself.
  const mostChecks = device.table.next.length;
  for (let one = pending.pop(); one !== undefined; one = pending.pop()) {
    const [part, rest] = partedByDue(one, device.heartbeatMs);
    if (rest !== null) pending.push(rest);
    const next = part.checks < mostChecks ? afterCheck(device, part) : 'never';
    const { openings, afterMs, countedMs } = part;
    if (next === 'decided') decisions.push({ openings, afterMs, countedMs });
    else if (next === 'never') decisions.push({ openings, afterMs: null, countedMs });
    else pending.push(next);
  }
  return decisions;
}

/** Openings after which the heartbeat is due at this check part from those before. */
function partedByDue(one: Pending, heartbeatMs: number): readonly [Pending, Pending | null] {
  if (one.mostReadingMs < heartbeatMs || one.leastReadingMs >= heartbeatMs) return [one, null];
  const due = one.mostReadingMs - heartbeatMs + 1;
  return [
    { ...one, openings: one.openings - due, mostReadingMs: heartbeatMs - 1 },
    { ...one, openings: due, leastReadingMs: heartbeatMs },
  ];
}

function afterCheck(device: CalmDevice, one: Pending): Pending | 'decided' | 'never' {
  const due = one.leastReadingMs >= device.heartbeatMs;
  const check = checked(device, one.awake, { open: true, due });
  if ((check.effects & effectBit.decideAlert) !== 0) return 'decided';
  const sleep = sleepAfter(device, check);
  if (sleep === null) return 'never';
  const counted = sleep.fromMs + sleep.countedMs + device.bootMs;
  return {
    openings: one.openings,
    leastReadingMs: (sleep.beats ? 0 : one.leastReadingMs) + counted,
    mostReadingMs: (sleep.beats ? 0 : one.mostReadingMs) + counted,
    awake: woken(device, sleep.state, 'timer'),
    afterMs: one.afterMs + sleep.fromMs + sleep.lastsMs + device.bootMs,
    countedMs: one.countedMs + counted,
    checks: one.checks + 1,
  };
}
