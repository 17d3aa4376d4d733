// From the end of a sleep to a check, and the faults that cut any stretch of time short and lead to a wake, too.
import { inputCode, wokenState } from '../machine/index.js';
import { check, nextState, type Readings, type Sink } from './checks.js';
import { momentOrStretch } from './times.js';
import {
  afterAll,
  type Draft,
  draftOf,
  type Model,
  note,
  type Step,
  type Track,
  take,
  warningAtRest,
} from './track.js';

/** A stretch of time that a fault may cut short. */
export interface Stretch {
  readonly what: 'boot' | 'send' | 'wait' | 'part of a sleep' | 'held';
  readonly leastMs: number;
  readonly mostMs: number;
  /** What must hold, and is so, as the fault strikes. */
  readonly then: readonly Step[];
}

/** The device wakes; every check that can follow. */
export function wake(
  sink: Sink,
  asleep: Track,
  cause: 'power-on' | 'reset' | 'timer' | 'contact',
  readings: Readings = 'any',
): void {
  const { bootMs } = sink.model.times;
  const awake = draftOf(asleep);
  awake.state = wokenState(sink.model.table, asleep.state, inputCode.wake[cause]);
  note(awake, cause);
  strike(sink, awake, { what: 'boot', leastMs: 1, mostMs: bootMs.most, then: [] });
  // With no boot time at all the check reads what woke the device; with some, the door may have moved on.
  const parts = readings === 'any' ? [bootMs] : momentOrStretch(bootMs);
  for (const { least, most } of parts) {
    const booted = draftOf(awake);
    take(booted, { op: 'advance', what: 'boot', leastMs: least, mostMs: most });
    check(sink, booted, most === 0 ? readings : 'any');
  }
}

/** Resets and power losses that cut a stretch of time short. */
export function strike(sink: Sink, track: Track, stretch: Stretch): void {
  if (stretch.mostMs < stretch.leastMs) return;
  const { keeping, clearing } = sink.model.resets;
  if (track.resetsLeft > 0 && keeping !== null) {
    const cut = cutShort(track, stretch);
    if (cut !== null) {
      cut.resetsLeft -= 1;
      wake(sink, cut, 'reset');
    }
  }
  // Before the opening lost memory only leads back to the first power-on, with less left to do harm.
  if (track.phase === 'before') return;
  if (track.resetsLeft > 0 && clearing !== null) resetClearing(sink, track, stretch);
  if (track.lossesLeft > 0) losePower(sink, track, stretch);
}

function cutShort(track: Track, { what, leastMs, mostMs, then }: Stretch) {
  return afterAll(track, [{ op: 'advance', what, leastMs, mostMs }, ...then]);
}

/** A reset that clears retained memory: the device starts as after a power loss, at once. */
function resetClearing(sink: Sink, track: Track, stretch: Stretch): void {
  const cut = cutShort(track, stretch);
  if (cut === null) return;
  loseMemory(sink.model, cut);
  cut.resetsLeft -= 1;
  note(cut, 'memory lost');
  take(cut, { op: 'restart', clocks: ['heartbeat'] });
  wake(sink, cut, 'reset');
}

function loseMemory(model: Model, draft: Draft): void {
  draft.state = nextState(model, draft.state, inputCode.powerLost);
  draft.heartbeatDue = false;
  if (draft.beat === 'once') draft.beat = 'late';
  draft.warning = warningAtRest(model);
  if (draft.phase === 'decided') draft.phase = 'during';
}

function losePower(sink: Sink, track: Track, stretch: Stretch): void {
  const { model } = sink;
  const dark = cutShort(track, stretch);
  if (dark === null) return;
  loseMemory(model, dark);
  dark.lossesLeft -= 1;
  note(dark, 'power lost');
  const { longestPowerLossMs } = model.environment;
  take(dark, { op: 'advance', what: 'off', leastMs: 1, mostMs: longestPowerLossMs });
  take(dark, { op: 'restart', clocks: ['heartbeat'] });
  wake(sink, dark, 'power-on');
}
