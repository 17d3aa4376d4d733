// What each stretch of openings at rest adds to a curve: as they begin a millisecond later they are decided on a
// millisecond sooner, or, where the opening itself wakes the device, all after the same time.
import { itemAt, pushAll } from '../../base/index.js';
import type { Curve } from '../answer.js';
import type { CalmDevice } from './calm-device.js';
import { woken } from './calm-device.js';
import { decisionsFrom } from './decisions.js';
import { type RestGap, restGaps } from './rest-gaps.js';

/** So many openings each, for every millisecond of a stretch of times to the decision. */
interface Piece {
  readonly fromMs: number;
  readonly widthMs: number;
  readonly openings: number;
}

export interface Pieces {
  readonly pieces: readonly Piece[];
  /** All openings: milliseconds in a round of what the device repeats at rest. */
  readonly roundMs: number;
  readonly connectMs: number;
}

export function piecesOf(device: CalmDevice, wakesByEdges: boolean): Pieces {
  const pieces: Piece[] = [];
  let roundMs = 0;
  for (const gap of restGaps(device)) {
    roundMs += gap.count * lengthOf(device, gap);
    pushAll(pieces, piecesIn(device, gap, wakesByEdges));
  }
  return { pieces, roundMs, connectMs: device.connectMs };
}

function lengthOf({ bootMs }: CalmDevice, { sleep }: RestGap): number {
  return sleep.fromMs + sleep.lastsMs + bootMs;
}

function piecesIn(device: CalmDevice, gap: RestGap, wakesByEdges: boolean): readonly Piece[] {
  const { sleep, readingMs, count } = gap;
  const { bootMs } = device;
  const length = lengthOf(device, gap);
  const reading = readingMs + sleep.fromMs + sleep.countedMs + bootMs;
  const byTimer = decisionsFrom(device, woken(device, sleep.state, 'timer'), {
    openings: 1,
    leastReadingMs: reading,
    mostReadingMs: reading,
  });
  /** Openings over a stretch that ends so long before the next check, which is the first to read them. */
  const unseen = (beforeMs: number, widthMs: number): readonly Piece[] => {
    const { afterMs } = itemAt(byTimer, 0);
    if (afterMs === null) return [];
    return [{ fromMs: afterMs + beforeMs, widthMs, openings: count }];
  };
  if (!wakesByEdges) return unseen(0, length);
  // In the boot and in the send no edge wakes the device: it is awake.
  const awake = [...unseen(0, bootMs + 1), ...unseen(length - sleep.fromMs, sleep.fromMs)];
  const openings = sleep.lastsMs - 1;
  if (openings <= 0) return awake;
  const byEdge = decisionsFrom(device, woken(device, sleep.state, 'contact'), {
    openings,
    leastReadingMs: readingMs + sleep.fromMs + 1 + bootMs,
    mostReadingMs: readingMs + sleep.fromMs + openings + bootMs,
  });
  const asleep = byEdge.flatMap(({ openings: alike, afterMs }): Piece[] =>
    afterMs === null ? [] : [{ fromMs: bootMs + afterMs, widthMs: 1, openings: count * alike }],
  );
  return [...awake, ...asleep];
}

/** The share of openings whose time to the decision, lengthened by `byMs`, is below so much. */
export function curveOf({ pieces, roundMs }: Pieces, byMs: number): Curve {
  const bends = new Map<number, number>();
  const bend = (ms: number, by: number): void => {
    bends.set(ms, (bends.get(ms) ?? 0) + by);
  };
  for (const { fromMs, widthMs, openings } of pieces) {
    bend(fromMs + byMs, openings);
    bend(fromMs + byMs + widthMs, -openings);
  }
  const points: (readonly [number, number])[] = [];
  let decided = 0;
  let rise = 0;
  let lastMs = 0;
  for (const [ms, by] of [...bends].sort((a, b) => a[0] - b[0])) {
    if (by === 0) continue;
    decided += rise * (ms - lastMs);
    rise += by;
    lastMs = ms;
    points.push([ms, decided / roundMs]);
  }
  return points.length === 0 ? [[0, 0]] : points;
}
