// From a run of the search to a timeline that replays it to the millisecond: one reading of the clocks is picked
// at its end, and walked back step by step to the first power-on.
import { invariant, itemAt, type TrueMs, trueMs } from '../base/index.js';
import type { Found } from './search.js';
import { type Model, type Moment, type Step, stepsOf, stepZone } from './track.js';
import {
  advancesTo,
  type ClockName,
  clock,
  greatest,
  least,
  readingsFor,
  type Zone,
  zeroZone,
} from './zone.js';

/** A run with every duration fixed. Instants count from the first power-on. */
export interface Run {
  readonly moments: readonly { readonly atMs: number; readonly moment: Moment }[];
  /** When the opening under study begins. */
  readonly opensAtMs: number;
  readonly endMs: number;
  readonly bootMs: readonly TrueMs[];
  readonly connectMs: readonly TrueMs[];
  readonly sleepMs: readonly TrueMs[];
}

const trueClocks: readonly boolean[] = [false, true, true, true, false, false];
const deviceClocks: readonly boolean[] = [false, false, false, false, true, true];
const allClocks: readonly boolean[] = [false, true, true, true, true, true];

/**
 * Fixes the durations of a found run so that the opening's clock ends on its extreme.
 * @throws InvariantError when the run's zones hold that reading and no one run reaches it.
 */
export function runOf(model: Model, found: Found, seek: 'greatest' | 'least'): Run {
  const run = runIfAny(model, found, seek);
  invariant(run !== null, 'the zones of a found run hold a run', { seek });
  return run;
}

/** The same; null where no one run reaches the extreme. */
export function runIfAny(
  model: Model,
  found: Pick<Found, 'track' | 'parent'>,
  seek: 'greatest' | 'least',
): Run | null {
  return runAlong(model, stepsTo(found), seek);
}

/** A run that takes these steps; null where none does. */
export function runAlong(
  model: Model,
  steps: readonly Step[],
  seek: 'greatest' | 'least',
): Run | null {
  const durations = durationsAlong(steps, seek);
  return durations === null ? null : layOut(model, steps, durations);
}

/** How long each of these steps lasts in such a run. */
export function durationsAlong(
  steps: readonly Step[],
  seek: 'greatest' | 'least',
): Durations | null {
  const zones: Zone[] = [zeroZone()];
  for (const step of steps) {
    const zone = stepZone(zones.at(-1) ?? zeroZone(), step);
    if (zone === null) return null;
    zones.push(zone);
  }
  return walkBack(zones, steps, seek);
}

/** The steps from the first power-on to what a search found. */
export function stepsTo(found: Pick<Found, 'track' | 'parent'>): readonly Step[] {
  const chains = [stepsOf(found.track.steps)];
  for (let node = found.parent; node !== null; node = node.parent) {
    chains.push(stepsOf(node.at.steps));
  }
  return chains.reverse().flat();
}

export interface Durations {
  readonly lastedMs: readonly number[];
  /** Reading of the opening's clock as the opening is planned. */
  readonly plannedMs: number;
}

function walkBack(
  zones: readonly Zone[],
  steps: readonly Step[],
  seek: 'greatest' | 'least',
): Durations | null {
  const last = zones.at(-1) ?? zeroZone();
  const extreme = seek === 'greatest' ? greatest(last, 'opening') : least(last, 'opening');
  let point: Point = [0, extreme, null, null, null, null];
  const lastedMs: number[] = [];
  let plannedMs = 0;
  for (let index = steps.length - 1; index >= 0; index -= 1) {
    const step = steps[index];
    const before = zones[index];
    invariant(step !== undefined && before !== undefined, 'every step has a zone before it');
    if (step.op === 'begin') plannedMs = point[clock.opening] ?? 0;
    const after = zones[index + 1] ?? before;
    const back = stepBack({ before, after }, step, { point, seek });
    if (back === null) return null;
    lastedMs.push(back.lastedMs);
    point = back.point;
  }
  return { lastedMs: lastedMs.reverse(), plannedMs };
}

/** Clock readings by number, 0 first; null where the rest of the run does not depend on one. */
type Point = readonly (number | null)[];

/** The point before a step that led to `point`; a clock gets a reading where the step looks at it. */
function stepBack(
  zones: { readonly before: Zone; readonly after: Zone },
  step: Step,
  at: { readonly point: Point; readonly seek: 'greatest' | 'least' },
): { readonly lastedMs: number; readonly point: Point } | null {
  const { point, seek } = at;
  switch (step.op) {
    case 'advance': {
      const range = { least: step.leastMs, most: step.mostMs };
      const lastedMs = chosen(advancesTo(zones.before, point, allClocks, range), seek);
      if (lastedMs === null) return null;
      return { lastedMs, point: moved(point, allClocks, lastedMs) };
    }
    case 'sleep': {
      const { leastMs, mostMs, countedMs } = step.range;
      const uncounted = moved(point, deviceClocks, countedMs);
      const range = { least: leastMs, most: mostMs };
      const lastedMs = chosen(advancesTo(zones.before, uncounted, trueClocks, range), seek);
      if (lastedMs === null) return null;
      return { lastedMs, point: moved(uncounted, trueClocks, lastedMs) };
    }
    case 'restart':
      return { lastedMs: 0, point: without(point, step.clocks) };
    case 'set':
    case 'copy':
    case 'free':
      return { lastedMs: 0, point: without(point, [step.clock]) };
    case 'begin':
      return { lastedMs: 0, point: without(point, ['opening']) };
    case 'at least':
    case 'at most': {
      const index = clock[step.clock];
      const known = point[index] ?? readingsFor(zones.after, index, point).least;
      return {
        lastedMs: 0,
        point: point.map((reading, other) => (other === index ? known : reading)),
      };
    }
    case 'mark':
      return { lastedMs: 0, point };
  }
}

function without(point: Point, names: readonly ClockName[]): Point {
  const free = new Set<number>(names.map((name) => clock[name]));
  return point.map((reading, index) => (free.has(index) ? null : reading));
}

function chosen(
  range: { readonly least: number; readonly most: number },
  seek: 'greatest' | 'least',
): number | null {
  if (range.least > range.most) return null;
  return seek === 'greatest' ? range.most : range.least;
}

function moved(point: Point, which: readonly boolean[], byMs: number): Point {
  return point.map((reading, index) =>
    which[index] === true && reading !== null ? reading - byMs : reading,
  );
}

interface Lists {
  readonly boot: TrueMs[];
  readonly send: TrueMs[];
  readonly sleep: TrueMs[];
}

function layOut(model: Model, steps: readonly Step[], durations: Durations): Run {
  const moments: { readonly atMs: number; readonly moment: Moment }[] = [];
  const lists: Lists = { boot: [], send: [], sleep: [] };
  let atMs = 0;
  let opensAtMs = 0;
  steps.forEach((step, index) => {
    const lastedMs = durations.lastedMs[index] ?? 0;
    if (step.op === 'begin') opensAtMs = atMs - durations.plannedMs;
    if (step.op === 'mark') moments.push({ atMs, moment: step.moment });
    if (step.op === 'sleep') lists.sleep.push(trueMs(lastedMs));
    if (step.op === 'advance')
      noteAdvance(model, lists, { step, lastedMs, cut: isCut(steps, index) });
    atMs += lastedMs;
  });
  return {
    moments,
    opensAtMs,
    endMs: atMs,
    bootMs: lists.boot,
    connectMs: lists.send,
    sleepMs: lists.sleep,
  };
}

const cuts: ReadonlySet<Moment> = new Set<Moment>(['reset', 'memory lost', 'power lost']);

/** Whether a fault ended the stretch that a step stands for. */
function isCut(steps: readonly Step[], index: number): boolean {
  for (let at = index + 1; at < steps.length; at += 1) {
    const next = itemAt(steps, at);
    if (next.op === 'advance') return false;
    if (next.op === 'mark') return cuts.has(next.moment);
  }
  return false;
}

/** A stretch that something cut short would have lasted as long as it may. */
function noteAdvance(
  { times }: Model,
  lists: Lists,
  at: {
    readonly step: Extract<Step, { op: 'advance' }>;
    readonly lastedMs: number;
    readonly cut: boolean;
  },
): void {
  const { what, ofMs, mostMs } = at.step;
  if (what === 'boot') lists.boot.push(trueMs(at.cut ? times.bootMs.most : at.lastedMs));
  if (what === 'send') lists.send.push(trueMs(at.cut ? times.connectMs.most : at.lastedMs));
  if (what === 'part of a sleep') lists.sleep.push(trueMs(ofMs ?? mostMs));
}
