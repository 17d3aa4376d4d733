// The world in which a run happens: the door moves only when the device must find something else, the
// environment strikes only where the run says.
import { invariant, trueMs } from '../base/index.js';
import { clockErrorsOf, type TimingRanges } from '../model/index.js';
import {
  type ClockError,
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  type ResetEffect,
  spansOf,
  type VaryingMs,
  type World,
  withFaults,
} from '../world/index.js';
import type { RunWorld } from './answer.js';
import { contactFaultsOf } from './run-contact.js';
import type { Model } from './track.js';
import type { Run } from './witness.js';

/** After the end of the run the timeline goes on to the next whole minute at least this far off. */
const restMs = 1_000;

/**
 * @param on.lastsMs how long the opening under study lasts; Infinity: for ever.
 * @param on.ranges what the device's times may be: the run keeps those that it had no choice of.
 * @param on.powerOnAtMs when the device gets its power for the first time; default 0.
 */
export function runWorld(
  model: Model,
  from: Run,
  on: {
    readonly lastsMs: number;
    readonly ranges: TimingRanges;
    readonly powerOnAtMs?: number;
  },
): RunWorld {
  const powerOnAtMs = on.powerOnAtMs ?? 0;
  const run = delayed(from, powerOnAtMs);
  const openings = spansOf(doorOf(model, run, run.opensAtMs + on.lastsMs));
  const lengthMs = Math.ceil((run.endMs + restMs) / 60_000) * 60_000;
  const faults = contactFaultsOf(model, run);
  return {
    world: {
      lengthMs: trueMs(lengthMs),
      openings,
      contact: withFaults(idealContactEdges(openings), faults, ''),
      networkDown: spansOf(outagesOf(run)),
      powerLost: spansOf(powerOf(run)),
      ...resetsOf(model, run),
      powerOnAtMs: trueMs(powerOnAtMs),
      ...lowOf(run),
    },
    timing: timingOf(model, run, on.ranges),
    contactFaults: faults,
  };
}

/** A run that starts later. */
function delayed(run: Run, byMs: number): Run {
  return {
    ...run,
    moments: run.moments.map(({ atMs, moment }) => ({ atMs: atMs + byMs, moment })),
    opensAtMs: run.opensAtMs + byMs,
    endMs: run.endMs + byMs,
  };
}

/** Each from the first send that met it to just after its last, or to where a wait for the network ended. */
function outagesOf({ moments }: Run): (readonly [number, number])[] {
  const spans: (readonly [number, number])[] = [];
  let sinceMs = 0;
  for (const { atMs, moment } of moments) {
    if (moment === 'outage begins') {
      sinceMs = atMs;
      spans.push([sinceMs, atMs + 1]);
    }
    if (moment === 'waits' || moment === 'failed') spans[spans.length - 1] = [sinceMs, atMs + 1];
    if (moment === 'down until now') spans[spans.length - 1] = [sinceMs, atMs];
  }
  return spans;
}

/** The battery counts as low at just the checks that are to find it so. */
function lowOf({ moments }: Run): Pick<World, 'batteryLow'> {
  const low = moments.filter(({ moment }) => moment === 'battery low');
  if (low.length === 0) return {};
  return { batteryLow: spansOf(low.map(({ atMs }) => [atMs, atMs + 1])) };
}

/** A reset that needs memory lost is of a kind that may clear it; any other is of one that may keep it. */
function resetsOf({ resets }: Model, { moments }: Run): Pick<World, 'resetsMs' | 'resetEffects'> {
  const atMs: number[] = [];
  const effects: ResetEffect[] = [];
  moments.forEach(({ atMs: resetMs, moment }, index) => {
    if (moment !== 'reset') return;
    const clears = moments[index - 1]?.moment === 'memory lost';
    const kind = clears ? resets.clearing : resets.keeping;
    invariant(kind !== null, 'a run has only resets that can be', { resetMs, clears });
    atMs.push(resetMs);
    effects.push({ kind, clears });
  });
  return { resetsMs: Float64Array.from(atMs), resetEffects: effects };
}

function powerOf({ moments }: Run): (readonly [number, number])[] {
  const spans: (readonly [number, number])[] = [];
  let lostMs: number | null = null;
  for (const { atMs, moment } of moments) {
    if (moment === 'power lost') lostMs = atMs;
    if (moment === 'power-on' && lostMs !== null) {
      spans.push([lostMs, atMs]);
      lostMs = null;
    }
  }
  return spans;
}

/** The door's openings: before the one under study it moves as late as the run lets it. */
function doorOf({ wakeOn }: Model, run: Run, shutsAtMs: number): (readonly [number, number])[] {
  const spans: (readonly [number, number])[] = [];
  let isOpen = false;
  let movedAtMs = 0;
  let asleepAtMs = 0;
  const move = (open: boolean, atMs: number): void => {
    // Where it stays open the two parts touch, and are one span.
    if (isOpen) spans.push([movedAtMs, atMs]);
    isOpen = open;
    movedAtMs = atMs;
  };
  for (const { atMs, moment } of run.moments) {
    if (atMs >= run.opensAtMs) break;
    if (moment === 'reads open') move(true, atMs);
    if (moment === 'reads shut') move(false, atMs);
    if (moment === 'asleep, door open' || moment === 'asleep, door shut') {
      move(moment === 'asleep, door open', atMs);
      asleepAtMs = atMs;
    }
    if (moment === 'contact') {
      if (wakeOn === 'any-change') move(!isOpen, atMs);
      else {
        move(false, asleepAtMs + 1);
        move(true, atMs);
      }
    }
  }
  move(false, run.opensAtMs - 1);
  return [...spans, [run.opensAtMs, shutsAtMs]];
}

/** Times that the run chose, one by one; those it had no choice of stay as they are. */
export function timingOf({ times }: Model, run: Run, ranges: TimingRanges): DeviceTiming {
  const listed = (list: Run['bootMs'], range: { least: number; most: number }): VaryingMs =>
    range.least === range.most || list.length === 0
      ? { kind: 'fixed', ms: trueMs(range.most) }
      : { kind: 'inTurn', ms: list };
  const clockVaries = times.sleeps.some((sleep) => sleep.leastMs !== sleep.mostMs);
  return deviceTiming({
    bootTime: listed(run.bootMs, times.bootMs),
    connectTime: listed(run.connectMs, times.connectMs),
    joinWaitMs: times.joinWaitMs,
    clockError: clockVaries ? { kind: 'sleeps', ms: run.sleepMs } : steadyError(ranges),
  });
}

/** An error that makes every sleep the same: where it may differ all the same, the device counts nominal lengths. */
function steadyError({ clockError }: TimingRanges): ClockError {
  const { least, most } = clockErrorsOf(clockError);
  return least === most ? { kind: 'fixed', ppm: least } : { kind: 'inTurn', ppm: [least] };
}
