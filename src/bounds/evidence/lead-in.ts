// A run in which a heartbeat becomes due at just the check that the search chose. Between two heartbeats the device rests
// for as many checks as it takes: of those, one more or fewer moves the heartbeat by one whole check.
import { mostWrittenRests } from '../../model/index.js';
import type { Found } from '../search.js';
import type { Model, Moment, Step } from '../track.js';
import { durationsAlong, type Run, runAlong, stepsTo } from '../witness.js';

/** The run to what a search with seldom heartbeats found; null: none was made out. */
export function ledIn(
  model: Model,
  found: Pick<Found, 'track' | 'parent'>,
  seek: 'greatest' | 'least',
): Run | null {
  let steps = stepsTo(found);
  let checkedUpTo = 0;
  for (;;) {
    const due = steps.findIndex((step, index) => index >= checkedUpTo && isDue(step));
    if (due < 0) return runAlong(model, steps, seek);
    const rests = restsBefore(model, steps, { due, seek });
    if (rests === null) return null;
    const from = placeOfRests(steps, due);
    const added = rests === 0 ? [] : Array.from({ length: rests }, () => restOf(model)).flat();
    steps = [...steps.slice(0, from), ...added, ...steps.slice(from)];
    checkedUpTo = due + added.length + 1;
  }
}

function isDue(step: Step): boolean {
  return step.op === 'at least' && step.clock === 'heartbeat';
}

function isOfHeartbeat(step: Step): boolean {
  return (step.op === 'at least' || step.op === 'at most') && step.clock === 'heartbeat';
}

/** How many checks at rest before a heartbeat make it due at its check and not before; null: no number does. */
function restsBefore(
  { times }: Model,
  steps: readonly Step[],
  { due, seek }: { readonly due: number; readonly seek: 'greatest' | 'least' },
): number | null {
  const free = steps.map((step): Step => (isOfHeartbeat(step) ? unnoticed : step));
  const lastedMs = durationsAlong(free, seek)?.lastedMs;
  if (lastedMs === undefined) return null;
  let sinceMs = 0;
  let beforeMs = 0;
  for (const [index, step] of steps.slice(0, due).entries()) {
    if (step.op === 'restart' && step.clocks.includes('heartbeat')) sinceMs = beforeMs = 0;
    if (step.op === 'at most' && step.clock === 'heartbeat') beforeMs = sinceMs;
    sinceMs += step.op === 'sleep' ? step.range.countedMs : (lastedMs[index] ?? 0);
  }
  const least = times.heartbeatMs - sinceMs;
  const most = times.heartbeatMs - 1 - beforeMs;
  const restMs = { least: times.bootMs.least, most: times.bootMs.most };
  const countedMs = times.sleeps[0].countedMs;
  const rests = Math.max(0, Math.ceil(least / (countedMs + restMs.most)));
  return rests <= mostWrittenRests && rests * (countedMs + restMs.least) <= most ? rests : null;
}

const unnoticed: Step = { op: 'mark', moment: 'send begins' };

/**
 * Before all else: the sums of the first waits come out the same in whatever order they are taken. For an opening at rest,
 * before the opening begins.
 */
function placeOfRests(steps: readonly Step[], due: number): number {
  const begins = steps.findIndex(({ op }) => op === 'begin');
  const beats = steps.findIndex(isDue);
  // An opening at rest comes after a heartbeat: what is due next is so within it.
  if (begins >= 0 && begins < due && beats < begins) return begins;
  return 0;
}

/** From one check of a shut door to the next. */
function restOf({ times, wakeOn }: Model): readonly Step[] {
  const mark = (moment: Moment): Step => ({ op: 'mark', moment });
  const { least, most } = times.bootMs;
  return [
    ...(wakeOn === 'timer' ? [] : [mark('asleep, door shut')]),
    { op: 'sleep', which: 0, range: times.sleeps[0] },
    mark('timer'),
    { op: 'advance', what: 'boot', leastMs: least, mostMs: most },
    mark('reads shut'),
  ];
}
