// How a watch that contact edges wake can wake from one sleep: by its timer, by an edge of the door before the
// opening under study, or by that opening itself. An edge counts only after the device fell asleep and before its
// timer is due.
import type { SleepRange } from './environment.js';
import type { Readings } from './successors.js';
import { afterAll, type Model, mark, type Step, type Track } from './track.js';

interface Woken {
  readonly track: Track;
  readonly cause: 'timer' | 'contact';
  readonly readings: Readings;
}

interface Sleep {
  readonly which: 0 | 1 | 2;
  readonly range: SleepRange;
  readonly doorOpen: boolean | null;
}

/** Every way to wake from a sleep before the opening under study, or with it. */
export function edgeWakes(model: Model, track: Track, sleep: Sleep): readonly Woken[] {
  const doors = sleep.doorOpen === null ? [false, true] : [sleep.doorOpen];
  return doors.flatMap((doorOpen) => {
    const asleep = mark(track, doorOpen ? 'asleep, door open' : 'asleep, door shut');
    return track.phase === 'before'
      ? wakesBefore(model, asleep, { ...sleep, doorOpen })
      : wakesStarting(model, asleep, { ...sleep, doorOpen });
  });
}

interface SleepOf extends Sleep {
  readonly doorOpen: boolean;
}

function cut(sleep: SleepOf, leastMs: number): Step {
  return {
    op: 'advance',
    what: 'part of a sleep',
    leastMs,
    mostMs: sleep.range.mostMs - 1,
    ofMs: sleep.range.mostMs,
  };
}

function wokenBy(track: Track, steps: readonly Step[], by: Omit<Woken, 'track'>): readonly Woken[] {
  const woken = afterAll(track, steps);
  return woken === null ? [] : [{ track: woken, ...by }];
}

function wakesBefore(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const slept: Step = { op: 'sleep', which: sleep.which, range: sleep.range };
  // Waking on opening alone, a door that is open must shut before it can open again.
  const firstEdgeMs = model.wakeOn === 'opening' && sleep.doorOpen ? 2 : 1;
  const toOpen = model.wakeOn === 'opening' || !sleep.doorOpen;
  return [
    ...wokenBy(track, [slept], { cause: 'timer', readings: 'any' }),
    ...(sleep.range.mostMs - 1 < firstEdgeMs
      ? []
      : wokenBy(track, [cut(sleep, firstEdgeMs)], {
          cause: 'contact',
          readings: readingsAfterEdge(model, toOpen),
        })),
  ];
}

/** Without boot time the check reads what the edge led to; with some, the door may have moved on. */
function readingsAfterEdge(model: Model, toOpen: boolean): Readings {
  if (model.times.bootMs.most > 0) return 'any';
  return toOpen ? 'open' : 'shut';
}

function wakesStarting(model: Model, track: Track, sleep: SleepOf): readonly Woken[] {
  const slept: Step = { op: 'sleep', which: sleep.which, range: sleep.range };
  const open: Step = { op: 'at least', clock: 'opening', value: 0 };
  const mustShutFirst = sleep.doorOpen;
  const anyChange = model.wakeOn === 'any-change';
  const ways: Woken[] = [];
  // Begun during the send: its edge found the device awake.
  if (mustShutFirst)
    ways.push(...wokenBy(track, [open, slept], { cause: 'timer', readings: 'any' }));
  const notYet: Step = { op: 'at most', clock: 'opening', value: mustShutFirst ? -2 : -1 };
  if (sleep.range.mostMs > 1 && !(anyChange && mustShutFirst)) {
    ways.push(
      ...wokenBy(
        track,
        [notYet, cut(sleep, 1), { op: 'at most', clock: 'opening', value: 0 }, open],
        { cause: 'contact', readings: 'any' },
      ),
    );
  }
  // In its timer wake's boot.
  const byTimer: Step = {
    op: 'at most',
    clock: 'opening',
    value: anyChange && mustShutFirst ? -1 : 0,
  };
  ways.push(...wokenBy(track, [notYet, slept, byTimer], { cause: 'timer', readings: 'any' }));
  // In the boot of a wake by an earlier edge, which must be undone first.
  const earlier: Step = {
    op: 'at most',
    clock: 'opening',
    value: anyChange && mustShutFirst ? -1 : -2,
  };
  const firstEdgeMs = mustShutFirst && !anyChange ? 2 : 1;
  if (sleep.range.mostMs > firstEdgeMs) {
    ways.push(
      ...wokenBy(track, [notYet, cut(sleep, firstEdgeMs), earlier], {
        cause: 'contact',
        readings: 'any',
      }),
    );
  }
  return ways;
}
