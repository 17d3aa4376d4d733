// The gaps between the checks of a device at rest, over one round of what repeats itself: without heartbeats mostly a
// single gap, with them all from one to the next.

import { invariant, itemAt } from '../../base/index.js';
import { mostRestChecks } from '../../model/index.js';
import {
  type CalmCheck,
  type CalmDevice,
  type CalmSleep,
  checked,
  sleepAfter,
  woken,
} from './calm-device.js';
import { decisionsFrom } from './decisions.js';

/** A gap after a check that read shut. */
export interface RestGap {
  readonly sleep: CalmSleep;
  /** What the heartbeat's clock reads at its check, as its send begins where there is one. */
  readonly readingMs: number;
  /** So many gaps are like this one: no heartbeat falls due before a decision. */
  readonly count: number;
}

export function restGaps(device: CalmDevice): readonly RestGap[] {
  const beats = device.heartbeatMs !== Number.POSITIVE_INFINITY;
  const neededMs = new Map<number, number>();
  const rounds = new Map<number, number>();
  const gaps: RestGap[] = [];
  let awake = woken(device, device.table.initial, 'power-on');
  let readingMs = device.bootMs;
  for (let checks = 0; ; checks += 1) {
    invariant(checks < mostRestChecks, 'a device at rest repeats itself', { checks });
    const check = checked(device, awake, { open: false, due: readingMs >= device.heartbeatMs });
    const sleep = sleepAfter(device, check);
    invariant(sleep !== null, 'a device at rest sleeps', { state: check.state });
    if (sleep.beats) readingMs = 0;
    if (!beats || sleep.beats) {
      const from = rounds.get(check.state);
      if (from !== undefined) return gaps.slice(from);
      rounds.set(check.state, gaps.length);
    }
    join(
      gaps,
      { sleep, readingMs, count: 1 },
      likeBefore(device, neededMs, { check, sleep, readingMs }),
    );
    awake = woken(device, sleep.state, 'timer');
    readingMs += sleep.fromMs + sleep.countedMs + device.bootMs;
  }
}

/** Counts a gap with the one before where they are alike in all that matters. */
function join(gaps: RestGap[], gap: RestGap, undisturbed: boolean): void {
  const before = gaps.at(-1);
  if (
    undisturbed &&
    before?.sleep.state === gap.sleep.state &&
    !before.sleep.beats &&
    !gap.sleep.beats
  ) {
    gaps[gaps.length - 1] = { ...before, count: before.count + 1 };
  } else {
    gaps.push(gap);
  }
}

/** Whether no heartbeat falls due between a check at rest and the decision on an opening after it. */
function likeBefore(
  device: CalmDevice,
  neededMs: Map<number, number>,
  at: { readonly check: CalmCheck; readonly sleep: CalmSleep; readonly readingMs: number },
): boolean {
  const { sleep, readingMs } = at;
  const known = neededMs.get(sleep.state);
  if (known !== undefined) return readingMs + known < device.heartbeatMs;
  const silent = { ...device, heartbeatMs: Number.POSITIVE_INFINITY };
  const alike = { openings: 1, leastReadingMs: 0, mostReadingMs: 0 };
  const decisions = decisionsFrom(silent, woken(device, sleep.state, 'timer'), alike);
  const needed = sleep.countedMs + device.bootMs + itemAt(decisions, 0).countedMs;
  neededMs.set(sleep.state, needed);
  return readingMs + needed < device.heartbeatMs;
}
