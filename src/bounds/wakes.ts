// From the end of a sleep to a check, and the faults that cut any stretch of time short and lead to a wake, too.
import { inputCode } from '../machine/index.js';
import { check, nextState, type Readings, type Sink } from './checks.js';
import { momentOrStretch } from './times.js';
import { afterAll, draftOf, note, type Step, type Track, take } from './track.js';

/** A stretch of time that a fault may cut short. */
export interface Stretch {
  readonly what: 'boot' | 'send' | 'part of a sleep' | 'held';
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
  awake.state = nextState(sink.model, asleep.state, inputCode.wake[cause]);
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
  if (track.resetsLeft > 0) {
    const cut = cutShort(track, stretch);
    if (cut !== null) {
      cut.resetsLeft -= 1;
      wake(sink, cut, 'reset');
    }
  }
  // Before the opening a power loss only leads back to the first power-on, with less left to do harm.
  if (track.lossesLeft > 0 && track.phase !== 'before') losePower(sink, track, stretch);
}

function cutShort(track: Track, { what, leastMs, mostMs, then }: Stretch) {
  return afterAll(track, [{ op: 'advance', what, leastMs, mostMs }, ...then]);
}

function losePower(sink: Sink, track: Track, stretch: Stretch): void {
  const { model } = sink;
  const dark = cutShort(track, stretch);
  if (dark === null) return;
  dark.state = nextState(model, dark.state, inputCode.powerLost);
  dark.lossesLeft -= 1;
  dark.heartbeatDue = false;
  if (dark.beat === 'once') dark.beat = 'late';
  if (dark.phase === 'decided') dark.phase = 'during';
  note(dark, 'power lost');
  const { longestPowerLossMs } = model.environment;
  take(dark, { op: 'advance', what: 'off', leastMs: 1, mostMs: longestPowerLossMs });
  take(dark, { op: 'restart', clocks: ['heartbeat'] });
  wake(sink, dark, 'power-on');
}
