// How a check ends: in sleep, which its timer, a contact edge or a fault ends, or awake until a reset.
import { sleepIn } from '../machine/index.js';
import type { Sink } from './checks.js';
import { cutByFault, edgeWakes, type Sleep } from './edges.js';
import { draftOf, type Track, take, warningAtRest } from './track.js';
import { strike, wake } from './wakes.js';

/** @param end.contactOpen what the contact reads as the device falls asleep; null: either, after a send that took time. */
export function fallAsleep(
  sink: Sink,
  track: Track,
  end: { readonly effects: number; readonly contactOpen: boolean | null },
): void {
  const { model } = sink;
  const which = sleepIn(end.effects) ?? 0;
  const range = model.times.sleeps[which];
  const sleep: Sleep = { which, range, contactOpen: end.contactOpen };
  for (const cut of cutByFault(model, track, sleep)) {
    const { mostMs } = range;
    strike(sink, cut.track, { what: 'part of a sleep', leastMs: 1, mostMs, then: cut.then });
  }
  const { environment, wakeOn } = model;
  const doorMoves = track.phase === 'before' || track.phase === 'starting';
  const contactMoves = environment.longestChatterMs > 0 && track.chatter !== 'spent';
  if (wakeOn !== 'timer' && (doorMoves || contactMoves)) {
    for (const woken of edgeWakes(model, track, sleep)) {
      wake(sink, woken.track, woken.cause, woken.readings);
    }
    return;
  }
  const slept = draftOf(track);
  take(slept, { op: 'sleep', which, range });
  wake(sink, slept, 'timer');
}

/** Awake until a reset, if ever one comes. */
export function hold(sink: Sink, from: Track): void {
  const held = draftOf(from);
  // It may hold for as long as it takes until another heartbeat is due.
  if (held.beat === 'late') held.beat = 'once';
  held.warning = warningAtRest(sink.model);
  if (held.phase !== 'before') sink.stuck.push(held);
  // Timers may run out while it holds, or not: no later check can tell more.
  const { cooldownMs, heartbeatMs } = sink.model.times;
  const longestMs =
    heartbeatMs === Number.POSITIVE_INFINITY ? cooldownMs : cooldownMs + heartbeatMs;
  strike(sink, held, { what: 'held', leastMs: 1, mostMs: longestMs + 1, then: [] });
}
