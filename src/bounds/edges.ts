// How a watch that contact edges wake can wake from one sleep: by its timer, by an edge of the door before the
// opening under study, by that opening itself, or by a contact that chatters within it. An edge counts only after
// the device fell asleep and before its timer is due.
import { pushAll } from '../base/index.js';
import type { SleepRange } from '../model/index.js';
import { type Readings, readWrongly } from './checks.js';
import { afterAll, type Draft, draftOf, type Model, note, type Step, type Track } from './track.js';

export interface Woken {
  readonly track: Draft;
  readonly cause: 'timer' | 'contact';
  /** What a check at the instant of the wake reads. */
  readonly readings: Readings;
}

export interface Sleep {
  readonly which: 0 | 1 | 2;
  readonly range: SleepRange;
  /** What the contact reads as the device falls asleep; null: either. */
  readonly contactOpen: boolean | null;
}

interface SleepOf extends Sleep {
  readonly contactOpen: boolean;
}

/** Every way to wake from a sleep. */
export function edgeWakes(model: Model, track: Track, sleep: Sleep): readonly Woken[] {
  const readings = sleep.contactOpen === null ? [false, true] : [sleep.contactOpen];
  return readings.flatMap((contactOpen) => {
    const asleep = draftOf(track);
    if (track.phase === 'before') {
      note(asleep, contactOpen ? 'asleep, door open' : 'asleep, door shut');
      return wakesBefore(model, asleep, { ...sleep, contactOpen });
    }
    if (track.phase === 'starting') {
      note(asleep, contactOpen ? 'asleep, door open' : 'asleep, door shut');
      return wakesStarting(model, asleep, { ...sleep, contactOpen });
    }
    return wakesDuring(model, asleep, { ...sleep, contactOpen });
  });
}

function sleptThrough(sleep: Sleep): Step {
  return { op: 'sleep', which: sleep.which, range: sleep.range };
}

function cut(sleep: Sleep, leastMs: number): Step {
  const { mostMs } = sleep.range;
  return { op: 'advance', what: 'part of a sleep', leastMs, mostMs: mostMs - 1, ofMs: mostMs };
}

function wokenBy(track: Track, steps: readonly Step[], by: Omit<Woken, 'track'>): readonly Woken[] {
  const woken = afterAll(track, steps);
  return woken === null ? [] : [{ track: woken, ...by }];
}

const byTimer = { cause: 'timer', readings: 'any' } as const;

/** An edge at least `afterMs` after falling asleep wakes the device; nothing when its sleep is too short. */
function byEdge(
  track: Track,
  sleep: Sleep,
  edge: { readonly afterMs: number; readonly toOpen: boolean; readonly then: readonly Step[] },
): readonly Woken[] {
  if (sleep.range.mostMs - 1 < edge.afterMs) return [];
  return wokenBy(track, [cut(sleep, edge.afterMs), ...edge.then], {
    cause: 'contact',
    readings: edge.toOpen ? 'open' : 'shut',
  });
}

function wakesBefore(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  // Waking on opening alone, a door that is open must shut before it can open again.
  const afterMs = model.wakeOn === 'opening' && sleep.contactOpen ? 2 : 1;
  const toOpen = model.wakeOn === 'opening' || !sleep.contactOpen;
  return [
    ...wokenBy(track, [sleptThrough(sleep)], byTimer),
    ...byEdge(track, sleep, { afterMs, toOpen, then: [] }),
  ];
}

function wakesStarting(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const anyChange = model.wakeOn === 'any-change';
  const mustShutFirst = sleep.contactOpen;
  const slept = sleptThrough(sleep);
  const ways: Woken[] = begunAwake(model, track, sleep);
  const notYet: Step = { op: 'at most', clock: 'opening', value: mustShutFirst ? -2 : -1 };
  const planned = afterAll(track, [notYet]);
  if (planned === null) return ways;
  // By the opening itself. Any change would have woken it as the earlier opening shut.
  if (!(anyChange && mustShutFirst)) {
    const then = exactly('opening', 0);
    pushAll(ways, byEdge(planned, sleep, { afterMs: 1, toOpen: true, then }));
    pushAll(ways, begunUnseen(model, planned, sleep));
  }
  // In its timer wake's boot; where any change wakes, an earlier opening has to shut in that boot first.
  const latest: Step = {
    op: 'at most',
    clock: 'opening',
    value: anyChange && mustShutFirst ? -1 : 0,
  };
  pushAll(ways, wokenBy(planned, [slept, latest], byTimer));
  // In the boot of a wake by an earlier edge, which must be undone first.
  const toOpen = !(anyChange && mustShutFirst);
  const earlier: Step = { op: 'at most', clock: 'opening', value: toOpen ? -2 : -1 };
  const afterMs = mustShutFirst && !anyChange ? 2 : 1;
  pushAll(ways, byEdge(planned, sleep, { afterMs, toOpen, then: [earlier] }));
  return ways;
}

function exactly(clock: 'opening', value: number): readonly Step[] {
  return [
    { op: 'at most', clock, value },
    { op: 'at least', clock, value },
  ];
}

/** The opening began during the send: its edge found the device awake. */
function begunAwake(model: Model, track: Track, sleep: SleepOf): Woken[] {
  const begun = afterAll(track, [{ op: 'at least', clock: 'opening', value: 0 }]);
  if (begun === null) return [];
  begun.phase = 'during';
  return [...wakesDuring(model, begun, sleep)];
}

/** The opening begins while the device sleeps, and the contact goes on reading shut. */
function begunUnseen(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const { longestChatterMs } = model.environment;
  if (longestChatterMs === 0 || track.chatter !== 'unused') return [];
  const unseen = unseenUpTo(longestChatterMs);
  const ways = [
    ...wokenBy(track, [sleptThrough(sleep), ...unseen], byTimer),
    ...byEdge(track, sleep, { afterMs: 2, toOpen: true, then: unseen }),
  ];
  for (const { track: woken } of ways) {
    note(woken, 'begun unseen');
    woken.chatter = 'active';
    woken.phase = 'during';
  }
  return ways;
}

/** The opening has begun before this instant, and the contact has read shut ever since. */
function unseenUpTo(longestChatterMs: number): readonly Step[] {
  return [
    { op: 'at least', clock: 'opening', value: 1 },
    { op: 'at most', clock: 'opening', value: longestChatterMs },
    { op: 'copy', clock: 'chatter', from: 'opening' },
  ];
}

function wakesDuring(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  return sleep.contactOpen
    ? wakesReadingOpen(model, track, sleep)
    : wakesReadingShut(model, track, sleep);
}

/** The contact reads open; where it chatters it can wake the device. */
function wakesReadingOpen(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const { longestChatterMs } = model.environment;
  const asleep = draftOf(track);
  note(asleep, 'asleep, contact open');
  const ways = [...wokenBy(asleep, [sleptThrough(sleep)], byTimer)];
  if (longestChatterMs === 0 || asleep.chatter === 'spent') return ways;
  const toOpen = model.wakeOn === 'opening';
  // To wake by opening the contact has read shut a millisecond before; any change wakes as it goes shut.
  const wrongForMs = toOpen ? 1 : 0;
  const then: Step =
    asleep.chatter === 'unused'
      ? { op: 'set', clock: 'chatter', value: wrongForMs }
      : { op: 'at most', clock: 'chatter', value: longestChatterMs - 1 + wrongForMs };
  for (const woken of byEdge(asleep, sleep, { afterMs: 1 + wrongForMs, toOpen, then: [then] })) {
    woken.track.chatter = 'active';
    ways.push(woken);
  }
  return ways;
}

/** The contact reads shut though the door is open; it wakes the device as it returns. */
function wakesReadingShut(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const wrong = draftOf(track);
  if (!readWrongly(model, wrong)) return [];
  note(wrong, 'asleep, contact shut');
  const { longestChatterMs } = model.environment;
  const then: readonly Step[] = [{ op: 'at most', clock: 'chatter', value: longestChatterMs }];
  return [
    ...wokenBy(wrong, [sleptThrough(sleep), ...then], byTimer),
    ...byEdge(wrong, sleep, { afterMs: 1, toOpen: true, then }),
  ];
}

/**
 * A sleep that a fault cuts short, with what must be so at the fault. Where edges wake the device, the opening under
 * study has begun before the sleep, or does not begin until the fault, or begins unseen.
 */
export function cutByFault(
  model: Model,
  track: Track,
  sleep: Sleep,
): readonly { readonly track: Track; readonly then: readonly Step[] }[] {
  if (model.wakeOn === 'timer' || track.phase === 'before') return [{ track, then: [] }];
  const { longestChatterMs } = model.environment;
  if (track.phase !== 'starting') {
    if (sleep.contactOpen !== false) return [{ track, then: [] }];
    return [{ track, then: [{ op: 'at most', clock: 'chatter', value: longestChatterMs }] }];
  }
  const cuts: { readonly track: Track; readonly then: readonly Step[] }[] = [];
  const begun = afterAll(track, [{ op: 'at least', clock: 'opening', value: 0 }]);
  if (begun !== null) {
    begun.phase = 'during';
    cuts.push({ track: begun, then: [] });
  }
  const mustShutAwake = model.wakeOn === 'any-change' && sleep.contactOpen === true;
  const latest = mustShutAwake ? -1 : 0;
  cuts.push({ track, then: [{ op: 'at most', clock: 'opening', value: latest }] });
  if (longestChatterMs > 0 && track.chatter === 'unused' && !mustShutAwake) {
    const unseen = draftOf(track);
    unseen.chatter = 'active';
    unseen.phase = 'during';
    cuts.push({ track: unseen, then: unseenUpTo(longestChatterMs) });
  }
  return cuts;
}
