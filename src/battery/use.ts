// What a device did over some time, as far as a battery cares: counts and whole milliseconds.
import { faultsOf, type Trace } from '../sim/index.js';
import { type ContactEdges, firstAfter, type Spans, spansOf, type World } from '../world/index.js';

/** Acts of one kind: how many, and how long all of them lasted. */
export interface Acts {
  readonly count: number;
  readonly ms: number;
}

/** Over `lengthMs`, which begins with the first power-on; times in no field are asleep. */
export interface Use {
  readonly lengthMs: number;
  /** How much of the timeline was over when the device first had power: in no other field. */
  readonly beforePowerOnMs: number;
  /** Without power. */
  readonly offMs: number;
  /** From each wake to its check. */
  readonly boots: Acts;
  readonly checks: number;
  readonly openChecks: number;
  /** Alerts and low-battery messages delivered, or cut off on the way to that. */
  readonly sends: Acts;
  readonly failedSends: Acts;
  readonly heartbeats: Acts;
  /** Awake in sends of any kind, waiting for the network after the connect time. */
  readonly waitMs: number;
  /** Awake after an alert, doing nothing until reset. */
  readonly heldMs: number;
  /** Of the boots, those before a check that reads shut. */
  readonly shutBootMs: number;
  /** With power, and the contact closed. */
  readonly contactShutMs: number;
}

/** How much of a world is over when the device first has power. */
export function msBeforePowerOn(world: World): number {
  return Math.min(faultsOf(world).firstBootMs, world.lengthMs);
}

/** How long the contact is closed in a world while there is power, and charge. */
export function contactShutMsIn(
  { contact, powerLost, powerOnAtMs, lengthMs }: World,
  flat: Trace['flat'] = [],
): number {
  const fromMs = Math.min(powerOnAtMs, lengthMs);
  const off = flat.length === 0 ? powerLost : spansOf([...pairsOf(powerLost), ...flatPairs(flat)]);
  return poweredShutMs(contact, off, { fromMs, toMs: lengthMs });
}

/**
 * The use in a run, exact whatever was recorded of its wakes.
 * @param contactShutMs of that world, for who runs many devices through one.
 */
export function useOf(
  trace: Trace,
  world: World,
  contactShutMs = contactShutMsIn(world, trace.flat),
): Use {
  const { tally } = trace;
  const beforePowerOnMs = msBeforePowerOn(world);
  const wakes = Object.values(tally.wakes).reduce((sum, count) => sum + count, 0);
  const failed = tally.failedSends;
  const { delivered, failed: refused, cutOff } = tally.alertSends;
  const beats = tally.heartbeatSends;
  // A low-battery message costs what an alert does.
  const warnings = tally.lowBatterySends;
  const warned = warnings.delivered + warnings.failed + warnings.cutOff;
  return {
    lengthMs: trace.lengthMs - beforePowerOnMs,
    beforePowerOnMs,
    offMs: tally.offMs - beforePowerOnMs,
    boots: { count: wakes, ms: tally.bootMs },
    checks: tally.checks,
    openChecks: tally.openChecks,
    sends: {
      count: delivered + refused + cutOff + warned - failed.count,
      ms: tally.alertSendMs + tally.lowBatterySendMs - failed.ms,
    },
    failedSends: failed,
    heartbeats: {
      count: beats.delivered + beats.failed + beats.cutOff,
      ms: tally.heartbeatSendMs,
    },
    waitMs: tally.joinWaitMs,
    heldMs: tally.heldMs,
    shutBootMs: tally.shutBootMs,
    contactShutMs,
  };
}

function pairsOf({ fromMs, toMs }: Spans): [number, number][] {
  return Array.from(fromMs, (from, index) => [from, toMs[index] ?? Number.POSITIVE_INFINITY]);
}

function flatPairs(flat: Trace['flat']): [number, number][] {
  return flat.map(({ fromMs, toMs }) => [fromMs, toMs]);
}

interface Window {
  readonly fromMs: number;
  readonly toMs: number;
}

/** How long the contact is closed within a window, without the spans in which there is no power. */
export function poweredShutMs(edges: ContactEdges, off: Spans, { fromMs, toMs }: Window): number {
  let total = shutMs(edges, { fromMs, toMs });
  off.fromMs.forEach((start, index) => {
    const span = {
      fromMs: Math.max(start, fromMs),
      toMs: Math.min(off.toMs[index] ?? toMs, toMs),
    };
    if (span.fromMs < span.toMs) total -= shutMs(edges, span);
  });
  return total;
}

/** How long the contact is closed within a window. Edges go to open and to shut in turn, the first one to open. */
function shutMs(edges: ContactEdges, { fromMs, toMs }: Window): number {
  let open = 0;
  // From the pair of edges that the window begins in.
  const first = (firstAfter(edges, fromMs) - 1) & ~1;
  for (let index = Math.max(0, first); index < edges.length; index += 2) {
    const opened = edges[index] ?? toMs;
    if (opened >= toMs) break;
    // The first pair may be over before the window begins.
    open += Math.max(0, Math.min(edges[index + 1] ?? toMs, toMs) - Math.max(opened, fromMs));
  }
  return toMs - fromMs - open;
}
