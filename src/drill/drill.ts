// The drill of a watch: steps chosen from all that it can be led to.
import { itemAt } from '../base/index.js';
import { automatonOf } from '../emit/index.js';
import { type FaultyProgram, faultyPrograms } from '../faulty/index.js';
import { nextState } from '../machine/index.js';
import type { Program } from '../sim/index.js';
import { inputsOf } from '../visits/index.js';
import type { DeviceTiming } from '../world/index.js';
import { type Choice, covering, pruned } from './choose.js';
import { cornersOf } from './corners.js';
import { exercisedOf } from './exercised.js';
import { type Candidate, endingsOf, placesOf, sidesOf } from './explore.js';
import type { Drill, DrillQuestion, Step } from './plan.js';
import { play } from './play.js';
import { provedOf } from './proved.js';
import { type Route, type Stage, walked, workEndOf } from './route.js';
import { fails } from './tell.js';

/**
 * A drill that shows every transition that a person can bring about and tell the time of, both sides of the bounds, and
 * every faulty watch that shows in messages. No steps: nothing about this watch can be told for sure.
 */
export function drillOf(question: DrillQuestion): Drill {
  const stage = stageOf(question);
  const candidates = [
    ...sidesOf(stage),
    ...[...placesOf(stage)].flatMap((place) => endingsOf(stage, place)),
  ];
  const choices = candidates
    .map((candidate) => choiceOf(stage, candidate))
    .sort((a, b) => a.candidate.endsMs - b.candidate.endsMs);
  const faults = faultyPrograms(question.program, question.timing).filter(({ alike }) => !alike);
  const sides = choices.filter(({ candidate }) => candidate.bounds.length > 0);
  const wanted = question.short ? sides : covering(choices);
  const all = withFaults(stage, { faults, choices, chosen: wanted });
  const kept = pruned(all, question.short ? isTold : () => true);
  const steps = kept.map(stepOf);
  const told = new Set(steps.flatMap(({ tells }) => tells));
  const names = faults.map(({ fault }) => fault.name);
  return {
    steps,
    totalMs: steps.reduce((sum, { endsMs }) => sum + endsMs, 0),
    toleranceMs: question.toleranceMs,
    ...exercisedOf(stage, new Set(kept.flatMap(({ shows }) => [...shows]))),
    faults: {
      told: names.filter((name) => told.has(name)),
      untold: names.filter((name) => !told.has(name)),
    },
    proved: provedOf(question),
  };
}

function stageOf(question: DrillQuestion): Stage {
  const { program, timing, toleranceMs } = question;
  const corners = cornersOf(timing, toleranceMs);
  const { checkIntervalMs, recheckIntervalMs, retryIntervalMs } = program.watch;
  const sleepMs = Math.max(checkIntervalMs, recheckIntervalMs, retryIntervalMs);
  const slowest = Math.max(...corners.map((corner) => longestWakeMs(corner.timing, sleepMs)));
  return { question, corners, automaton: automatonOf(program), horizonMs: slowest };
}

/** A sleep and all that may come around it, in a device of a corner. */
function longestWakeMs({ bootTime, connectTime, clockError }: DeviceTiming, sleepMs: number) {
  const boot = bootTime.kind === 'fixed' ? bootTime.ms : 0;
  const connect = connectTime.kind === 'fixed' ? connectTime.ms : 0;
  const error = clockError.kind === 'fixed' ? clockError.ppm : 0;
  return Math.ceil(sleepMs * (1 + error / 1_000_000)) + 2 * (boot + connect) + 20_000;
}

function choiceOf(stage: Stage, candidate: Candidate): Choice {
  const { made } = walked(stage, candidate.wakes);
  return {
    candidate,
    shows: new Set([...made, ...candidate.bounds.map((side) => `side ${side}`)]),
  };
}

/** The chosen with the faults that they tell; and for each that none of them tells, the shortest further step that does. */
function withFaults(
  stage: Stage,
  on: {
    readonly faults: readonly FaultyProgram[];
    readonly choices: readonly Choice[];
    readonly chosen: readonly Choice[];
  },
): readonly Choice[] {
  const chosen = new Set(on.chosen);
  const told = new Map<Choice, string[]>();
  for (const faulty of on.faults) {
    const telling = [...chosen].filter(({ candidate }) => fails(stage, faulty.program, candidate));
    const further = telling.length > 0 ? null : furtherStep(stage, faulty, on.choices);
    if (further !== null) {
      chosen.add(further);
      telling.push(further);
    }
    for (const choice of telling) {
      told.set(choice, [...(told.get(choice) ?? []), faulty.fault.name]);
    }
  }
  return [...chosen].map((choice) => ({
    candidate: choice.candidate,
    shows: new Set([...choice.shows, ...(told.get(choice) ?? []).map((name) => `fault ${name}`)]),
  }));
}

function furtherStep(
  stage: Stage,
  { program }: FaultyProgram,
  choices: readonly Choice[],
): Choice | null {
  const known = choices.find(({ candidate }) => fails(stage, program, candidate));
  if (known !== undefined) return known;
  // Nowhere that the sound watch can be led to at its quickest: perhaps where the two have come to differ.
  const aside = (route: Route): string => asideOf(stage, program, route);
  for (const place of placesOf(stage, aside)) {
    for (const candidate of endingsOf(stage, place)) {
      if (fails(stage, program, candidate)) return choiceOf(stage, candidate);
    }
  }
  return null;
}

/** What a faulty watch has come to by the same script. */
function asideOf({ question, corners }: Stage, program: Program, route: Route): string {
  const corner = itemAt(corners, 0);
  const { contact } = question;
  const { wakes } = play(program, { ...route, endsMs: workEndOf(route) + 1, corner, contact });
  let state = program.table.initial;
  for (const [index, wake] of wakes.entries()) {
    for (const code of inputsOf(wake, index)) state = nextState(program.table, state, code);
  }
  return ` ${String(state)}`;
}

/** What a short drill is about: sides of bounds and faults, and no reactions. */
function isTold(name: string): boolean {
  return /^(?:side|fault) /u.test(name);
}

function stepOf({ candidate, shows }: Choice): Step {
  const { actions, endsMs, windows, bounds } = candidate;
  const tells = [...shows].filter((name) => name.startsWith('fault '));
  return { actions, windows, endsMs, bounds, tells: tells.map((name) => name.slice(6)) };
}
