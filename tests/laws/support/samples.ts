// Runs inside the budgets of an environment: the door, the network, the power, the resets, the contact and the
// device's times do what they may, at random, and mostly as much of it as they may.
import { ppm, trueMs } from '../../../src/base/index.js';
import { type BoundsQuestion, timesOf } from '../../../src/bounds/index.js';
import {
  clockErrorsOf,
  type Environment,
  type RangeMs,
  resetKinds,
  type TimingRanges,
} from '../../../src/model/index.js';
import { type Experiment, simulate, type Trace } from '../../../src/sim/index.js';
import { judge, type Verdict } from '../../../src/verdict/index.js';
import {
  type ContactFault,
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  type ResetEffect,
  spansOf,
  type VaryingMs,
  type World,
  withFaults,
} from '../../../src/world/index.js';
import { expandWakes } from '../../support/expand.js';
import type { Draw } from './draw.js';

export interface Sample {
  readonly experiment: Experiment;
  readonly trace: Trace;
  readonly verdict: Verdict;
  /** Index of the opening that the bound is about. */
  readonly opening: number;
}

export interface SampleShape {
  /** Infinity: never shut again. */
  readonly lengthMs: number;
  /** Whether the door was used before, in whatever way. */
  readonly afterUse: boolean;
}

/** One run of a question's watch in its environment, with one opening of the given length in question. */
export function sampleOf(question: BoundsQuestion, shape: SampleShape, draw: Draw): Sample {
  const { program, environment } = question;
  const paces = pacesOf(question);
  const before = shape.afterUse ? usedDoor(paces, draw) : [];
  const quietMs = shape.afterUse
    ? draw.pick([1, Math.ceil(paces.periodMs / 2), draw.whole(1, paces.periodMs * 3)])
    : paces.periodMs * draw.whole(3, 12) + draw.whole(0, paces.periodMs);
  const fromMs = (before.at(-1)?.[1] ?? 0) + quietMs;
  const toMs = fromMs + shape.lengthMs;
  const lastMs = Number.isFinite(toMs) ? toMs : fromMs + paces.patienceMs;
  const lengthMs = lastMs + paces.patienceMs;
  const openings = spansOf([...before, [fromMs, toMs]]);
  const resetsMs = Float64Array.from(
    instants(draw.whole(0, environment.resets), { fromMs, lastMs }, draw),
  );
  const chatter = chatterOf(environment, { fromMs, lastMs }, draw);
  const world: World = {
    lengthMs: trueMs(lengthMs),
    openings,
    contact: withFaults(idealContactEdges(openings), chatter, 'laws'),
    networkDown: spansOf(outagesOf(environment, { fromMs, lastMs }, draw)),
    powerLost: spansOf(lossesOf(environment, { fromMs, lastMs }, draw)),
    resetsMs,
    resetEffects: Array.from(resetsMs, () => possibleReset(question, draw)),
    powerOnAtMs: trueMs(0),
  };
  const timing = timingWithin(question.timing, draw);
  const experiment: Experiment = { program, timing, world, seed: 'laws' };
  const trace = simulate(experiment, { record: 'none' });
  const verdict = judge(openings, trace, question.judge);
  return { experiment, trace, verdict, opening: before.length };
}

/** The longest that a run of a shut door goes without a heartbeat, once there was one. */
export function longestSilenceMs({ program, timing: nominal }: BoundsQuestion, draw: Draw): number {
  const { heartbeatIntervalMs, checkIntervalMs } = program.watch;
  const openings = spansOf([]);
  const world: World = {
    lengthMs: trueMs(Math.max(heartbeatIntervalMs ?? 0, checkIntervalMs) * 30),
    openings,
    contact: idealContactEdges(openings),
    networkDown: spansOf([]),
    powerLost: spansOf([]),
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  const timing = timingWithin(nominal, draw);
  const trace = simulate({ program, timing, world, seed: 'laws' }, { record: 'all' });
  const ends = expandWakes(trace).flatMap(({ heartbeatSend }) =>
    heartbeatSend?.outcome === 'delivered' ? [heartbeatSend.endMs] : [],
  );
  return ends.reduce((most, endMs, at) => Math.max(most, endMs - (ends[at - 1] ?? endMs)), 0);
}

interface Paces {
  /** From a check that reads shut to the next at most. */
  readonly periodMs: number;
  readonly againMs: number;
  /** By this much after the last thing that can happen, its results have happened as well. */
  readonly patienceMs: number;
}

/** A reset of any kind that the watch file leaves possible. */
function possibleReset({ reset }: BoundsQuestion, draw: Draw): ResetEffect {
  const kind = draw.pick(resetKinds);
  const said = reset[kind];
  return { kind, clears: said === null ? draw.chance(0.5) : said === 'clears' };
}

function pacesOf({ program, timing, environment, judge: asked }: BoundsQuestion): Paces {
  const { watch } = program;
  const { sleeps, bootMs, connectMs } = timesOf(watch, timing);
  const [check, recheck, retry] = sleeps;
  const wakeMs = bootMs.most + connectMs.most;
  const { open, outOf } = watch.escalationThreshold;
  const downMs = environment.longestOutageMs * environment.outages;
  const awayMs = environment.powerLosses * environment.longestPowerLossMs;
  const attemptsMs = (watch.retryAttempts + 1) * (retry.mostMs + wakeMs) + check.mostMs + wakeMs;
  const checksMs = (open + outOf) * (Math.max(check.mostMs, recheck.mostMs) + wakeMs);
  const startsOver = 1 + environment.powerLosses + environment.resets;
  return {
    periodMs: check.mostMs + wakeMs,
    againMs: recheck.mostMs + wakeMs,
    patienceMs:
      3 * startsOver * (attemptsMs + checksMs) +
      2 * (downMs + awayMs + environment.longestChatterMs + watch.alertCooldownMs * 3) +
      asked.leaveOpenAfterMs,
  };
}

/** Openings and pauses of lengths around the watch's rhythm. */
function usedDoor({ periodMs, againMs }: Paces, draw: Draw): readonly [number, number][] {
  const spans: [number, number][] = [];
  let atMs = draw.whole(1, periodMs * 3);
  for (let left = draw.whole(1, 5); left > 0; left -= 1) {
    const openMs = draw.whole(1, draw.pick([againMs, againMs * 3, againMs * 8]));
    spans.push([atMs, atMs + openMs]);
    atMs += openMs + draw.whole(1, draw.pick([10, periodMs, periodMs * 4]));
  }
  return spans;
}

interface Stage {
  readonly fromMs: number;
  readonly lastMs: number;
}

/** An instant somewhat before, in, or soon after the opening. */
function around({ fromMs, lastMs }: Stage, beforeMs: number, draw: Draw): number {
  return draw.whole(Math.max(0, fromMs - beforeMs), Math.max(fromMs, lastMs) + 1_000);
}

function instants(count: number, stage: Stage, draw: Draw): readonly number[] {
  const found = Array.from({ length: count }, () => around(stage, 60_000, draw));
  return [...new Set(found)].sort((a, b) => a - b);
}

/** As long as it may be, or any part of that. */
function upTo(mostMs: number, draw: Draw): number {
  return draw.chance(0.6) ? mostMs : draw.whole(1, mostMs);
}

function outagesOf(environment: Environment, stage: Stage, draw: Draw): [number, number][] {
  const { longestOutageMs, outages, outagesApartMs } = environment;
  if (longestOutageMs === 0) return [];
  const spans: [number, number][] = [];
  let atMs = around(stage, longestOutageMs, draw);
  for (let left = draw.whole(0, outages); left > 0; left -= 1) {
    const endMs = atMs + upTo(longestOutageMs, draw);
    spans.push([atMs, endMs]);
    atMs = endMs + outagesApartMs + (draw.chance(0.6) ? 0 : draw.whole(0, 600_000));
  }
  return spans;
}

function lossesOf(environment: Environment, stage: Stage, draw: Draw): [number, number][] {
  const { powerLosses, longestPowerLossMs } = environment;
  const spans: [number, number][] = [];
  for (const atMs of instants(draw.whole(0, powerLosses), stage, draw)) {
    const [, endMs] = spans.at(-1) ?? [0, -1];
    if (atMs <= endMs) continue;
    spans.push([atMs, atMs + upTo(longestPowerLossMs, draw)]);
  }
  return spans;
}

function chatterOf(environment: Environment, stage: Stage, draw: Draw): readonly ContactFault[] {
  const { longestChatterMs } = environment;
  if (longestChatterMs === 0 || draw.chance(0.3)) return [];
  const fromMs = around(stage, longestChatterMs, draw);
  const toMs = fromMs + upTo(longestChatterMs, draw);
  return [{ fromMs: trueMs(fromMs), toMs: trueMs(toMs), reads: { kind: 'stuck', at: 'shut' } }];
}

/** Times within their ranges, most of them at an end of it. */
export function timingWithin(timing: TimingRanges, draw: Draw): DeviceTiming {
  const { least, most } = clockErrorsOf(timing.clockError);
  return deviceTiming({
    bootTime: varying(timing.bootTime, draw),
    connectTime: varying(timing.connectTime, draw),
    joinWaitMs: timing.joinWaitMs,
    clockError:
      least === most
        ? { kind: 'fixed', ppm: least }
        : {
            kind: 'inTurn',
            ppm: Array.from({ length: 24 }, () =>
              ppm(draw.pick([least, most, draw.whole(least, most)])),
            ),
          },
  });
}

function varying({ least, most }: RangeMs, draw: Draw): VaryingMs {
  if (least === most) return { kind: 'fixed', ms: trueMs(least) };
  const one = (): number => draw.pick([least, most, draw.whole(least, most)]);
  return { kind: 'inTurn', ms: Array.from({ length: 24 }, () => trueMs(one())) };
}
