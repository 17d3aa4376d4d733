// Which openings the device reports at whatever phase of its checks. Each is judged in a short stretch of the timeline: from the last
// moment before it at which the device was at rest whatever came earlier, until it is at rest again.
import { cellAt, greatestOf, ppm, trueMs } from '../base/index.js';
import type { Requirements } from '../model/index.js';
import { mostStretchSteps, mostStretchTries } from '../model/index.js';
import { type EveryPhase, everyPhase, hasRanges } from '../phase/index.js';
import type { Experiment } from '../sim/index.js';
import {
  type ClockError,
  clockErrorRangeOf,
  type DeviceTiming,
  firstAfter,
  noSpans,
  type Spans,
  spansOf,
  type VaryingMs,
  type World,
} from '../world/index.js';
import { restAfterMs } from './rest.js';

/** An opening over all phases, and over the ends of the ranges of the watch file. */
export interface Expected {
  readonly isSure: boolean;
  /** Of those that deliver an alert of it; null: none does. */
  readonly greatestDelayMs: number | null;
}

export interface ExpectedAlerts {
  /** Null: judging it takes too long. */
  at(opening: number): Expected | null;
  /**
   * Whether a device that holds after an alert is sure to watch as an opening begins, if it was awake at an instant before: no alert
   * may have been sent in between, also if it was lost.
   */
  isWatching(opening: number, awakeMs: number): boolean;
}

/** @throws InvariantError on a fault of dozewatch itself. */
export function expectedAlerts(
  experiment: Experiment,
  required: Requirements,
  unseen: Spans = noSpans,
): ExpectedAlerts {
  const { world, timing, program } = experiment;
  const restMs = isWrittenOut(timing) ? null : restAfterMs(program, timing);
  const stretches = stretchesOf(world, unseen, restMs ?? Number.POSITIVE_INFINITY);
  const { most } = clockErrorRangeOf(timing.clockError);
  const quietMs = Math.ceil(program.watch.alertCooldownMs * (1 + most / 1e6)) + 2 * (restMs ?? 0);
  const judged = new Map<string, Judged | null>();
  const budget = { tries: mostStretchTries, openings: Number.POSITIVE_INFINITY };

  const judgedIn = (first: number, last: number): Judged | null => {
    const key = `${String(first)} ${String(last)}`;
    const known = judged.get(key);
    if (known !== undefined) return known;
    const part = { from: cellAt(stretches.fromMs, first), to: cellAt(stretches.toMs, last) };
    const found = judge({ experiment, required, unseen, restMs: restMs ?? 0 }, part, budget);
    judged.set(key, found);
    return found;
  };
  /** Of a stretch that begins at rest; null counts as a possible alert. */
  const mayAlert = (stretch: number): boolean => judgedIn(stretch, stretch)?.mayAlert ?? true;
  const stretchAt = (atMs: number): number => firstAfter(stretches.fromMs, atMs) - 1;
  /** The first stretch of those whose alerts may still suppress, or delay, one in this stretch. */
  const firstBefore = (stretch: number): number => {
    let first = stretch;
    for (let before = stretch - 1; before >= 0; before -= 1) {
      if (cellAt(stretches.toMs, before) + quietMs <= cellAt(stretches.fromMs, first)) break;
      if (mayAlert(before)) first = before;
    }
    return first;
  };
  return {
    at(opening) {
      const stretch = stretchAt(cellAt(world.openings.fromMs, opening));
      return judgedIn(firstBefore(stretch), stretch)?.at(opening) ?? null;
    },
    isWatching(opening, awakeMs) {
      const own = stretchAt(cellAt(world.openings.fromMs, opening));
      if (cellAt(stretches.fromMs, own) - (restMs ?? 0) < awakeMs) return false;
      for (let before = own - 1; before >= 0; before -= 1) {
        if (cellAt(stretches.toMs, before) <= awakeMs) break;
        if (mayAlert(before)) return false;
      }
      return true;
    },
  };
}

/** Times written out one by one belong to the whole timeline: no part of it can be judged alone. */
function isWrittenOut({ clockError, bootTime, connectTime }: DeviceTiming): boolean {
  const isClock = clockError.kind === 'inTurn' || clockError.kind === 'sleeps';
  return isClock || bootTime.kind === 'inTurn' || connectTime.kind === 'inTurn';
}

/** From the first to the last thing that happens with less than a rest between one and the next. */
function stretchesOf(world: World, unseen: Spans, restMs: number): Spans {
  const { contact, resetsMs, lengthMs } = world;
  const open = Array.from({ length: (contact.length + 1) >> 1 }, (_, index): Pair => {
    return [cellAt(contact, 2 * index), contact[2 * index + 1] ?? lengthMs];
  });
  const pairs: readonly Pair[] = [
    ...[world.openings, world.networkDown, world.powerLost, unseen].flatMap(pairsOf),
    ...open,
    ...Array.from(resetsMs, (atMs): Pair => [atMs, atMs + 1]),
  ];
  const spans = spansOf(
    pairs
      .map(([from, to]): Pair => [Math.max(0, from), Math.min(to, lengthMs)])
      .filter(([from, to]) => from < to),
  );
  const joined: [number, number][] = [];
  for (const [from, to] of pairsOf(spans)) {
    const last = joined.at(-1);
    if (last !== undefined && from - last[1] <= restMs) last[1] = to;
    else joined.push([from, to]);
  }
  return spansOf(joined);
}

type Pair = readonly [fromMs: number, toMs: number];

function pairsOf({ fromMs, toMs }: Spans): readonly Pair[] {
  return Array.from(fromMs, (from, index): Pair => [from, cellAt(toMs, index)]);
}

interface Judged {
  /** By the index of an opening in the whole timeline. */
  at(opening: number): Expected;
  /** Whether an alert is sent at some phase, also for a brief opening. */
  readonly mayAlert: boolean;
}

interface Asked {
  readonly experiment: Experiment;
  readonly required: Requirements;
  readonly unseen: Spans;
  readonly restMs: number;
}

/** Spent on stretches that turned out too long: what is left of it is for others, and for shorter ones. */
interface Budget {
  tries: number;
  openings: number;
}

/** @returns null: it takes too long. */
function judge(
  { experiment, required, unseen, restMs }: Asked,
  part: { readonly from: number; readonly to: number },
  budget: Budget,
): Judged | null {
  const { world } = experiment;
  const fromMs = Math.max(0, part.from - restMs);
  const toMs = Math.min(world.lengthMs, part.to + restMs);
  const cut = worldOf(world, fromMs, toMs);
  const count = cut.openings.fromMs.length;
  if (budget.tries === 0 && count >= budget.openings) return null;
  const unavailable = cutSpans(unseen, fromMs, toMs);
  const found: EveryPhase[] = [];
  for (const timing of timingsOf(experiment.timing, fromMs)) {
    const run = { ...experiment, world: cut, timing };
    const every = everyPhase(run, required, {
      wasRunning: true,
      unavailable,
      mostSteps: mostStretchSteps,
    });
    if (every === null) {
      budget.tries = Math.max(0, budget.tries - 1);
      budget.openings = Math.min(budget.openings, count);
      return null;
    }
    found.push(every);
  }
  const first = firstAfter(world.openings.fromMs, fromMs - 1);
  const indices = Array.from({ length: count }, (_, index) => index);
  return {
    at(opening) {
      const each = found.map((every) => every.openingAt(opening - first));
      const delays = each.flatMap(({ greatestDelayMs }) => greatestDelayMs ?? []);
      return {
        isSure: each.every(({ reportedShare }) => reportedShare === 1),
        greatestDelayMs: delays.length === 0 ? null : greatestOf(delays),
      };
    },
    mayAlert: found.some(
      ({ summary, openingAt }) =>
        summary.expectedFalseAlarms > 0 ||
        indices.some((index) => openingAt(index).leastDelayMs !== null),
    ),
  };
}

/** What happens from one instant, at which the door is shut, up to another. */
function worldOf(world: World, fromMs: number, toMs: number): World {
  const within = (instants: Float64Array): readonly [number, number] => [
    firstAfter(instants, fromMs - 1),
    firstAfter(instants, toMs - 1),
  ];
  const shifted = (instants: Float64Array): Float64Array =>
    instants.slice(...within(instants)).map((ms) => ms - fromMs);
  return {
    lengthMs: trueMs(toMs - fromMs),
    openings: cutSpans(world.openings, fromMs, toMs),
    contact: shifted(world.contact),
    networkDown: cutSpans(world.networkDown, fromMs, toMs),
    powerLost: cutSpans(world.powerLost, fromMs, toMs),
    resetsMs: shifted(world.resetsMs),
    ...(world.resetEffects === undefined
      ? {}
      : { resetEffects: world.resetEffects.slice(...within(world.resetsMs)) }),
    ...(world.batteryLow === undefined
      ? {}
      : { batteryLow: cutSpans(world.batteryLow, fromMs, toMs) }),
    powerOnAtMs: trueMs(0),
  };
}

/** Spans that go on beyond the end do not end. */
function cutSpans(spans: Spans, fromMs: number, toMs: number): Spans {
  const first = firstAfter(spans.toMs, fromMs);
  const end = firstAfter(spans.fromMs, toMs - 1);
  return {
    fromMs: spans.fromMs.slice(first, end).map((ms) => Math.max(0, ms - fromMs)),
    toMs: spans.toMs
      .slice(first, end)
      .map((ms) => (ms > toMs ? Number.POSITIVE_INFINITY : ms - fromMs)),
  };
}

/**
 * The corners of the ranges: a device that is sure at each of them is so in between, but for rare patterns of openings. In each run
 * all times are steady, so that phases that meet go on as one, and the work grows with the openings alone.
 */
function timingsOf(timing: DeviceTiming, fromMs: number): readonly DeviceTiming[] {
  const clocks = clocksOf(timing.clockError, fromMs);
  if (!hasRanges(timing)) return clocks.map((clockError) => ({ ...timing, clockError }));
  const [boots, connects] = [endsOf(timing.bootTime), endsOf(timing.connectTime)];
  return clocks.flatMap((clockError) =>
    boots.flatMap((bootTime) =>
      connects.map((connectTime) => ({ ...timing, clockError, bootTime, connectTime })),
    ),
  );
}

function clocksOf(error: ClockError, fromMs: number): readonly ClockError[] {
  if (error.kind === 'curve') {
    const steps = error.steps.map((step) => ({ ...step, fromMs: trueMs(step.fromMs - fromMs) }));
    return [{ kind: 'curve', steps }];
  }
  if (error.kind !== 'drawn') return [error];
  const { leastPpm, greatestPpm } = error;
  const middlePpm = ppm(Math.round((leastPpm + greatestPpm) / 2));
  // One step is one error for good, on a device that does not know it.
  return [...new Set([leastPpm, middlePpm, greatestPpm])].map((errsPpm) => ({
    kind: 'curve',
    steps: [{ fromMs: trueMs(0), ppm: errsPpm }],
  }));
}

function endsOf(varying: VaryingMs): readonly VaryingMs[] {
  if (varying.kind !== 'range') return [varying];
  const { leastMs, greatestMs } = varying;
  return [
    { kind: 'fixed', ms: leastMs },
    { kind: 'fixed', ms: greatestMs },
  ];
}
