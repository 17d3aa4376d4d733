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

/** The longest time from one heartbeat to the next; null: the watch sends none. */
function longestBeatMs(watch: WatchSettings, timing: DeviceTiming): number | null {
  if (watch.heartbeatIntervalMs === null) return null;
  const { most } = clockErrorRangeOf(timing.clockError);
  const sleepMs = lastsMs(deviceMs(watch.checkIntervalMs), most);
  const wakeMs =
    rangeMsOf(timing.bootTime).most + rangeMsOf(timing.connectTime).most + timing.joinWaitMs;
  return lastsMs(watch.heartbeatIntervalMs, most) + sleepMs + 2 * wakeMs;
}

/** About how many are missing between two that came, or after the last. */
export function missingHeartbeats(
  rows: readonly DeviceLogRow[],
  on: { readonly watch: WatchSettings; readonly timing: DeviceTiming; readonly world: World },
): readonly MissingChecks[] {
  const { watch, timing, world } = on;
  const everyMs = longestBeatMs(watch, timing);
  if (everyMs === null) return [];
  const holds = watch.afterAlert === 'hold-until-reset';
  const missing: MissingChecks[] = [];
  let sinceMs = 0;
  let isHeld = false;
  const until = (atMs: number, beforeMs: number | null): void => {
    const periods = (atMs - sinceMs - lateMs) / everyMs;
    if (isHeld || periods <= 1 || isDark(world, sinceMs, atMs)) return;
    const count = beforeMs === null ? Math.floor(periods) : Math.round(periods) - 1;
    missing.push({ afterMs: sinceMs, beforeMs, count: Math.max(1, count) });
  };
  for (const { event, atMs, ...row } of rows) {
    if (event === 'check') continue;
    const arms = event !== 'alert' || (holds && 'delivered' in row && row.delivered);
    if (!arms) continue;
    until(atMs, atMs);
    if (event === 'reset' && !isHeld) continue;
    sinceMs = atMs;
    isHeld = event === 'alert';
  }
  until(world.lengthMs, null);
  return missing;
}

/** The timeline itself says that there was no power meanwhile. */
function isDark({ powerLost }: World, fromMs: number, toMs: number): boolean {
  const next = powerLost.fromMs[firstAfter(powerLost.toMs, fromMs)];
  return next !== undefined && next < toMs;
}
