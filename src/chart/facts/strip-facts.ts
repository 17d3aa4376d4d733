// All that there is to draw of one window.
import type { SendRecord } from '../../sim/index.js';
import type { AlertKind, JudgedOpening } from '../../verdict/index.js';
import { type Kind, lookOf } from '../kinds.js';
import type { Scene } from '../scene.js';
import {
  alertsIn,
  attemptsIn,
  cooldownsIn,
  heartbeatsIn,
  heldIn,
  lowBatteryIn,
  type OfAlert,
  poweredWorld,
  powerlessIn,
  settledMs,
} from './alerts.js';
import { contactReadings } from './contact.js';
import { failuresIn, type MemorySpan, memoryIn } from './memory.js';
import { type CheckRun, checksIn, type WrongCheck, wrongChecks } from './wakes.js';
import { clipped, spansIn, type Window } from './window.js';

export interface SeenOpening extends Window {
  readonly index: number;
  readonly judged: JudgedOpening;
}

export interface SeenAlert extends OfAlert {
  readonly kind: AlertKind;
  readonly decidedMs: number;
  readonly delivered: boolean;
  /** Null where it was not decided, or not waited for, inside the window. */
  readonly pending: Window | null;
}

export interface StripFacts extends Window {
  readonly openings: readonly SeenOpening[];
  /** Null where the contact reads just what the door does. */
  readonly readsOpen: readonly Window[] | null;
  readonly checks: readonly CheckRun[];
  readonly wrongChecks: readonly WrongCheck[];
  readonly memory: readonly MemorySpan[];
  readonly failures: readonly (Window & { readonly failed: number })[];
  readonly alerts: readonly SeenAlert[];
  readonly attempts: readonly (SendRecord & OfAlert)[];
  readonly heartbeats: readonly SendRecord[];
  readonly lowBattery: readonly SendRecord[];
  /** A close-up shows a part of each; `whole` is all of it. */
  readonly cooldowns: readonly (Window & OfAlert & { readonly whole: Window })[];
  readonly held: readonly Window[];
  readonly networkDown: readonly Window[];
  readonly powerless: readonly Window[];
  readonly resets: readonly number[];
}

/** @param grainMs true time of about half a pixel. */
export function stripFacts(scene: Scene, window: Window, grainMs: number): StripFacts {
  const { trace, verdict, timeline, lengthMs } = scene;
  const world = poweredWorld(timeline.world, trace);
  const alerts = alertsIn(trace, window);
  const checks = checksIn(trace, window);
  return {
    fromMs: window.fromMs,
    toMs: window.toMs,
    openings: spansIn(world.openings, window).map((span) => ({
      ...span,
      judged: verdict.openings.at(span.index),
    })),
    readsOpen: contactReadings(world, window, grainMs),
    checks,
    wrongChecks: checks.flatMap((run) => wrongChecks(run, world.openings)),
    memory: memoryIn(trace, world, window),
    failures: failuresIn(trace, world, window),
    alerts: alerts.flatMap((alert): SeenAlert[] => {
      const record = trace.alerts[alert];
      const judged = verdict.alerts[alert];
      if (record === undefined || judged === undefined) return [];
      const { decidedMs, deliveredMs } = record;
      const span = { fromMs: decidedMs, toMs: settledMs(record, lengthMs) };
      const pending = clipped(span, window);
      return [{ alert, kind: judged.kind, decidedMs, delivered: deliveredMs !== null, pending }];
    }),
    attempts: attemptsIn(trace, alerts, window),
    heartbeats: heartbeatsIn(trace, window),
    lowBattery: lowBatteryIn(trace, window),
    cooldowns: cooldownsIn({ trace, world, watchFile: scene.watchFile }, window),
    held: heldIn(trace, world, window),
    networkDown: spansIn(world.networkDown, window),
    powerless: powerlessIn(world, window),
    resets: [...world.resetsMs].filter((ms) => ms >= window.fromMs && ms < window.toMs),
  };
}

/** What of all kinds there is to see. */
export function kindsOf(facts: StripFacts): Set<Kind> {
  const kinds = new Set<Kind>();
  const addIf = (seen: boolean, kind: Kind): void => {
    if (seen) kinds.add(kind);
  };
  for (const { judged } of facts.openings) kinds.add(lookOf(judged.outcome));
  for (const { kind, delivered, decidedMs } of facts.alerts) {
    addIf(decidedMs >= facts.fromMs, kind);
    addIf(!delivered && decidedMs >= facts.fromMs, 'unsent');
  }
  for (const { reads, wake } of facts.checks) {
    kinds.add(reads === 'open' ? 'checkOpen' : 'checkShut');
    addIf(wake.cause === 'contact', 'contactWake');
  }
  for (const { outcome } of facts.attempts) kinds.add(outcome);
  addIf(facts.readsOpen !== null, 'readsOpen');
  addIf(facts.wrongChecks.length > 0, 'checkWrong');
  addIf(facts.memory.length > 0, 'memory');
  addIf(
    facts.alerts.some(({ pending }) => pending !== null),
    'pending',
  );
  addIf(facts.heartbeats.length > 0, 'heartbeat');
  addIf(facts.lowBattery.length > 0, 'lowBattery');
  addIf(facts.cooldowns.length > 0, 'cooldown');
  addIf(facts.held.length > 0, 'held');
  addIf(facts.networkDown.length > 0, 'network');
  addIf(facts.powerless.length > 0, 'power');
  addIf(facts.resets.length > 0, 'reset');
  return kinds;
}
