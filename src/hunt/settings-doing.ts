// What the machine of the watch file breaks as well is the settings' doing, not that of a firmware in its place. When a
// firmware looks at the door hangs on milliseconds that are its own affair, and so the machine is tried at other phases.
import { greatestOf, itemAt } from '../base/index.js';
import { mostExcusedBreaches } from '../model/index.js';
import { simulate, type Trace } from '../sim/index.js';
import { cutAt, type Span, shiftedFrom } from '../timeline/index.js';
import type { NamedProperty } from './properties/index.js';
import { type Breach, breachesOf, type Property, type Ran } from './question.js';
import { runTrial } from './run-trial.js';
import { type Trial, trialSeed } from './trial.js';

/** Properties that are broken only where the machine does better. @param excuses called with each breach that is not counted, and its timeline. */
export function unlessTheMachine(
  asked: readonly NamedProperty[],
  excuses: (found: Breach, trial: Trial) => void,
): readonly NamedProperty[] {
  return asked.map(({ about, property }) => ({
    about,
    property: {
      ...property,
      breach(ran) {
        // What the machine does no better may hide what it does better, later in the timeline.
        let excused = 0;
        for (const found of breachesOf(property, ran)) {
          if (!machineBreaks(ran, found, noBetterThan(property, asked))) return found;
          excuses(found, ran.trial);
          excused += 1;
          if (excused === mostExcusedBreaches) break;
        }
        return null;
      },
    },
  }));
}

/** What is as bad as a breach of a property, or worse: never reported, where it is late. */
function noBetterThan({ name }: Property, asked: readonly NamedProperty[]): readonly Property[] {
  return asked
    .map(({ property }) => property)
    .filter((one) => one.name === name || (name === 'in-time' && one.name === 'reported'));
}

function machineBreaks(ran: Ran, found: Breach, properties: readonly Property[]): boolean {
  const question = { ...ran.question, run: undefined };
  const opening = openingOf(ran, found);
  for (const trial of variantsOf(ran, found)) {
    const machine = runTrial(question, trial);
    for (const property of properties) {
      for (const own of breachesOf(property, machine)) {
        if (isNearby(openingOf(machine, own), opening)) return true;
      }
    }
  }
  return false;
}

/** The opening that a breach is about, by its index; null: it is about none. */
function openingOf({ trial, verdict }: Ran, { subject }: Breach): number | null {
  if (subject === null) return null;
  if (subject.kind === 'opening') return subject.index;
  const atMs = itemAt(verdict.alerts, subject.index).decidedMs;
  return trial.openings.findLastIndex(([fromMs]) => fromMs <= atMs);
}

/** Of two openings that a device takes for one, it may be either that goes unreported. */
function isNearby(one: number | null, other: number | null): boolean {
  return one === null || other === null || Math.abs(one - other) <= 1;
}

/** The trial as it is, with the door or the faults moved, and with another phase after its longest quiet stretch. */
function* variantsOf(ran: Ran, found: Breach): Generator<Trial> {
  for (const byMs of movesMs(ran, found)) yield moved(ran.trial, byMs);
  if (found.subject !== null && hasFaults(ran.trial)) {
    const fromMs = edgesOf(ran, found)[0] ?? 0;
    for (const byMs of faultMovesMs) yield withFaultsMoved(ran.trial, fromMs, byMs);
    for (const share of faultShares) {
      const byMs = Math.round(share * ran.question.watch.checkIntervalMs);
      yield withOutagesEnding(ran.trial, fromMs, byMs);
    }
  }
  if (!judged.includes(found.property)) return;
  const lastMs = Math.max(0, greatestOf(edgesOf(ran, found)));
  const { checkIntervalMs, alertCooldownMs } = ran.question.watch;
  const driftedMs = (driftMs * lastMs) / checkIntervalMs;
  const phasesMs = Math.min(driftedMs, checkIntervalMs + alertCooldownMs);
  if (phasesMs <= farthest * checkIntervalMs) return;
  for (const fromMs of longStretchEndsMs(ran.trial, lastMs)) {
    const byMs = checkIntervalMs / stretchSteps;
    for (let step = 1; step * byMs <= phasesMs && step <= mostSteps; step += 1) {
      yield stretched(ran.trial, fromMs, Math.round(step * byMs));
    }
  }
}

/** Steps in a check interval, and the most steps that a stretch is lengthened by. */
const stretchSteps = 12;
const mostSteps = 120;

/** Where the two longest stretches end in which the door does not move, of those up to an instant. */
function longStretchEndsMs({ openings }: Trial, untilMs: number): readonly number[] {
  const edges = [0, ...openings.flat()].filter((ms) => ms <= untilMs);
  const gaps = edges.slice(1).map((ms, index) => ({ ms, gapMs: ms - (edges[index] ?? 0) }));
  return gaps
    .sort((a, b) => b.gapMs - a.gapMs)
    .slice(0, 2)
    .map(({ ms }) => ms);
}

/** Everything from an instant on happens later. */
function stretched(trial: Trial, fromMs: number, byMs: number): Trial {
  return { ...shiftedFrom(trial, fromMs, byMs), lengthMs: trial.lengthMs + byMs };
}

/** Those that go by when the device happens to look. */
const judged: readonly string[] = ['reported', 'in-time', 'quiet'];
/** Shares of a check interval: as far as the door is moved at first, and by how much where nothing says better. */
const farthest = 0.125;
const shares = [0.05, -0.05, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.4, -0.4, 0.5] as const;
/** By how much a firmware may check sooner or later than the machine, each time: after days, at any phase. */
const driftMs = 50;

/** How far the door is moved: not at all; so that it moves at a check, or just after; or by a little. */
function* movesMs(ran: Ran, found: Breach): Generator<number> {
  yield 0;
  if (!judged.includes(found.property)) return;
  const { program } = ran.question;
  const { world, trial } = ran;
  const { checkIntervalMs } = ran.question.watch;
  const { wakes } = simulate({ program, timing: trial.timing, world, seed: trialSeed });
  const edges = edgesOf(ran, found);
  const checks = Math.max(0, greatestOf(edges)) / checkIntervalMs;
  const farthestMs = Math.max(farthest * checkIntervalMs, driftMs * checks);
  for (const edgeMs of edges) {
    const checkMs = lastCheckMs(wakes, edgeMs);
    if (edgeMs - checkMs > farthestMs) continue;
    yield checkMs - edgeMs;
    yield checkMs + 1 - edgeMs;
  }
  for (const share of shares) {
    const byMs = Math.round(share * checkIntervalMs);
    if (Math.abs(byMs) <= farthestMs) yield byMs;
  }
}

/** Where the door moves in the opening that a breach is about, and in the one before it. */
function edgesOf(ran: Ran, found: Breach): readonly number[] {
  const opening = openingOf(ran, found);
  if (opening === null) return [];
  return ran.trial.openings
    .slice(Math.max(0, opening - 1), opening + 1)
    .flat()
    .filter(Number.isFinite);
}

/** The last check up to an instant; without one, that instant. */
function lastCheckMs(wakes: Trace['wakes'], edgeMs: number): number {
  const { check, repeats, periodMs } =
    wakes.findLast((wake) => wake.check !== null && wake.check.atMs <= edgeMs) ?? nothing;
  if (check === null) return edgeMs;
  const more = periodMs === 0 ? 0 : Math.floor((edgeMs - check.atMs) / periodMs);
  return check.atMs + Math.min(repeats, more) * periodMs;
}

const nothing = { check: null, repeats: 0, periodMs: 0 };

/** A fault that comes as a send or a cooldown ends comes just before or after it in a device at another phase. */
const faultMovesMs = [50, -50, 250, -250, 1_000, -1_000] as const;
/** After some failed attempts the next one comes at any phase of the retries: shares of a check interval. */
const faultShares = [0.1, -0.1, 0.25, -0.25, 0.5, -0.5] as const;

function hasFaults({ resets, networkDown, powerLost }: Trial): boolean {
  return resets.length + networkDown.length + powerLost.length > 0;
}

/** The faults from an instant on: those before it are what the device's phase comes from. */
function withFaultsMoved(trial: Trial, fromMs: number, byMs: number): Trial {
  const later = (spans: readonly Span[]): readonly Span[] => [
    ...spans.filter(([startMs]) => startMs < fromMs),
    ...shifted(
      spans.filter(([startMs]) => startMs >= fromMs),
      byMs,
    ),
  ];
  const resets = trial.resets.map((reset) =>
    reset.atMs < fromMs ? reset : { ...reset, atMs: Math.max(0, reset.atMs + byMs) },
  );
  const { networkDown, powerLost } = trial;
  const faults = { networkDown: later(networkDown), powerLost: later(powerLost), resets };
  return cutAt({ ...trial, ...faults }, trial.lengthMs);
}

/** The outages that begin from an instant on end sooner or later. */
function withOutagesEnding(trial: Trial, fromMs: number, byMs: number): Trial {
  const networkDown = trial.networkDown.map(([downMs, upMs], index): Span => {
    const nextMs = trial.networkDown[index + 1]?.[0] ?? Number.POSITIVE_INFINITY;
    if (downMs < fromMs) return [downMs, upMs];
    return [downMs, Math.min(nextMs - 1, Math.max(downMs + 1, upMs + byMs))];
  });
  return cutAt({ ...trial, networkDown }, trial.lengthMs);
}

function moved(trial: Trial, byMs: number): Trial {
  if (byMs === 0) return trial;
  return cutAt({ ...trial, openings: shifted(trial.openings, byMs) }, trial.lengthMs);
}

function shifted(spans: readonly Span[], byMs: number): readonly Span[] {
  return spans
    .map(([fromMs, toMs]): Span => [Math.max(0, fromMs + byMs), toMs + byMs])
    .filter(([fromMs, toMs]) => toMs > fromMs);
}
