// How steps end: from a place, so that the watch shows by messages what it has come to; and at the bounds, on both sides.
import { atLeastMs, greatestOf, itemAt, leastOf, ppm, pushAll } from '../base/index.js';
import { inputCode } from '../machine/index.js';
import { clockErrorRangeOf } from '../world/index.js';
import { withTurns } from './corners.js';
import type { Action, BoundSide, Window } from './plan.js';
import { messagesOf } from './play.js';
import { type Rehearsal, rehearse } from './rehearse.js';
import { type Move, moved, type Route, startOf, type Wait, walkedOn, workEndOf } from './route.js';
import { reactionAt, type Stage } from './stage.js';

/** A step that might be. */
export interface Candidate {
  /** What it was made on: with the usual tolerance, or a smaller one. */
  readonly stage: Stage;
  readonly actions: readonly Action[];
  readonly endsMs: number;
  /** Ranges of the messages, widened by the tolerance, to whole seconds. */
  readonly windows: readonly Window[];
  /** Numbers of the reactions that are made in it, including the reaction to the power loss at its end. */
  readonly made: ReadonlySet<number>;
  readonly bounds: readonly BoundSide[];
  /** Its waits for what is longer than a sleep. */
  readonly waits: readonly Wait[];
}

/** Candidates that go on from a place: as it is, with the door opened, with the network back, with a pause of the door. */
export function endingsOf(stage: Stage, place: Route): readonly Candidate[] {
  const { clearThreshold } = stage.question.program.watch;
  const pause = (length: number): readonly Move[] => [
    'door',
    ...Array.from({ length: length - 1 }, () => 'wait' as const),
    'door',
  ];
  const ways: readonly (readonly Move[])[] = [
    [],
    ...(place.open ? [pause(clearThreshold)] : [['door'] as const]),
    ...(place.open && clearThreshold > 1 ? [pause(clearThreshold - 1)] : []),
    ...(place.networkDown ? [['network'] as const] : []),
    ...(place.networkDown && !place.open ? [['network', 'door'] as const] : []),
  ];
  return ways.flatMap((way) => candidatesOf(stage, led(stage, place, way)));
}

/** The candidate that ends as soon as the watch had time to show what it has come to; none where that is not sure. */
export function candidatesOf(stage: Stage, route: Route | null): readonly Candidate[] {
  const { outOf } = stage.question.program.watch.escalationThreshold;
  const candidate = route === null ? null : ended(stage, route, { checks: outOf + 1, bounds: [] });
  return candidate === null ? [] : [candidate];
}

function led(stage: Stage, from: Route | null, way: readonly Move[]): Route | null {
  let route = from;
  for (const move of way) route = route === null ? null : moved(stage, route, move);
  return route;
}

/** The candidate that watches a route for some more checks; null: its result depends on chance. */
function ended(
  stage: Stage,
  route: Route,
  on: { readonly checks: number; readonly bounds: readonly BoundSide[] },
): Candidate | null {
  const { question, corners, horizonMs, noteToleranceMs } = stage;
  const { actions } = route;
  const aheadMs = workEndOf(route) + (on.checks + 1) * horizonMs;
  const ahead = rehearse(question, corners, { actions, endsMs: aheadMs });
  if (ahead === null) return null;
  const last = ahead.wakes[Math.min(route.at + on.checks, ahead.wakes.length - 1)];
  // That a device holds shows in what does not come.
  const heldMs = last?.holds === true ? on.checks * horizonMs : 0;
  const actedMs = (actions.at(-1)?.atMs ?? 0) + noteToleranceMs;
  const afterMs = Math.max(last?.workToMs ?? 0, actedMs) + heldMs;
  const endsMs = Math.ceil((afterMs + noteToleranceMs + 1_001) / 1_000) * 1_000;
  const windows = windowsOf(stage, ahead, endsMs);
  if (windows === null) return null;
  const made = madeIn(stage, ahead, endsMs);
  return { stage, actions, endsMs, windows, made, bounds: on.bounds, waits: route.waits };
}

/** The candidate with windows that hold for a person who changes from early to late, too; null: it is not sure with one. */
export function confirmed(candidate: Candidate): Candidate | null {
  const { stage, actions, endsMs } = candidate;
  const { question, corners, horizonMs } = stage;
  const { alertCooldownMs, heartbeats } = question.program.watch;
  // Nothing else depends on the difference of two instants that follow from different actions.
  if (alertCooldownMs === 0 && !heartbeats) return candidate;
  const on = { actions, endsMs: endsMs + horizonMs };
  const sure = rehearse(question, withTurns(corners, actions.length), on);
  const windows = sure === null ? null : windowsOf(stage, sure, endsMs);
  return windows === null ? null : { ...candidate, windows };
}

/** Of the messages up to an end. Null: not all is sure up to there, or they cannot be told apart. */
function windowsOf(
  { noteToleranceMs }: Stage,
  { wakes, restFromMs }: Rehearsal,
  endsMs: number,
): readonly Window[] | null {
  if (restFromMs <= endsMs + noteToleranceMs) return null;
  const windows: Window[] = [];
  for (const { delivers } of wakes) {
    if (delivers === null) continue;
    const fromMs = Math.max(0, Math.floor((delivers.fromMs - noteToleranceMs) / 1_000) * 1_000);
    const toMs = Math.ceil((delivers.toMs + noteToleranceMs) / 1_000) * 1_000;
    if (fromMs > endsMs) break;
    // Nobody knows whether one that may come before or after the end must have come.
    if (toMs > endsMs) return null;
    windows.push({ fromMs, toMs });
  }
  // Messages that may come in either order cannot be told apart.
  const apart = windows.every(({ fromMs }, index) => fromMs > (windows[index - 1]?.toMs ?? -1));
  return apart ? windows : null;
}

/** Reactions of a step. The power is taken out at its end: where that surely meets a sleep, it shows the cut in it. */
function madeIn(
  stage: Stage,
  { wakes, restFromMs }: Rehearsal,
  endsMs: number,
): ReadonlySet<number> {
  const { noteToleranceMs } = stage;
  const done = wakes.filter(({ wakeFromMs }) => wakeFromMs <= endsMs);
  const { state, made } = walkedOn(stage, done);
  const nextFromMs = wakes[done.length]?.wakeFromMs ?? restFromMs;
  const rests = itemAt(done, done.length - 1).workToMs < endsMs - noteToleranceMs;
  return new Set(
    rests && nextFromMs > endsMs + noteToleranceMs
      ? [...made, reactionAt(stage, state, inputCode.powerLost)]
      : made,
  );
}

/** Both sides of the bounds: openings as long as can be without a message, as short as can be with one. */
export function sidesOf(stage: Stage): readonly Candidate[] {
  const first = startOf(stage);
  if (first === null) return [];
  const { open } = stage.question.program.watch.escalationThreshold;
  const waits = (count: number): readonly Move[] =>
    Array.from({ length: Math.max(0, count) }, () => 'wait' as const);
  type Side = readonly [readonly Move[], number, readonly BoundSide[]];
  // Where one open check is enough, no opening is surely quiet.
  const quiet: Side = [['door-late', ...waits(open - 2), 'door-late'], 2, ['longest-quiet']];
  const made: readonly Side[] = [
    ...(open > 1 ? [quiet] : []),
    [['door', ...waits(open - 1), 'door'], 1, ['shortest-told', 'slowest']],
    [['door-late'], open, ['soonest']],
  ];
  return made.flatMap(([way, checks, bounds]) => {
    const route = led(stage, first, way);
    const candidate = route === null ? null : ended(stage, route, { checks, bounds });
    return candidate === null ? [] : [candidate];
  });
}

/** Seconds by which a reset is moved away from the end of a cooldown, until its result is sure. */
const mostSeconds = 12;

/** Both sides of the end of a cooldown: a reset as late in it as can be without a message, as soon after it as can be with one. */
export function cooldownSidesOf(stage: Stage): readonly Candidate[] {
  const first = firstAlert(stage);
  if (first === null || stage.question.program.watch.alertCooldownMs === 0) return [];
  // A reset that clears memory ends the cooldown.
  if (!resetsKeep(stage)) return [];
  const { toleranceMs, timing } = stage.question;
  const soonMs = greatestOf(cooldownEndsOf(stage, first)) + toleranceMs - timing.bootTime.least;
  const fromMs = Math.ceil(soonMs / 1_000) * 1_000;
  return [
    ...cooldownRunningAfter(stage, first, ['cooldown-running']),
    ...sideBy(stage, first, { fromMs, byMs: 1_000, isOver: true, bounds: ['cooldown-over'] }),
  ];
}

function resetsKeep({ question }: Stage): boolean {
  return question.reset.button === 'keeps' && !question.without.has('reset');
}

/** A reset as late in the cooldown after a route as can be without a message. */
function cooldownRunningAfter(
  stage: Stage,
  route: Route,
  bounds: readonly BoundSide[],
): readonly Candidate[] {
  if (!resetsKeep(stage)) return [];
  const { toleranceMs, timing } = stage.question;
  const lastMs = leastOf(cooldownEndsOf(stage, route)) - toleranceMs - timing.bootTime.most;
  const fromMs = Math.ceil(lastMs / 1_000) * 1_000 - 1_000;
  return sideBy(stage, route, { fromMs, byMs: -1_000, isOver: false, bounds });
}

/** To the first alert by the door alone: no reset and no outage makes its instant less sure. Null: it is not sure anyway. */
function firstAlert(stage: Stage): Route | null {
  const { outOf } = stage.question.program.watch.escalationThreshold;
  const start = startOf(stage);
  let route = start === null ? null : moved(stage, start, 'door');
  for (let checks = 0; checks <= outOf && route !== null; checks += 1) {
    const { coolsAfter, delivers } = itemAt(route.wakes, route.at);
    if (coolsAfter && delivers !== null) return route;
    route = moved(stage, route, 'wait');
  }
  return null;
}

/** An alert that this many attempts have failed to deliver is late enough. */
const mostLateAttempts = 6;

/**
 * An outage over the first alert, so that it is delivered long after it was decided, and then the end of its cooldown: by a
 * reset as late in it as can be, and by the next alert of a door left open. A cooldown that counts from the decision is
 * over too soon in both.
 */
export function lateAlertsOf(stage: Stage): readonly Candidate[] {
  const { watch } = stage.question.program;
  if (watch.alertCooldownMs === 0) return [];
  const candidates: Candidate[] = [];
  const mostWaits = watch.escalationThreshold.outOf + mostLateAttempts;
  let waiting = led(stage, startOf(stage), ['both']);
  for (let waits = 0; waits < mostWaits && waiting !== null; waits += 1) {
    const { fails, holds } = itemAt(waiting.wakes, waiting.at);
    if (holds) break;
    const late = fails ? led(stage, waiting, ['network']) : null;
    if (late !== null && itemAt(late.wakes, late.at).delivers !== null) {
      pushAll(candidates, cooldownRunningAfter(stage, late, []));
      pushAll(candidates, candidatesOf(stage, led(stage, late, ['past-cooldown'])));
    }
    waiting = led(stage, waiting, ['wait']);
  }
  return candidates;
}

/** When the cooldown begun in the last wake of a route is over, in each corner. */
function cooldownEndsOf({ question, corners }: Stage, route: Route): readonly number[] {
  const { program } = question;
  return corners.map((corner) => {
    const on = { actions: route.actions, endsMs: workEndOf(route) + 1, corner, question };
    const deliveredMs = messagesOf(program, on).at(-1) ?? 0;
    const { most } = clockErrorRangeOf(corner.timing.clockError);
    return deliveredMs + atLeastMs(program.watch.alertCooldownMs, ppm(most));
  });
}

function sideBy(
  stage: Stage,
  route: Route,
  on: {
    readonly fromMs: number;
    readonly byMs: number;
    readonly isOver: boolean;
    readonly bounds: readonly BoundSide[];
  },
): readonly Candidate[] {
  const { question, corners, horizonMs } = stage;
  for (let tries = 0; tries < mostSeconds; tries += 1) {
    const atMs = on.fromMs + tries * on.byMs;
    const actions = [...route.actions, { atMs, deed: 'reset' as const }];
    const rehearsal = rehearse(question, corners, { actions, endsMs: atMs + 2 * horizonMs });
    const at = rehearsal?.wakes.findLastIndex(({ cause }) => cause === 'reset') ?? -1;
    if (rehearsal === null || at <= route.at) continue;
    if (itemAt(rehearsal.wakes, at).cooldownOver !== on.isOver) continue;
    const walked = walkedOn(stage, rehearsal.wakes.slice(0, at + 1));
    const wait: Wait = { setting: 'alertCooldown', fromMs: workEndOf(route), toMs: atMs };
    const waits = [...route.waits, wait];
    const led = { ...route, ...walked, actions, wakes: rehearsal.wakes, at, waits };
    const candidate = ended(stage, led, { checks: 1, bounds: on.bounds });
    if (candidate !== null) return [candidate];
  }
  return [];
}
