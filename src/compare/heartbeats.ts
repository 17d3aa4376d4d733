// Heartbeats that should have come: each is due an interval after the one before, at the check after that, on the slowest clock.
import { deviceMs, lastsMs } from '../base/index.js';
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

/** Null: the watch sends none. */
function beatRangeOf(watch: WatchSettings, timing: DeviceTiming): BeatRange | null {
  if (watch.heartbeatIntervalMs === null) return null;
  const { least, most } = clockErrorRangeOf(timing.clockError);
  const sleepMs = lastsMs(deviceMs(watch.checkIntervalMs), most);
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
}

export function missingHeartbeats(
  rows: readonly DeviceLogRow[],
  on: {
    readonly watch: WatchSettings;
    readonly timing: DeviceTiming;
    readonly world: Pick<World, 'networkDown' | 'powerLost' | 'lengthMs'>;
    /** How much later than the start of the timeline the device may have begun. Default: not at all. */
    readonly roughStartMs?: number;
  },
): HeartbeatFindings {
  const { watch, timing, world } = on;
  const every = beatRangeOf(watch, timing);
  if (every === null) return { missing: [], whileDown: 0 };
  const holds = watch.afterAlert === 'hold-until-reset';
  const missing: MissingChecks[] = [];
  let whileDown = 0;
  let sinceMs = 0;
  let isHeld = false;
  /** The last message of another kind. */
  let otherMs = 0;
  const until = (atMs: number, beforeMs: number | null): void => {
    const behindMs = otherMs > sinceMs + every.leastMs ? every.behindMs : 0;
    const periods = (atMs - sinceMs - lateMs - behindMs) / every.mostMs;
    const roughMs = sinceMs === 0 ? (on.roughStartMs ?? 0) : 0;
    if (isHeld || periods - roughMs / every.mostMs <= 1 || isDark(world, sinceMs, atMs)) return;
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
    until(atMs, atMs);
    if (event === 'reset' && !isHeld) continue;
    sinceMs = atMs;
    isHeld = event === 'alert';
  }
  until(world.lengthMs, null);
  return { missing, whileDown };
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
