// Where the contact of a run reads shut though the door is open: as long as the run needs it, and no longer.
import { trueMs } from '../base/index.js';
import type { ContactFault } from '../world/index.js';
import type { Model, Moment } from './track.js';
import type { Run } from './witness.js';

/** The contact's faults in a run. */
export function contactFaultsOf(model: Model, run: Run): readonly ContactFault[] {
  const spans = model.wakeOn === 'timer' ? atChecks(run) : betweenEdges(model, run);
  return spans.map(([fromMs, toMs]) => ({
    fromMs: trueMs(fromMs),
    toMs: trueMs(toMs),
    reads: { kind: 'stuck', at: 'shut' },
  }));
}

/** Nothing wakes the device but its timer: the contact matters at the checks only. */
function atChecks({ moments }: Run): (readonly [number, number])[] {
  return moments
    .filter(({ moment }) => moment === 'reads shut wrongly')
    .map(({ atMs }) => [atMs, atMs + 1]);
}

const wakes: ReadonlySet<Moment> = new Set<Moment>(['timer', 'contact', 'reset', 'power-on']);

/** Its edges wake the device, too: it reads shut from where the run says on, up to where it wakes by it. */
function betweenEdges({ wakeOn }: Model, run: Run): (readonly [number, number])[] {
  const spans: (readonly [number, number])[] = [];
  let since: number | null = null;
  let wokeAtMs = 0;
  const returns = (atMs: number): void => {
    if (since !== null) spans.push([since, Math.max(atMs, since + 1)]);
    since = null;
  };
  for (const { atMs, moment } of run.moments) {
    if (wakes.has(moment)) wokeAtMs = atMs;
    if (moment === 'begun unseen') since = run.opensAtMs;
    if (moment === 'contact' && atMs > run.opensAtMs) {
      if (since !== null) returns(atMs);
      else if (wakeOn === 'opening') spans.push([atMs - 1, atMs]);
      else since = atMs;
    }
    if (moment === 'reads shut wrongly' || moment === 'asleep, contact shut') since ??= atMs;
    if (moment === 'reads open') returns(wokeAtMs);
    if (moment === 'asleep, contact open') returns(atMs);
  }
  returns(run.endMs + 1);
  return spans;
}
