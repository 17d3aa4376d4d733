// How likely an opening is to be reported, by its length, when it begins at any moment alike while the device is at
// rest: each gap between two checks contributes a straight piece.
import { type DeviceMs, trueMs } from '../base/index.js';
import { simulate } from '../sim/index.js';
import type { DeviceTiming } from '../world/index.js';
import { idealContactEdges, noSpans, spansOf } from '../world/index.js';
import type { Bounds, Curve } from './answer.js';
import type { BoundsQuestion } from './bounds.js';
import { type Times, timesOf } from './environment.js';

/** Openings that begin evenly over `widthMs` are decided, and told of, within as wide a stretch of lengths. */
interface Piece {
  readonly widthMs: number;
  /** The least time from an opening to its decision, or to its delivery. */
  readonly fromMs: number;
}

type Curves = Pick<
  Bounds,
  'detectionCurve' | 'detectionCurveMost' | 'delayDistribution' | 'delayDistributionMost'
>;

/** The curves; with ranges of times the least and the greatest probability. */
export function curvesOf(question: BoundsQuestion): Curves {
  const times = timesOf(question.program.watch, question.timing);
  const slow = piecesOf(question, fixedTiming(times, question.timing, 'most'));
  const quick = piecesOf(question, fixedTiming(times, question.timing, 'least'));
  const same = JSON.stringify(slow) === JSON.stringify(quick);
  return {
    detectionCurve: curveOf(slow.decided),
    detectionCurveMost: same ? null : curveOf(quick.decided),
    delayDistribution: curveOf(slow.delivered),
    delayDistributionMost: same ? null : curveOf(quick.delivered),
  };
}

/** All times at one end of their ranges. */
function fixedTiming(times: Times, timing: DeviceTiming, end: 'least' | 'most'): DeviceTiming {
  const { clockError } = timing;
  const drawn = clockError.kind === 'drawn' ? clockError : null;
  return {
    bootTime: { kind: 'fixed', ms: trueMs(times.bootMs[end]) },
    connectTime: { kind: 'fixed', ms: trueMs(times.connectMs[end]) },
    clockError:
      drawn === null
        ? clockError
        : { kind: 'fixed', ppm: end === 'least' ? drawn.leastPpm : drawn.greatestPpm },
  };
}

/** The most gaps of a rest that are looked at: those of one heartbeat interval. */
const mostGaps = 2_000;

function piecesOf(
  question: BoundsQuestion,
  timing: DeviceTiming,
): { readonly decided: readonly Piece[]; readonly delivered: readonly Piece[] } {
  const decided: Piece[] = [];
  const delivered: Piece[] = [];
  const edges = question.program.watch.wakeOn !== 'timer';
  for (const { fromMs, wakeMs, checkMs } of restGaps(question, timing)) {
    const add = (opensAtMs: number, widthMs: number): void => {
      const alert = firstAlert(question, timing, opensAtMs);
      if (alert === null || widthMs <= 0) return;
      decided.push({ widthMs, fromMs: alert.decidedMs - opensAtMs });
      if (alert.deliveredMs !== null) {
        delivered.push({ widthMs, fromMs: alert.deliveredMs - opensAtMs - 1 });
      }
    };
    if (!edges) add(checkMs, checkMs - fromMs);
    else {
      // An opening in the sleep wakes the device at once: wherever it begins, it is told of alike.
      add(checkMs, checkMs - wakeMs + 1);
      for (const alert of [firstAlert(question, timing, fromMs + 1)]) {
        if (alert === null) continue;
        const sleptMs = wakeMs - fromMs - 1;
        decided.push({ widthMs: -sleptMs, fromMs: alert.decidedMs - fromMs - 1 });
        if (alert.deliveredMs !== null) {
          delivered.push({ widthMs: -sleptMs, fromMs: alert.deliveredMs - fromMs - 2 });
        }
      }
    }
  }
  return { decided, delivered };
}

interface Gap {
  /** The check before it. */
  readonly fromMs: number;
  readonly wakeMs: number;
  /** The check after it. */
  readonly checkMs: number;
}

/** The gaps between checks of a device at rest: one, or with heartbeats those from one to the next. */
function restGaps(question: BoundsQuestion, timing: DeviceTiming): readonly Gap[] {
  const { watch } = question.program;
  const restMs: DeviceMs | number = watch.heartbeatIntervalMs ?? 0;
  const lengthMs = 4 * restMs + 8 * watch.checkIntervalMs * 2 + 600_000;
  const trace = simulate(experimentOf(question, timing, { opensAtMs: null, lengthMs }));
  const checks: { readonly wakeMs: number; readonly atMs: number; readonly beat: boolean }[] = [];
  for (const wake of trace.wakes) {
    if (wake.check === null) continue;
    for (let index = 0; index <= wake.repeats; index += 1) {
      const byMs = index * wake.periodMs;
      const beat = wake.heartbeatSend !== null;
      checks.push({ wakeMs: wake.wakeMs + byMs, atMs: wake.check.atMs + byMs, beat });
      if (checks.length > mostGaps) break;
    }
  }
  const beats = checks.flatMap(({ beat }, index) => (beat ? [index] : []));
  const [first = 1, second = first + 1] = beats.length >= 2 ? beats : [1, 2];
  return checks.slice(first, second).flatMap((check, index) => {
    const next = checks[first + index + 1];
    return next === undefined
      ? []
      : [{ fromMs: check.atMs, wakeMs: next.wakeMs, checkMs: next.atMs }];
  });
}

function firstAlert(
  question: BoundsQuestion,
  timing: DeviceTiming,
  opensAtMs: number,
): { readonly decidedMs: number; readonly deliveredMs: number | null } | null {
  const { watch } = question.program;
  const longest = Math.max(watch.checkIntervalMs, watch.recheckIntervalMs) * 2 + 120_000;
  const lengthMs = opensAtMs + longest * (watch.escalationThreshold.outOf + 2);
  const trace = simulate(experimentOf(question, timing, { opensAtMs, lengthMs }), {
    record: 'none',
  });
  return trace.alerts[0] ?? null;
}

function experimentOf(
  { program }: BoundsQuestion,
  timing: DeviceTiming,
  door: { readonly opensAtMs: number | null; readonly lengthMs: number },
): Parameters<typeof simulate>[0] {
  const openings =
    door.opensAtMs === null ? noSpans : spansOf([[door.opensAtMs, Number.POSITIVE_INFINITY]]);
  const world = {
    lengthMs: trueMs(door.lengthMs),
    openings,
    contact: idealContactEdges(openings),
    networkDown: noSpans,
    powerLost: noSpans,
    resetsMs: new Float64Array(0),
    powerOnAtMs: trueMs(0),
  };
  return { program, timing, world, seed: '' };
}

/** Adds up pieces; one of negative width is that much of a single length. */
function curveOf(pieces: readonly Piece[]): Curve {
  const total = pieces.reduce((sum, { widthMs }) => sum + Math.abs(widthMs), 0);
  if (total === 0) return [[0, 0]];
  const instants = new Set<number>();
  for (const { fromMs, widthMs } of pieces) {
    instants.add(fromMs).add(fromMs + Math.max(widthMs, 1));
  }
  const share = (ms: number, { fromMs, widthMs }: Piece): number =>
    widthMs < 0
      ? Math.min(Math.max(ms - fromMs, 0), 1) * -widthMs
      : Math.min(Math.max(ms - fromMs, 0), widthMs);
  return [...instants]
    .sort((a, b) => a - b)
    .map((ms) => [ms, pieces.reduce((sum, piece) => sum + share(ms, piece), 0) / total] as const);
}
