// The devices of one piece through their next wake, and on through wakes that are like it. Each comparison is made for the first
// phase, and the piece is narrowed to the phases for which it comes out the same. The order at one instant is that of sim/kernel.ts.
import { cellAt, itemAt } from '../base/index.js';
import { effectBit, effectCell, inputCode, nextState, wokenState } from '../machine/index.js';
import { answerTo, type SendKind, sendIn } from '../sim/index.js';
import { firstAfter, nextBorder, type Spans, spanAt } from '../world/index.js';
import { type Device, type Draws, sleepIndex } from './device.js';
import { doorShut, noAlert, noPending, type Piece, type Slope } from './piece.js';
import type { WakeOutcome } from './wake-outcome.js';

const timer = inputCode.wake.timer;
const never = Number.POSITIVE_INFINITY;

/** How far a piece got. */
export type Advanced =
  /** Through a wake. */
  | 'on'
  /** Its next check is at or after the instant to which it was to go. */
  | 'there'
  /** The device does nothing more in this timeline. */
  | 'over';

/**
 * Whether one instant comes before another, for every phase that the piece keeps: it is narrowed to those that agree with its
 * first phase.
 * @param slope how the time from the one to the other changes with the phase: their slopes' difference.
 */
function before(piece: Piece, one: number, other: number, slope: number): boolean {
  const apart = other - one;
  const is = apart > 0;
  if (slope === 0 || piece.lo === piece.hi) return is;
  if (is && slope < 0) piece.hi = Math.min(piece.hi, piece.lo + apart - 1);
  else if (!is && slope > 0) piece.hi = Math.min(piece.hi, piece.lo - apart);
  return is;
}

/** The span that holds an instant of the piece, or −1; the same for every phase that the piece keeps. */
function spanOf(piece: Piece, spans: Spans, atMs: number, slope: Slope): number {
  const index = spanAt(spans, atMs);
  const border =
    index >= 0
      ? cellAt(spans.toMs, index)
      : (spans.fromMs[firstAfter(spans.fromMs, atMs)] ?? never);
  before(piece, atMs, border, -slope);
  return index;
}

/** What the device cannot pass: the next fault, or the end of the timeline. */
function limitOf(device: Device, piece: Piece): number {
  return Math.min(cellAt(device.faults.atMs, piece.fault), device.lengthMs);
}

/** Takes the piece through its next wake if its check comes before an instant. The piece may come out narrower. */
export function advance(
  device: Device,
  piece: Piece,
  { untilMs, outcome }: { readonly untilMs: number; readonly outcome: WakeOutcome },
): Advanced {
  outcome.decided = noAlert;
  outcome.decidedIn = -1;
  outcome.delivered = noAlert;
  outcome.deliveredIn = -1;
  outcome.cutOff = noAlert;
  const limitMs = limitOf(device, piece);
  const { wakeMs, wakeSlope, cause } = piece;
  if (!before(piece, wakeMs, limitMs, -wakeSlope)) return takeFault(device, piece);
  const checkMs = wakeMs + device.boot.at(piece.boots);
  if (!before(piece, checkMs, untilMs, -wakeSlope)) return 'there';
  if (device.boot.steadyMs === null) piece.boots += 1;
  const stateBefore = piece.state;
  piece.state = wokenState(device.table, stateBefore, cause);
  piece.spent += device.charge?.wake ?? 0;
  if (!before(piece, checkMs, limitMs, -wakeSlope)) return takeFault(device, piece);
  const code = checked(device, piece, checkMs);
  const effects = effectCell(device.table, piece.state, code);
  piece.state = nextState(device.table, piece.state, code);
  if ((effects & ~(effectBit.blink | effectBit.sleepMask)) !== 0) {
    return act(device, piece, { checkMs, effects, outcome });
  }
  let fromMs = checkMs;
  if (piece.state === stateBefore && cause === timer) {
    fromMs = likeWakes(device, piece, { checkMs, code, effects, untilMs });
  }
  return fallAsleep(device, piece, { fromMs, slope: wakeSlope, effects });
}

/** The facts of a check as its column of the table. */
function checked(device: Device, piece: Piece, checkMs: number): number {
  const { edges } = device;
  const { wakeSlope: slope } = piece;
  while ((edges[piece.edge] ?? never) <= checkMs) piece.edge += 1;
  before(piece, checkMs, edges[piece.edge] ?? never, -slope);
  let code: number = inputCode.check + (piece.edge & 1);
  const reading = checkMs + piece.readingOffsetMs;
  if (!before(piece, reading, piece.cooldownEnd, piece.cooldownSlope - slope)) {
    code += inputCode.checkCooldownOver;
    noCooldown(piece);
  }
  if (!before(piece, reading, piece.heartbeatEnd, piece.heartbeatSlope - slope)) {
    code += inputCode.checkHeartbeatDue;
  }
  if (isLowDue(device, piece, checkMs)) code += inputCode.checkLowBatteryDue;
  return code;
}

/** Whether the battery counts as low, and may be reported. Of its charge it is known that it is not low in this timeline. */
function isLowDue({ batteryLow }: Device, piece: Piece, checkMs: number): boolean {
  if (piece.lowBatteryEnd === never) return false;
  const { wakeSlope: slope } = piece;
  if (spanOf(piece, batteryLow, checkMs, slope) < 0) return false;
  const reading = checkMs + piece.readingOffsetMs;
  if (before(piece, reading, piece.lowBatteryEnd, piece.lowBatterySlope - slope)) return false;
  mayReportLow(piece);
  return true;
}

/** The time since the last low-battery message no longer matters. */
export function mayReportLow(piece: Piece): void {
  piece.lowBatteryEnd = Number.NEGATIVE_INFINITY;
  piece.lowBatterySlope = 0;
}

export function noCooldown(piece: Piece): void {
  piece.cooldownEnd = Number.NEGATIVE_INFINITY;
  piece.cooldownSlope = 0;
}

/** A row of wakes that are alike: from the check of one to that of the next a sleep passes, and the next boot. */
interface Rhythm {
  readonly boot: Draws;
  /** The number of the next boot. */
  readonly boots: number;
  readonly sleepMs: number;
}

/** How long after this check that of the wake comes which is this many wakes later. */
function laterMs({ boot, boots, sleepMs }: Rhythm, wakes: number): number {
  return wakes * sleepMs + boot.sumMs(boots, wakes);
}

/** How many of the next wakes have their checks within a time after this one, at most. */
function wakesWithin(rhythm: Rhythm, leftMs: number, most: number): number {
  const { steadyMs } = rhythm.boot;
  const { sleepMs } = rhythm;
  if (steadyMs !== null) return Math.min(most, Math.ceil(leftMs / (sleepMs + steadyMs)) - 1);
  let low = 0;
  let high = Math.min(most, Math.ceil(leftMs / sleepMs) - 1);
  if (high <= 0) return high;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (laterMs(rhythm, middle) < leftMs) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Steps over the wakes that are like the one just made. @returns the check of the last of them. */
function likeWakes(
  device: Device,
  piece: Piece,
  at: {
    readonly checkMs: number;
    readonly code: number;
    readonly effects: number;
    readonly untilMs: number;
  },
): number {
  const { boot, sleep, edges } = device;
  const { checkMs, code } = at;
  if (sleep.steadyMs === null || device.armed !== 'none') return checkMs;
  const kind = sleepIndex(at.effects);
  const nominalMs = itemAt(sleep.nominalMs, kind);
  const lengthMs = itemAt(sleep.steadyMs, kind);
  const gainMs = sleep.countsNominal ? nominalMs - lengthMs : 0;
  const { boots, wakeSlope: slope } = piece;
  const rhythm: Rhythm = { boot, boots, sleepMs: lengthMs };
  // As the device counts it.
  const counted: Rhythm = { boot, boots, sleepMs: lengthMs + gainMs };
  const endMs = Math.min(limitOf(device, piece), at.untilMs);
  const reading = checkMs + piece.readingOffsetMs;
  const cooled = (code & inputCode.checkCooldownOver) !== 0;
  const beat = (code & inputCode.checkHeartbeatDue) !== 0;
  const low = lowUntil(device, piece, checkMs);
  let most = wakesWithin(rhythm, endMs - checkMs, never);
  if (!cooled) most = wakesWithin(counted, piece.cooldownEnd - reading, most);
  if (!beat) most = wakesWithin(counted, piece.heartbeatEnd - reading, most);
  most = wakesWithin(rhythm, low.borderMs - checkMs, most);
  most = wakesWithin(counted, low.readingMs - reading, most);
  const times = alikeBefore(piece, edges, { checkMs, rhythm, most });
  if (times <= 0) return checkMs;
  const lastMs = checkMs + laterMs(rhythm, times);
  const lastReading = reading + laterMs(counted, times);
  before(piece, lastMs, endMs, -slope);
  if (!cooled) before(piece, lastReading, piece.cooldownEnd, piece.cooldownSlope - slope);
  if (!beat) before(piece, lastReading, piece.heartbeatEnd, piece.heartbeatSlope - slope);
  before(piece, lastMs, low.borderMs, -slope);
  before(piece, lastReading, low.readingMs, piece.lowBatterySlope - slope);
  if (boot.steadyMs === null) piece.boots += times;
  piece.readingOffsetMs += times * gainMs;
  piece.spent += times * (device.charge?.wake ?? 0);
  return lastMs;
}

/** Up to which instant, and which reading of the clock, checks after this one find the battery as it did. */
function lowUntil({ batteryLow }: Device, piece: Piece, checkMs: number) {
  const none = { borderMs: never, readingMs: never };
  if (piece.lowBatteryEnd === never) return none;
  const isLow = spanAt(batteryLow, checkMs) >= 0;
  const reading = checkMs + piece.readingOffsetMs;
  return {
    borderMs: nextBorder(batteryLow, checkMs),
    readingMs: isLow && reading < piece.lowBatteryEnd ? piece.lowBatteryEnd : never,
  };
}

/** How many of the next checks read the contact as this one did; edges that come and go between two of them are stepped over. */
function alikeBefore(
  piece: Piece,
  edges: Float64Array,
  at: { readonly checkMs: number; readonly rhythm: Rhythm; readonly most: number },
): number {
  const { checkMs, rhythm, most } = at;
  const { wakeSlope: slope } = piece;
  for (;;) {
    const edgeMs = edges[piece.edge] ?? never;
    const times = wakesWithin(rhythm, edgeMs - checkMs, most);
    before(piece, checkMs + laterMs(rhythm, times), edgeMs, -slope);
    if (times >= most) return most;
    const seesMs = checkMs + laterMs(rhythm, times + 1);
    let ahead = piece.edge + 1;
    while ((edges[ahead] ?? never) <= seesMs) ahead += 1;
    if (((ahead - piece.edge) & 1) === 1) return times;
    piece.edge = ahead;
  }
}

/** Sends, drops or holds. */
function act(
  device: Device,
  piece: Piece,
  at: { readonly checkMs: number; readonly effects: number; readonly outcome: WakeOutcome },
): Advanced {
  const { checkMs, effects, outcome } = at;
  if ((effects & effectBit.dropAlert) !== 0) noPending(piece);
  if ((effects & effectBit.decideAlert) !== 0) decide(device, piece, { checkMs, outcome });
  const kind = sendIn(effects);
  // Written out: a spread costs far more, and pieces send often.
  const sent =
    kind === null
      ? { endMs: checkMs, slope: piece.wakeSlope, effects }
      : send(device, piece, { checkMs, effects, kind, outcome });
  if (sent === null) return takeFault(device, piece);
  if ((sent.effects & effectBit.sleepMask) === 0) {
    piece.spent += (limitOf(device, piece) - sent.endMs) * (device.charge?.holdPerMs ?? 0);
    return takeFault(device, piece);
  }
  return fallAsleep(device, piece, {
    fromMs: sent.endMs,
    slope: sent.slope,
    effects: sent.effects,
  });
}

/** An alert is decided, of the opening there. */
function decide(
  { openings, doubts }: Device,
  piece: Piece,
  { checkMs, outcome }: { readonly checkMs: number; readonly outcome: WakeOutcome },
): void {
  const { wakeSlope: slope } = piece;
  const opening = spanOf(piece, openings, checkMs, slope);
  piece.pending = opening < 0 ? doorShut : opening;
  outcome.decided = piece.pending;
  if (doubts.unavailable.fromMs.length === 0) return;
  piece.pendingIn = spanOf(piece, doubts.ranges, checkMs, slope);
  piece.pendingStretch = spanOf(piece, doubts.stretches, checkMs, slope);
  outcome.decidedIn = piece.pendingIn;
  outcome.decidedStretch = piece.pendingStretch;
  outcome.isDecidedUnseen = spanOf(piece, doubts.unavailable, checkMs, slope) >= 0;
}

/** One attempt; null: it is cut off. */
function send(
  device: Device,
  piece: Piece,
  at: {
    readonly checkMs: number;
    readonly effects: number;
    readonly kind: SendKind;
    readonly outcome: WakeOutcome;
  },
): { readonly endMs: number; readonly slope: Slope; readonly effects: number } | null {
  const { checkMs, kind, outcome } = at;
  const { table, connect } = device;
  const dueMs = checkMs + connect.at(piece.connects);
  if (connect.steadyMs === null) piece.connects += 1;
  piece.spent += device.charge?.send ?? 0;
  if (kind === 'heartbeat') {
    piece.heartbeatEnd = checkMs + piece.readingOffsetMs + device.heartbeatTimer;
    piece.heartbeatSlope = piece.wakeSlope;
  }
  const limitMs = limitOf(device, piece);
  const isLast = limitMs >= device.lengthMs && kind === 'alert';
  if (!before(piece, dueMs, limitMs, -piece.wakeSlope)) {
    if (isLast && joined(device, piece, dueMs).isUp) outcome.cutOff = piece.pending;
    return null;
  }
  const { endMs, slope, isUp: isDelivered } = joined(device, piece, dueMs);
  if (!before(piece, endMs, limitMs, -slope)) {
    if (isLast && isDelivered) outcome.cutOff = piece.pending;
    return null;
  }
  const code = answerTo(kind, isDelivered);
  const effects = effectCell(table, piece.state, code);
  piece.state = nextState(table, piece.state, code);
  if (kind === 'alert' && isDelivered) {
    piece.cooldownEnd = endMs + piece.readingOffsetMs + device.cooldownTimer;
    piece.cooldownSlope = slope;
    outcome.delivered = piece.pending;
    outcome.deliveredIn = piece.pendingIn;
    outcome.deliveredStretch = piece.pendingStretch;
    outcome.deliveredMs = endMs;
    outcome.deliveredSlope = slope;
    noPending(piece);
  }
  if (isDelivered && (at.effects & effectBit.attemptLowBattery) !== 0) {
    piece.lowBatteryEnd = endMs + piece.readingOffsetMs + device.lowBatteryTimer;
    piece.lowBatterySlope = slope;
  }
  return { endMs, slope, effects };
}

/** Where the devices wait for the network, they meet it at one instant. */
function joined(
  { networkDown, joinWaitMs }: Device,
  piece: Piece,
  dueMs: number,
): { readonly endMs: number; readonly slope: Slope; readonly isUp: boolean } {
  const { wakeSlope: slope } = piece;
  const outage = spanOf(piece, networkDown, dueMs, slope);
  if (outage < 0) return { endMs: dueMs, slope, isUp: true };
  const upMs = cellAt(networkDown.toMs, outage);
  const givesUpMs = dueMs + joinWaitMs;
  // In time also at the very instant at which the device gives up.
  return before(piece, givesUpMs, upMs, -slope)
    ? { endMs: givesUpMs, slope, isUp: false }
    : { endMs: upMs, slope: 0, isUp: true };
}

/** Sleeps until the timer, an armed contact edge or a fault; sets up the next wake. */
function fallAsleep(
  device: Device,
  piece: Piece,
  at: { readonly fromMs: number; readonly slope: Slope; readonly effects: number },
): Advanced {
  const { fromMs, slope } = at;
  const { sleep } = device;
  const kind = sleepIndex(at.effects);
  const nominalMs = itemAt(sleep.nominalMs, kind);
  if (sleep.changesMs.length > 0) {
    before(piece, fromMs, sleep.changesMs[firstAfter(sleep.changesMs, fromMs)] ?? never, -slope);
  }
  const lengthMs = sleep.steadyMs?.[kind] ?? sleep.lengthMs(nominalMs, piece.sleeps, fromMs);
  if (sleep.isNumbered) piece.sleeps += 1;
  piece.wakeMs = fromMs + lengthMs;
  piece.wakeSlope = slope;
  piece.cause = timer;
  const isWoken = device.armed !== 'none' && wakeByEdge(device, piece, fromMs);
  if (!before(piece, piece.wakeMs, limitOf(device, piece), -piece.wakeSlope)) {
    return takeFault(device, piece);
  }
  if (!isWoken && sleep.countsNominal) piece.readingOffsetMs += nominalMs - lengthMs;
  return 'on';
}

/** An armed edge after falling asleep and before the timer wakes the devices of all phases at once. */
function wakeByEdge(device: Device, piece: Piece, asleepFromMs: number): boolean {
  const { edges, armed } = device;
  const { wakeSlope: slope } = piece;
  while ((edges[piece.edge] ?? never) <= asleepFromMs) piece.edge += 1;
  before(piece, asleepFromMs, edges[piece.edge] ?? never, -slope);
  const isToOpen = (piece.edge & 1) === 0;
  const edgeMs = edges[armed === 'all' || isToOpen ? piece.edge : piece.edge + 1];
  if (edgeMs === undefined || !before(piece, edgeMs, piece.wakeMs, slope)) return false;
  piece.wakeMs = edgeMs;
  piece.wakeSlope = 0;
  piece.cause = inputCode.wake.contact;
  return true;
}

/** The next fault strikes, at one instant for all phases; sets up the wake after it. */
function takeFault(device: Device, piece: Piece): Advanced {
  const { faults, lengthMs, table } = device;
  const { fault } = piece;
  const atMs = cellAt(faults.atMs, fault);
  if (atMs >= lengthMs) return 'over';
  const backMs = cellAt(faults.backMs, fault);
  piece.fault += 1;
  piece.wakeMs = backMs;
  piece.wakeSlope = 0;
  piece.cause = inputCode.wake.reset;
  if (backMs > atMs) piece.cause = inputCode.wake['power-on'];
  if (faults.clears[fault] === 1) {
    piece.state = nextState(table, piece.state, inputCode.powerLost);
    noPending(piece);
    noCooldown(piece);
    piece.heartbeatEnd = backMs + piece.readingOffsetMs + device.heartbeatTimer;
    piece.heartbeatSlope = 0;
    if (piece.lowBatteryEnd !== never) mayReportLow(piece);
  }
  return backMs < lengthMs ? 'on' : 'over';
}
