// Random experiments in which much goes wrong: door openings about as long as the watch needs, faults where they hurt, and
// times at their limits, on the very instants at which the device checks, sends or wakes. The same seed and index
// give the same experiment.

import { deviceMs, ppm, trueMs, um } from '../../../src/base/index.js';
import type { LogicSettings, WatchSettings } from '../../../src/machine/index.js';
import { type Requirements } from '../../../src/model/index.js';
import { type Experiment, simulate } from '../../../src/sim/index.js';
import {
  type ClockError,
  type ContactFault,
  contactEdgesOf,
  type DoorMove,
  deviceTiming,
  idealContactEdges,
  openingsOf,
  type VaryingMs,
  type World,
  withBounce,
  withFaults,
} from '../../../src/world/index.js';
import { type Pairs, tableOf, worldOf } from '../../support/experiments.js';

export interface ReasonCase {
  readonly experiment: Experiment;
  readonly asked: Requirements;
}

/** A small generator of its own (mulberry32), so that the cases stay as they are whatever streams dozewatch draws from. */
interface Dice {
  /** A whole number from least to most. */
  whole(least: number, most: number): number;
  chance(share: number): boolean;
  pick<T>(first: T, ...others: T[]): T;
}

function diceOf(name: string): Dice {
  let state = 0x811c9dc5;
  for (const character of name) {
    state = Math.imul(state ^ (character.codePointAt(0) ?? 0), 0x01000193);
  }
  const unit = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (least: number, most: number): number =>
    least + Math.floor(unit() * (most - least + 1));
  return {
    whole,
    chance: (share) => unit() < share,
    pick: (first, ...others) => {
      const at = whole(0, others.length);
      return at === 0 ? first : (others[at - 1] ?? first);
    },
  };
}

/** How many experiments in a row use one logic: compiling its table takes longer than running it. */
const perLogic = 60;

function logicOf(dice: Dice): LogicSettings {
  const open = dice.pick(1, 2, 2, 3);
  return {
    escalationThreshold: { open, outOf: open + dice.pick(0, 0, 1, 2) },
    clearThreshold: dice.pick(1, 1, 2, 3),
    cooldownEndsWhenShut: dice.chance(0.5),
    afterAlert: dice.pick('keep-watching', 'keep-watching', 'keep-watching', 'hold-until-reset'),
    retryAttempts: dice.pick(1, 2, 3),
    unsentWhenShut: dice.pick('send', 'drop'),
    heartbeats: dice.chance(0.3),
  };
}

/** One in this many experiments has a logic of its own. */
const perOwnLogic = 7;

/** Times are counted in units of this many ms: boundaries are hit at 1, words for long times are needed at the others. */
const units = [1, 1, 1, 997, 61_003, 3_600_000];

function watchOf(dice: Dice, logic: LogicSettings, unit: number): WatchSettings {
  const sleep = () => deviceMs(dice.whole(2, 12) * unit);
  return {
    ...logic,
    checkIntervalMs: sleep(),
    recheckIntervalMs: sleep(),
    retryIntervalMs: sleep(),
    alertCooldownMs: deviceMs(dice.pick(0, dice.whole(1, 20), dice.whole(20, 90)) * unit),
    wakeOn: dice.pick('timer', 'timer', 'timer', 'opening', 'any-change'),
    heartbeatIntervalMs: logic.heartbeats ? deviceMs(dice.whole(5, 40) * unit) : null,
  };
}

function varyingOf(dice: Dice, most: number): VaryingMs {
  const ms = () => trueMs(dice.pick(0, dice.whole(0, most), dice.whole(0, most)));
  switch (dice.pick('fixed', 'fixed', 'range', 'inTurn')) {
    case 'range': {
      const [one, other] = [ms(), ms()];
      const [leastMs, greatestMs] = one < other ? [one, other] : [other, one];
      return { kind: 'range', leastMs, greatestMs };
    }
    case 'inTurn':
      return { kind: 'inTurn', ms: Array.from({ length: dice.whole(1, 4) }, ms) };
    case 'fixed':
      return { kind: 'fixed', ms: ms() };
  }
}

function clockErrorOf(dice: Dice, unit: number): ClockError {
  const error = () => ppm(dice.pick(0, dice.whole(-300_000, 300_000)));
  switch (dice.pick('fixed', 'fixed', 'fixed', 'drawn', 'curve', 'inTurn', 'sleeps')) {
    case 'drawn': {
      const [one, other] = [error(), error()];
      const [leastPpm, greatestPpm] = one < other ? [one, other] : [other, one];
      return { kind: 'drawn', leastPpm, greatestPpm };
    }
    case 'curve':
      return {
        kind: 'curve',
        steps: [0, dice.whole(1, 100), dice.whole(101, 200)].map((at) => ({
          fromMs: trueMs(at * unit),
          ppm: error(),
        })),
      };
    case 'inTurn':
      return { kind: 'inTurn', ppm: Array.from({ length: dice.whole(1, 4) }, error) };
    case 'sleeps':
      return {
        kind: 'sleeps',
        ms: Array.from({ length: dice.whole(0, 8) }, () => trueMs(dice.whole(1, 12) * unit)),
      };
    case 'fixed':
      return { kind: 'fixed', ppm: error() };
  }
}

/** Where things are to happen: often on an instant that matters to the device, or a millisecond beside. */
type Instant = () => number;

/** The door's moves: openings about as long as some checks, ajar and creeping now and then; perhaps open to the end. */
function movesOf(dice: Dice, lengthMs: number, unit: number, instant: Instant): DoorMove[] {
  const moves: DoorMove[] = [];
  const move = (atMs: number, gapMm: number) =>
    moves.push({ atMs: trueMs(atMs), gapUm: um(gapMm * 1_000) });
  let at = dice.pick(0, dice.whole(0, 30) * unit, instant());
  for (let count = dice.whole(1, 9); count > 0 && at < lengthMs; count -= 1) {
    move(at, dice.pick(500, 500, 500, 10, 5));
    const near = instant();
    const lasts = dice.pick(dice.whole(1, 6), dice.whole(4, 30), dice.whole(10, 80)) * unit;
    const end = near > at && dice.chance(0.4) ? near : at + lasts + dice.pick(0, 1, -1);
    if (end <= at) break;
    if (dice.chance(0.2) && end - at > 3)
      move(at + dice.whole(1, end - at - 1), dice.pick(10, 5, 500));
    if (dice.chance(0.08)) return moves;
    move(end, dice.pick(0, 0, 1));
    at = end + dice.pick(1, dice.whole(1, 4) * unit, dice.whole(1, 60) * unit);
  }
  return moves;
}

function contactFaultsOf(dice: Dice, lengthMs: number, instant: Instant): ContactFault[] {
  const faults: ContactFault[] = [];
  let at = dice.pick(0, instant());
  for (let count = dice.whole(1, 2); count > 0 && at < lengthMs; count -= 1) {
    const lasts = Math.max(1, Math.round((lengthMs * dice.whole(1, 50)) / 100));
    const slotMs = trueMs(Math.max(1, Math.round(lasts / dice.whole(3, 30))));
    faults.push({
      fromMs: trueMs(at),
      toMs: trueMs(at + lasts),
      reads: dice.pick<ContactFault['reads']>(
        { kind: 'stuck', at: 'open' },
        { kind: 'stuck', at: 'shut' },
        { kind: 'chattering', openShare: 0.5, slotMs },
      ),
    });
    at += lasts + dice.whole(0, lasts);
  }
  return faults;
}

function spansAt(dice: Dice, most: number, instant: Instant, lastMs: number): Pairs {
  return Array.from({ length: dice.whole(0, most) }, () => {
    const from = instant();
    return [from, from + dice.pick(1, dice.whole(1, lastMs), lastMs)] as const;
  });
}

function worldOfDice(dice: Dice, experiment: Experiment, unit: number): World {
  const quiet = experiment.world;
  const instants = instantsOf(experiment);
  const instant: Instant = () =>
    instants.length > 0 && dice.chance(0.7)
      ? Math.max(0, (instants[dice.whole(0, instants.length - 1)] ?? 0) + dice.pick(0, 0, 1, -1))
      : dice.whole(0, quiet.lengthMs);
  const isWorse = dice.chance(0.6);
  const faulty = (share: number): boolean => isWorse && dice.chance(share);
  const burstAt = instant();
  const resets = faulty(0.2)
    ? Array.from({ length: dice.whole(2, 12) }, (_, index) => burstAt + index * dice.pick(1, unit))
    : Array.from({ length: dice.pick(0, dice.whole(0, 4)) }, instant);
  const resetsMs = [...new Set(resets)].toSorted((a, b) => a - b);
  const world = worldOf({
    lengthMs: quiet.lengthMs,
    networkDown: faulty(0.5) ? spansAt(dice, 3, instant, dice.whole(1, 120) * unit) : [],
    powerLost: faulty(0.5) ? spansAt(dice, 4, instant, dice.whole(1, 40) * unit) : [],
    resetsMs,
    powerOnAtMs: faulty(0.15) ? dice.pick(instant(), dice.whole(0, quiet.lengthMs)) : 0,
  });
  const contact = faulty(0.4)
    ? withFaults(quiet.contact, contactFaultsOf(dice, quiet.lengthMs, instant), 'hatch')
    : quiet.contact;
  const resetEffects = resetsMs.map(() => ({ kind: 'button' as const, clears: dice.chance(0.3) }));
  return { ...world, openings: quiet.openings, contact, resetEffects };
}

/** The instants of an untroubled run at which the device does something, and its door's moves. */
function instantsOf(experiment: Experiment): readonly number[] {
  const { wakes } = simulate(experiment);
  const instants = wakes.flatMap(({ wakeMs, check, alertSend, repeats, periodMs }) => [
    wakeMs,
    ...(check === null ? [] : [check.atMs, check.atMs + repeats * periodMs]),
    ...(alertSend === null ? [] : [alertSend.endMs]),
  ]);
  return instants.slice(0, 200);
}

/** The experiment of this seed and index. */
export function reasonCase(seed: string, index: number): ReasonCase {
  const logic = logicOf(diceOf(`${seed} logic ${String(Math.floor(index / perLogic))}`));
  const dice = diceOf(`${seed} ${String(index)}`);
  const unit = dice.pick(1, ...units);
  const watch = watchOf(dice, logic, unit);
  const lengthMs = dice.whole(40, 300) * unit + dice.pick(0, 1, -1);
  const timing = deviceTiming({
    bootTime: varyingOf(dice, 3 * unit),
    connectTime: varyingOf(dice, 8 * unit),
    joinWaitMs: dice.pick(0, 0, 5 * unit, 60 * unit),
    clockError: clockErrorOf(dice, unit),
  });
  // Some as if their logic were a machine of one's own, of which no threshold is known.
  const own = index % perOwnLogic === 0 ? ({ ownLogic: true } as const) : {};
  const program = { watch, table: tableOf(logic), ...own };
  const still = { program, timing, world: worldOf({ lengthMs }), seed: `${seed} ${String(index)}` };
  const near = instantsOf(still);
  const instant: Instant = () =>
    Math.max(0, (near[dice.whole(0, Math.max(0, near.length - 1))] ?? 0) + dice.pick(0, 1, -1));
  const moves = movesOf(dice, lengthMs, unit, instant).filter(({ atMs }) => atMs < lengthMs);
  const openings = openingsOf(moves, um(2_000));
  const real = { operateGapUm: um(8_000), releaseGapUm: um(12_000), bounceMs: trueMs(0) };
  const edges = dice.chance(0.3) ? contactEdgesOf(moves, real) : idealContactEdges(openings);
  const contact = dice.chance(0.1) ? withBounce(edges, trueMs(dice.whole(2, 6))) : edges;
  const door = { ...still, world: { ...still.world, openings, contact } };
  const world = worldOfDice(dice, door, unit);
  return {
    experiment: { ...door, world },
    asked: {
      leaveOpenAfterMs: trueMs(dice.pick(1, dice.whole(1, 10) * unit, dice.whole(5, 40) * unit)),
      reportWithinMs: dice.pick(null, trueMs(dice.whole(0, 25) * unit)),
      quietUpToMs: null,
    },
  };
}
