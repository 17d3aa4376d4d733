// What the machine of the watch file breaks as well is the settings' doing, not that of a firmware in its place. When a
// firmware looks at the door hangs on milliseconds that are its own affair, and so the machine is tried at other phases.
import { greatestOf } from '../base/index.js';
import { simulate, type Trace } from '../sim/index.js';
import { cutAt, type Span, shiftedFrom } from '../timeline/index.js';
import type { NamedProperty } from './properties/index.js';
import type { Breach, Property, Ran } from './question.js';
import { runTrial } from './run-trial.js';
import { type Trial, trialSeed } from './trial.js';

/** Properties that are broken only where the machine does better. @param excuses called for each breach that is not counted. */
export function unlessTheMachine(
  asked: readonly NamedProperty[],
  excuses: () => void,
): readonly NamedProperty[] {
  return asked.map(({ about, property }) => ({
    about,
    property: {
      ...property,
      breach(ran) {
        const found = property.breach(ran);
        if (found === null || !machineBreaks(ran, found, noBetterThan(property, asked))) {
          return found;
        }
        excuses();
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
  for (const trial of variantsOf(ran, found)) {
    const machine = runTrial(question, trial);
    if (properties.some(({ breach }) => breach(machine) !== null)) return true;
  }
  return false;
}

/** The trial as it is, with the door moved, and with another phase after its longest quiet stretch. */
function* variantsOf(ran: Ran, found: Breach): Generator<Trial> {
  for (const byMs of movesMs(ran, found)) yield moved(ran.trial, byMs);
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
function edgesOf({ trial, verdict }: Ran, { subject }: Breach): readonly number[] {
  if (subject === null) return [];
  const atMs = verdict.alerts[subject.index]?.decidedMs ?? 0;
  const opening =
    subject.kind === 'opening'
      ? subject.index
      : trial.openings.findLastIndex(([fromMs]) => fromMs <= atMs);
  return trial.openings
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

function moved(trial: Trial, byMs: number): Trial {
  if (byMs === 0) return trial;
  const openings = trial.openings
    .map(([fromMs, toMs]): Span => [Math.max(0, fromMs + byMs), toMs + byMs])
    .filter(([fromMs, toMs]) => toMs > fromMs);
  return cutAt({ ...trial, openings }, trial.lengthMs);
}
