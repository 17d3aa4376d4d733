// Alerts along a window: when one was pending, each attempt to send it, and how long the device kept quiet after.
import { atLeastMs, cellAt, ppm } from '../../base/index.js';
import type { WatchFile } from '../../scenarios/index.js';
import type { AlertRecord, SendRecord, Trace } from '../../sim/index.js';
import { firstAfter, spansOf, type World } from '../../world/index.js';
import { wakesIn } from './wakes.js';
import { clipped, firstEndingAfter, spansIn, type Window } from './window.js';

/** Something of the alert with this index. */
export interface OfAlert {
  readonly alert: number;
}

/** When the alert is over for the device: delivered, dropped, forgotten, or with the timeline. */
export function settledMs(alert: AlertRecord, lengthMs: number): number {
  return alert.deliveredMs ?? alert.droppedMs ?? alert.forgottenMs ?? lengthMs;
}

/** Indices of the alerts decided in the window, or pending or attempted in it. */
export function alertsIn({ alerts, lengthMs }: Trace, { fromMs, toMs }: Window): number[] {
  return alerts.flatMap((alert, index) =>
    alert.decidedMs < toMs && settledMs(alert, lengthMs) >= fromMs ? [index] : [],
  );
}

export function attemptsIn(
  { alerts }: Pick<Trace, 'alerts'>,
  indices: readonly number[],
  { fromMs, toMs }: Window,
): (SendRecord & OfAlert)[] {
  return indices.flatMap((alert) =>
    (alerts[alert]?.attempts ?? [])
      .filter(({ startMs, endMs }) => startMs < toMs && endMs >= fromMs)
      .map((attempt) => ({ ...attempt, alert })),
  );
}

export function heartbeatsIn(trace: Pick<Trace, 'wakes'>, window: Window): SendRecord[] {
  return wakesIn(trace, window).flatMap(({ heartbeatSend }) =>
    heartbeatSend !== null &&
    heartbeatSend.startMs < window.toMs &&
    heartbeatSend.endMs >= window.fromMs
      ? [heartbeatSend]
      : [],
  );
}

/** Low-battery messages, in connections of their own and after alerts. */
export function lowBatteryIn(trace: Pick<Trace, 'wakes'>, window: Window): SendRecord[] {
  return wakesIn(trace, window).flatMap(({ lowBatterySend, lowBatteryWithAlert, alertSend }) => {
    const send = lowBatteryWithAlert === true ? alertSend : lowBatterySend;
    return send !== null && send.startMs < window.toMs && send.endMs >= window.fromMs ? [send] : [];
  });
}

/** Quiet times after deliveries, as far as they reach into the window. */
export function cooldownsIn(
  on: { readonly trace: Trace; readonly watchFile: WatchFile; readonly world: World },
  window: Window,
): (Window & OfAlert & { readonly whole: Window })[] {
  if (on.watchFile.watch.alertCooldownMs === 0) return [];
  return on.trace.alerts.flatMap(({ deliveredMs }, alert) => {
    if (deliveredMs === null || deliveredMs >= window.toMs) return [];
    const span = { fromMs: deliveredMs, toMs: cooldownEndMs(on, deliveredMs) };
    const part = clipped(span, window);
    return part === null ? [] : [{ ...part, alert, whole: span }];
  });
}

/** The first of: its time has run out, a check ended it, the power was lost. */
function cooldownEndMs(
  {
    trace,
    watchFile,
    world,
  }: { readonly trace: Trace; readonly watchFile: WatchFile; readonly world: World },
  deliveredMs: number,
): number {
  const { alertCooldownMs } = watchFile.watch;
  const { clockErrorPpm } = trace.tally;
  const { powerLost } = world;
  const lossMs = powerLost.fromMs[firstEndingAfter(powerLost, deliveredMs)];
  // A clock whose error changes is known by what the checks found only; twice the time is ample to look through.
  const timerMs =
    deliveredMs +
    (clockErrorPpm === null ? alertCooldownMs * 2 : atLeastMs(alertCooldownMs, ppm(clockErrorPpm)));
  const latestMs = Math.min(timerMs, lossMs ?? timerMs, trace.lengthMs);
  for (const { check, memoryAfter } of wakesIn(trace, { fromMs: deliveredMs, toMs: latestMs })) {
    if (check === null || check.atMs <= deliveredMs) continue;
    if (!memoryAfter.coolingDown || (clockErrorPpm === null && check.cooldownOver)) {
      return Math.min(check.atMs, latestMs);
    }
  }
  return latestMs;
}

/** Stretches in which the device stays awake after a delivery and does nothing until reset. */
export function heldIn(trace: Trace, world: World, window: Window): Window[] {
  return wakesIn(trace, { fromMs: 0, toMs: window.toMs }).flatMap(({ holds, alertSend, check }) => {
    if (!holds || check === null) return [];
    const fromMs = alertSend?.endMs ?? check.atMs;
    const resetMs = world.resetsMs[firstAfter(world.resetsMs, fromMs)] ?? trace.lengthMs;
    const losses = world.powerLost.fromMs;
    const lossMs = losses[firstAfter(losses, fromMs)] ?? trace.lengthMs;
    const part = clipped({ fromMs, toMs: Math.min(resetMs, lossMs, trace.lengthMs) }, window);
    return part === null ? [] : [part];
  });
}

/** The world as the device met it: without charge it is without power as well. */
export function poweredWorld(world: World, { flat }: Pick<Trace, 'flat'>): World {
  if (flat.length === 0) return world;
  const { fromMs, toMs } = world.powerLost;
  const lost = Array.from(fromMs, (from, index) => [from, cellAt(toMs, index)] as const);
  const used = flat.map((span) => [span.fromMs, span.toMs] as const);
  return { ...world, powerLost: spansOf([...lost, ...used]) };
}

/** When the device has no power: lost, or not yet switched on. */
export function powerlessIn(world: World, window: Window): Window[] {
  const { powerOnAtMs, powerLost } = world;
  const notYet = clipped({ fromMs: 0, toMs: powerOnAtMs }, window);
  const on = { fromMs: Math.max(window.fromMs, powerOnAtMs), toMs: window.toMs };
  const lost: Window[] = on.fromMs < on.toMs ? spansIn(powerLost, on) : [];
  return notYet === null ? lost : [notYet, ...lost];
}
