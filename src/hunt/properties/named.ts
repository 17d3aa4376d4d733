// Properties that no watch file states; `hunt --property` tries them by name.
import { roundedDurationText } from '../../base/index.js';
import type { AlertRecord } from '../../sim/index.js';
import type { Span } from '../../timeline/index.js';
import { clockErrorRangeOf, spanAt } from '../../world/index.js';
import { mayBeSent, misreadWithin } from '../fairness.js';
import { longestPeriodMs } from '../pace.js';
import { type Property, type Ran, severally } from '../question.js';

/** No alert for a brief opening, nor for none, but by a contact that read open wrongly. */
export const noFalseAlarmProperty = alertProperty(
  'no-false-alarm',
  'no alert is false, however brief openings follow one another, unless the contact wrongly read open',
  (ran, index) => {
    const alert = ran.verdict.alerts[index];
    if (alert?.kind !== 'false') return null;
    const { decidedMs, opening } = alert;
    const { escalationThreshold, clearThreshold } = ran.question.watch;
    const checks = escalationThreshold.outOf + clearThreshold;
    const rememberedMs = checks * longestPeriodMs(ran.question.watch, ran.trial.timing);
    if (misreadWithin(ran, 'open', [decidedMs - rememberedMs, decidedMs + 1])) return null;
    if (opening === null) return 'an alert while the door was shut';
    const { durationMs } = ran.verdict.openings.at(opening);
    return `an alert for an opening of ${roundedDurationText(durationMs, 'at least')}`;
  },
);

/**
 * From a delivery on, no alert is decided for as long as the cooldown lasts, unless the door was shut meanwhile (where
 * that ends it) or retained memory was lost: with the power, or by a reset that clears it.
 */
export const oneAlertPerCooldownProperty = alertProperty(
  'one-alert-per-cooldown',
  'no second alert is decided within the cooldown of the first',
  (ran, index) => {
    const last = lastDelivery(ran, index);
    if (last === null || !last.withinCooldown || last.powerLostSince) return null;
    if (last.resetSince && ran.trial.resets.some(({ clears }) => clears)) return null;
    if (ran.question.watch.cooldownEndsWhenShut && last.shutSince) return null;
    return `an alert ${roundedDurationText(last.agoMs)} after the last delivery`;
  },
);

/** Every alert that is decided is delivered, where the network, the power and the timeline leave time for it, and no reset clears it. */
export const deliveredInTheEndProperty = alertProperty(
  'delivered-in-the-end',
  'every decided alert is delivered in the end, if the network and the power allow it',
  (ran, index) => {
    const alert = ran.trace.alerts[index];
    if (alert?.deliveredMs !== null) return null;
    const since = (atMs: number): boolean => atMs >= alert.decidedMs;
    const lostMs = ran.world.powerLost.fromMs.find(since) ?? ran.world.lengthMs;
    const cleared = ran.trial.resets.find(({ clears, atMs }) => clears && since(atMs));
    const untilMs = Math.min(lostMs, cleared?.atMs ?? ran.world.lengthMs);
    if (!mayBeSent(ran, [alert.decidedMs, untilMs])) return null;
    if (alert.droppedMs === null) return 'an alert that is never delivered';
    return `an alert given up ${roundedDurationText(alert.droppedMs - alert.decidedMs)} after it was decided`;
  },
);

/**
 * A reset or a power loss costs nothing: no decided alert is forgotten that could have been sent, and no opening gets a
 * second alert within the cooldown.
 */
export const retainedMemoryEnoughProperty = alertProperty(
  'retained-memory-enough',
  'no alert is forgotten or sent again because of a reset or a power loss',
  (ran, index) => {
    const alert = ran.trace.alerts[index];
    if (alert === undefined) return null;
    const goneMs = goneAtMs(ran, alert);
    if (goneMs !== null && mayBeSent(ran, [alert.decidedMs, ran.world.lengthMs])) {
      const why = ran.world.powerLost.fromMs.includes(goneMs) ? ', in a power loss' : '';
      return `an alert forgotten ${roundedDurationText(goneMs - alert.decidedMs)} after it was decided${why}`;
    }
    const last = lastDelivery(ran, index);
    if (last === null || !last.withinCooldown || last.shutSince) return null;
    return `a second alert ${roundedDurationText(last.agoMs)} after the first was delivered`;
  },
);

/** When the device forgot an alert: with its power, or though it is to send what it decided. */
function goneAtMs({ question }: Ran, alert: AlertRecord): number | null {
  if (alert.forgottenMs !== null) return alert.forgottenMs;
  return question.watch.unsentWhenShut === 'send' ? alert.droppedMs : null;
}

interface LastDelivery {
  /** From it to the decision of the alert in question. */
  readonly agoMs: number;
  readonly withinCooldown: boolean;
  readonly powerLostSince: boolean;
  readonly resetSince: boolean;
  /** The door was shut for some time since, or may have read so. */
  readonly shutSince: boolean;
}

/** The last delivery before an alert was decided; null: there was none. */
export function lastDelivery(ran: Ran, index: number): LastDelivery | null {
  const { trace, world } = ran;
  const earlier = trace.alerts.slice(0, index).findLast(({ deliveredMs }) => deliveredMs !== null);
  const decidedMs = trace.alerts[index]?.decidedMs ?? 0;
  const deliveredMs = earlier?.deliveredMs ?? null;
  if (deliveredMs === null) return null;
  const since: Span = [deliveredMs, decidedMs];
  const opening = spanAt(world.openings, deliveredMs);
  const stayedOpen = opening >= 0 && opening === spanAt(world.openings, decidedMs);
  const isSince = (atMs: number): boolean => atMs >= deliveredMs && atMs <= decidedMs;
  return {
    agoMs: decidedMs - deliveredMs,
    withinCooldown: decidedMs - deliveredMs < leastCooldownMs(ran),
    powerLostSince: world.powerLost.fromMs.some(isSince),
    resetSince: world.resetsMs.some(isSince),
    shutSince: !stayedOpen || misreadWithin(ran, 'shut', since),
  };
}

/** What the cooldown lasts at least on the device's clock; each sleep may be rounded down by half a millisecond. */
function leastCooldownMs({ question, trial }: Ran): number {
  const { alertCooldownMs, checkIntervalMs, recheckIntervalMs } = question.watch;
  const { least, most: greatest } = clockErrorRangeOf(trial.timing.clockError);
  const sleeps = Math.ceil(alertCooldownMs / Math.min(checkIntervalMs, recheckIntervalMs));
  const roundingMs = least === greatest ? 0 : sleeps;
  const shorterMs = roundingMs + (question.toleranceMs ?? 0);
  return alertCooldownMs * (1 + Math.min(0, least) / 1_000_000) - shorterMs;
}

/** A property of alerts, each looked at by itself. @param what of it breaks the promise, in one clause. */
export function alertProperty(
  name: string,
  promise: string,
  what: (ran: Ran, index: number) => string | null,
): Property {
  return severally({ name, promise }, function* (ran) {
    for (let index = 0; index < ran.trace.alerts.length; index += 1) {
      const found = what(ran, index);
      if (found !== null) {
        yield { property: name, subject: { kind: 'alert', index }, what: found };
      }
    }
  });
}
