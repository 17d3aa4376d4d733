// What has gone from the battery, wake by wake: the use so far, priced as the battery command prices a whole run.

import {
  type Acts,
  msBeforePowerOn,
  nahOf,
  poweredShutMs,
  spend,
  type Use,
} from '../../battery/index.js';
import { type SupplySettings } from '../../model/index.js';
import type { SendRecord, Trace } from '../../sim/index.js';
import type { World } from '../../world/index.js';
import { poweredWorld, powerlessIn } from '../facts/alerts.js';
import { hasShutBoot, type WakeTimes, wakeTimes } from './wake-times.js';

export interface ChargeUsed {
  readonly atMs: number;
  readonly usedNah: number;
}

const no: Acts = { count: 0, ms: 0 };

/** The charge used up to the end of each wake, and of the timeline. */
export function* chargeUsed(
  trace: Trace,
  given: World,
  supply: SupplySettings,
): Generator<ChargeUsed> {
  const world = poweredWorld(given, trace);
  let use: Use = {
    lengthMs: 0,
    beforePowerOnMs: 0,
    offMs: 0,
    boots: no,
    checks: 0,
    openChecks: 0,
    sends: no,
    failedSends: no,
    heartbeats: no,
    waitMs: 0,
    heldMs: 0,
    shutBootMs: 0,
    contactShutMs: 0,
  };
  const before = msBeforePowerOn(given);
  const priced = (): ChargeUsed => {
    const beforePowerOnMs = Math.min(before, use.lengthMs);
    const lengthMs = use.lengthMs - beforePowerOnMs;
    const on = { ...use, lengthMs, beforePowerOnMs, offMs: use.offMs - beforePowerOnMs };
    return { atMs: use.lengthMs, usedNah: nahOf(spend(on, supply).totalPc) };
  };
  for (const wake of wakeTimes(trace, world)) {
    use = lasting(withWake(use, wake), wake.endMs, world);
    yield priced();
  }
  use = lasting(use, trace.lengthMs, world);
  yield priced();
}

function withWake(use: Use, { record, wakeMs, checkMs, endMs, ...sends }: WakeTimes): Use {
  const { heartbeatSend } = sends;
  // A low-battery message costs what an alert does.
  const send = sends.alertSend ?? sends.lowBatterySend;
  const failed = send?.outcome === 'failed' || send?.wouldFail === true;
  const idleFromMs = sends.alertSend?.endMs ?? checkMs ?? endMs;
  return {
    ...use,
    boots: { count: use.boots.count + 1, ms: use.boots.ms + (checkMs ?? endMs) - wakeMs },
    shutBootMs: use.shutBootMs + (hasShutBoot(record) ? (checkMs ?? endMs) - wakeMs : 0),
    checks: use.checks + (checkMs === null ? 0 : 1),
    openChecks: use.openChecks + (record.check?.contact === 'open' ? 1 : 0),
    sends: failed ? use.sends : plus(use.sends, send),
    failedSends: failed ? plus(use.failedSends, send) : use.failedSends,
    heartbeats: plus(use.heartbeats, heartbeatSend),
    waitMs: use.waitMs + ((send ?? heartbeatSend)?.waitedMs ?? 0),
    heldMs: use.heldMs + (record.holds ? endMs - idleFromMs : 0),
  };
}

function plus({ count, ms }: Acts, send: SendRecord | null): Acts {
  if (send === null) return { count, ms };
  const { startMs, endMs, waitedMs = 0 } = send;
  return { count: count + 1, ms: ms + endMs - startMs - waitedMs };
}

/** The same use, looked at up to a later instant. */
function lasting(use: Use, toMs: number, world: World): Use {
  const window = { fromMs: use.lengthMs, toMs };
  const off = powerlessIn(world, window);
  const powered = { fromMs: Math.max(use.lengthMs, Math.min(world.powerOnAtMs, toMs)), toMs };
  return {
    ...use,
    lengthMs: toMs,
    offMs: use.offMs + off.reduce((sum, span) => sum + span.toMs - span.fromMs, 0),
    contactShutMs: use.contactShutMs + poweredShutMs(world.contact, world.powerLost, powered),
  };
}
