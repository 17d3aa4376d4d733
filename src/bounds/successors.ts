// From one check to every possible next one: the door and the environment are the adversary, the watch is not.
import { sendIn } from '../sim/index.js';
import { type Checked, emptySink, type Runs } from './checks.js';
import { send } from './sends.js';
import { fallAsleep } from './sleeps.js';
import type { Model, Track } from './track.js';
import { wake } from './wakes.js';

/** The first checks of a device that gets its power. */
export function firstChecks(model: Model, off: Track): readonly Checked[] {
  const sink = emptySink(model);
  wake(sink, off, 'power-on');
  return sink.checks;
}

/** Every run from a check on, in an order that is the same each time. */
export function runsFrom(model: Model, from: Checked): Runs {
  const sink = emptySink(model);
  const kind = sendIn(from.effects);
  if (kind !== null) send(sink, from, kind);
  else fallAsleep(sink, from, { effects: from.effects, contactOpen: from.readsOpen });
  return sink;
}
