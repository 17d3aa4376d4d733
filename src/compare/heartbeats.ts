// Heartbeats that should have come: each is due an interval after the one before, at the check after that, on the slowest clock: of the
// watch file, or as it was found.
import { deviceMs, greatestOf, lastsMs, ppm } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { DeviceLogRow } from '../scenarios/index.js';
import {
  clockErrorRangeOf,
  type DeviceTiming,
  firstAfter,
  rangeMsOf,
  type World,
} from '../world/index.js';
import type { MissingChecks } from './missing-checks.js';

/** Stamps of the receiver come a little late, and not always by as much. */
const lateMs = 60_000;

/** How far apart the ends of two heartbeats may be. */
interface BeatRange {
  readonly leastMs: number;
  readonly mostMs: number;
  /** What it may take longer where another message went first at the wake at which it was due. */
  readonly behindMs: number;
}

/** What the checks of a log show of the device. */
export interface FoundClock {
  readonly lowPpm: number;
  readonly highPpm: number;
}

/** Null: the watch sends none. */
function beatRangeOf(
  watch: WatchSettings,
  timing: DeviceTiming,
  { clock = null, checksEveryMs = 0 }: FoundBeside = {},
): BeatRange | null {
  if (watch.heartbeatIntervalMs === null) return null;
  const inFile = clockErrorRangeOf(timing.clockError);
  const least = ppm(Math.min(inFile.least, clock?.lowPpm ?? inFile.least));
  const most = ppm(Math.max(inFile.most, clock?.highPpm ?? inFile.most));
  const sleepMs = Math.max(lastsMs(deviceMs(watch.checkIntervalMs), most), checksEveryMs);
  // It is due from the start of the one before, whose end is in the log.
  const sendMs = rangeMsOf(timing.connectTime).most + timing.joinWaitMs;
  const wakeMs = rangeMsOf(timing.bootTime).most + sendMs;
  return {
    leastMs: lastsMs(watch.heartbeatIntervalMs, least) - sendMs,
    mostMs: lastsMs(watch.heartbeatIntervalMs, most) + sleepMs + 2 * wakeMs,
    behindMs: sleepMs + wakeMs,
  };
}

export interface HeartbeatFindings {
  /** About how many are missing between two that came, or after the last. */
  readonly missing: readonly MissingChecks[];
  /** About how many did not come and were due when the timeline has no network: such a one is tried once, and fails. */
  readonly whileDown: number;
  /** Those that came later than the watch file allows, with none missing before; null: none did. */
  readonly late: LateHeartbeats | null;
}

export interface LateHeartbeats {
  readonly count: number;
  /** By how much the latest of them was later than the watch file allows. */
  readonly latestByMs: number;
  /** The clock, or the time between checks, as it was found is enough for all of them. */
  readonly isExplained: boolean;
}

/** What is known of the device beside its watch file. */
interface FoundBeside {
  /** Absent or null: nothing. */
  readonly clock?: FoundClock | null;
  /** The time between checks, where it is not that of the watch file. */
  readonly checksEveryMs?: number | undefined;
}

/** Two intervals pass where one heartbeat is missing: within fewer than these none is, however slow the clock. */
const fewestIntervals = 1.5;

export function missingHeartbeats(
  rows: readonly DeviceLogRow[],
  on: {
    readonly watch: WatchSettings;
    readonly timing: DeviceTiming;
    readonly world: Pick<World, 'networkDown' | 'powerLost' | 'lengthMs'>;
    /** How much later than the start of the timeline the device may have begun. Default: not at all. */
    readonly roughStartMs?: number;
  } & FoundBeside,
): HeartbeatFindings {
  const { watch, timing, world } = on;
  const inFile = beatRangeOf(watch, timing);
  const found = beatRangeOf(watch, timing, on);
  if (inFile === null || found === null) return { missing: [], whileDown: 0, late: null };
  const fewestMs = Math.min(fewestIntervals * (watch.heartbeatIntervalMs ?? 0), 2 * found.leastMs);
  let every = found;
  let late: LateHeartbeats | null = null;
  const lateGapsMs: number[] = [];
  const holds = watch.afterAlert === 'hold-until-reset';
  const missing: MissingChecks[] = [];
  let whileDown = 0;
  let sinceMs = 0;
  let isHeld = false;
  /** The last message of another kind. */
  let otherMs = 0;
  const until = (atMs: number, beforeMs: number | null, isBeat = false): void => {
    const behindMs = otherMs > sinceMs + every.leastMs ? every.behindMs : 0;
    const gapMs = atMs - sinceMs - lateMs - behindMs;
    const roughMs = sinceMs === 0 ? (on.roughStartMs ?? 0) : 0;
    if (isHeld || gapMs - roughMs <= inFile.mostMs || isDark(world, sinceMs, atMs)) return;
    if (isBeat && roughMs === 0 && atMs - sinceMs - behindMs < fewestMs) {
      late = {
        count: (late?.count ?? 0) + 1,
        latestByMs: Math.max(late?.latestByMs ?? 0, gapMs + lateMs - inFile.mostMs),
        isExplained: (late?.isExplained ?? true) && gapMs <= found.mostMs,
      };
      lateGapsMs.push(gapMs);
      every = { ...found, mostMs: usualMostMs(found.mostMs, lateGapsMs) };
      return;
    }
    const periods = gapMs / every.mostMs;
    if (periods - roughMs / every.mostMs <= 1) return;
    const about = beforeMs === null ? Math.floor(periods) : Math.round(periods) - 1;
    const due = Math.max(1, about);
    const down = downAmong(due, { sinceMs, beforeMs: atMs, every, networkDown: world.networkDown });
    whileDown += down;
    if (down < due) missing.push({ afterMs: sinceMs, beforeMs, count: due - down });
  };
  for (const { event, atMs, ...row } of rows) {
    // An alert and a low-battery message leave the interval as it is.
    const isHold = event === 'alert' && holds && 'delivered' in row && row.delivered;
    if (event === 'low-battery' || event === 'alert') otherMs = atMs;
    if (event === 'check' || event === 'low-battery' || (event === 'alert' && !isHold)) continue;
    until(atMs, atMs, event === 'heartbeat');
    if (event === 'reset' && !isHeld) continue;
    sinceMs = atMs;
    isHeld = event === 'alert';
  }
  until(world.lengthMs, null);
  return { missing, whileDown, late };
}

/** Beyond what is known of it, a clock is believed to err by this share: common practice, no source. */
const believedShare = 0.15;

/** How late the next may be: as late as a clock made one, or as something else made two. A reset delays one alone. */
function usualMostMs(mostMs: number, lateGapsMs: readonly number[]): number {
  const [, second = 0] = [...lateGapsMs].sort((one, other) => other - one);
  const byClock = lateGapsMs.filter((gapMs) => gapMs <= (1 + believedShare) * mostMs);
  return greatestOf([mostMs, second, ...byClock]);
}

/** How many of the heartbeats due after an instant may have met an outage. */
function downAmong(
  due: number,
  {
    sinceMs,
    beforeMs,
    every,
    networkDown,
  }: {
    readonly sinceMs: number;
    readonly beforeMs: number;
    readonly every: BeatRange;
    readonly networkDown: World['networkDown'];
  },
): number {
  let down = 0;
  for (let beat = 1; beat <= due; beat += 1) {
    const fromMs = sinceMs + beat * every.leastMs;
    const toMs = Math.min(beforeMs, sinceMs + beat * every.mostMs);
    if (meets(networkDown, fromMs, toMs)) down += 1;
  }
  return down;
}

function meets(spans: World['networkDown'], fromMs: number, toMs: number): boolean {
  const next = spans.fromMs[firstAfter(spans.toMs, fromMs)];
  return next !== undefined && next < toMs;
}

/** The timeline itself says that there was no power meanwhile. */
function isDark({ powerLost }: Pick<World, 'powerLost'>, fromMs: number, toMs: number): boolean {
  return meets(powerLost, fromMs, toMs);
}
