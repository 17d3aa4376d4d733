// The steps that together take the least time, of all candidates: a cover of what there is to show. Mistakes join what
// must be shown as soon as a choice leaves them untold; the last choice is the cheapest that tells them all, since no
// choice that tells them can be cheaper than one that need not tell some.

import { itemAt } from '../base/index.js';
import { inputsOf } from '../coverage/index.js';
import { nextState } from '../machine/index.js';
import { mostDrillPlacesAside } from '../model/index.js';
import type { MutantProgram } from '../mutants/index.js';
import type { Program } from '../sim/index.js';
import type { LeastCover } from './cover.js';
import { type Candidate, confirmed, cooldownSidesOf, endingsOf, sidesOf } from './endings.js';
import { explored } from './explore.js';
import { waitsFor } from './long.js';
import { type Awaited, type BoundSide, type DrillProgress, setUpMs } from './plan.js';
import { play } from './play.js';
import { type Route, workEndOf } from './route.js';
import { type Stage, stageOf } from './stage.js';
import { fails } from './tell.js';

export interface Chosen {
  readonly candidates: readonly Candidate[];
  /** For each of them the numbers of the mistakes that it tells. */
  readonly tells: readonly (readonly number[])[];
  readonly costMs: number;
  /** Proved: no choice of the candidates that shows as much takes less. */
  readonly atLeastMs: number;
  /** All that were to choose from, further ones for single mistakes included. */
  readonly among: readonly Candidate[];
  /** What the chosen show and no candidate does that does not wait for this. */
  readonly only: (setting: Awaited) => OnlyShown;
}

export interface OnlyShown {
  /** Numbers of mistakes. */
  readonly faults: readonly number[];
  readonly bounds: readonly BoundSide[];
  readonly transitions: number;
}

const resolutionMs = 1_000;

const sides: readonly BoundSide[] = [
  'longest-quiet',
  'shortest-told',
  'slowest',
  'soonest',
  'cooldown-running',
  'cooldown-over',
];

export function* chosenOf(
  stage: Stage,
  on: {
    readonly candidates: readonly Candidate[];
    readonly faults: readonly MutantProgram[];
    readonly leastCover: LeastCover;
  },
): Generator<DrillProgress, Chosen> {
  const { faults } = on;
  const candidates = [...on.candidates];
  const firstFault = stage.reactionCount + sides.length;
  const rows = candidates.map((candidate) => rowsOf(stage, candidate));
  const failing = remembered();
  const asked = new Set<number>();
  const sure = new Set<number>();
  const isTold = (candidate: Candidate, row: number): boolean =>
    row < firstFault || failing(itemAt(faults, row - firstFault).program, candidate);
  for (;;) {
    yield { doing: 'choosing steps', share: null };
    const cover = on.leastCover(
      candidates.map(({ endsMs }, index) => {
        return { cost: (endsMs + setUpMs) / resolutionMs, rows: itemAt(rows, index) };
      }),
    );
    if (confirmAll(cover.chosen, { sure, candidates, rows, isTold })) continue;
    const chosen = cover.chosen.map((index) => itemAt(candidates, index));
    const untold = [...faults.entries()].filter(
      ([number, { program }]) => !asked.has(number) && !chosen.some((one) => failing(program, one)),
    );
    for (const [done, [number, faulty]] of untold.entries()) {
      yield { doing: 'telling mistakes', share: done / untold.length };
      asked.add(number);
      const telling = candidates.flatMap((one, index) =>
        failing(faulty.program, one) ? [index] : [],
      );
      const further =
        telling.length > 0 ? null : (furtherStep(stage, faulty) ?? exactStep(stage, faulty));
      if (further !== null) {
        candidates.push(further);
        // It may also detect mistakes that were sought before it existed.
        const told = [...asked]
          .map((one) => firstFault + one)
          .filter((row) => isTold(further, row));
        rows.push([...rowsOf(stage, further), ...told]);
      }
      for (const index of telling) itemAt(rows, index).push(firstFault + number);
    }
    if (untold.length > 0) continue;
    const tells = chosen.map((one) =>
      [...faults.keys()].filter((number) => failing(itemAt(faults, number).program, one)),
    );
    const shown = { stage, candidates, rows, chosen: cover.chosen, tells, faults, failing };
    return {
      candidates: chosen,
      tells,
      costMs: cover.cost * resolutionMs,
      atLeastMs: cover.atLeast * resolutionMs,
      among: candidates,
      only: (setting) => onlyShown(shown, setting),
    };
  }
}

function onlyShown(
  on: {
    readonly stage: Stage;
    readonly candidates: readonly Candidate[];
    readonly rows: readonly (readonly number[])[];
    readonly chosen: readonly number[];
    readonly tells: readonly (readonly number[])[];
    readonly faults: readonly MutantProgram[];
    readonly failing: typeof fails;
  },
  setting: Awaited,
): OnlyShown {
  const { candidates, rows, chosen, tells, faults, failing } = on;
  const { reactionCount } = on.stage;
  const waits = (index: number): boolean => waitsFor(itemAt(candidates, index), setting);
  const others = [...candidates.keys()].filter((index) => !waits(index));
  const elsewhere = new Set(others.flatMap((index) => itemAt(rows, index)));
  const rest = new Set(
    chosen
      .filter(waits)
      .flatMap((index) => itemAt(rows, index).filter((row) => !elsewhere.has(row))),
  );
  const told = new Set(
    chosen.flatMap((index, place) => (waits(index) ? itemAt(tells, place) : [])),
  );
  return {
    faults: [...told].filter((number) => {
      const { program } = itemAt(faults, number);
      return !others.some((index) => tellsSurely(program, itemAt(candidates, index), failing));
    }),
    bounds: sides.filter((_, index) => rest.has(reactionCount + index)),
    transitions: [...rest].filter((row) => row < reactionCount).length,
  };
}

function tellsSurely(program: Program, candidate: Candidate, failing: typeof fails): boolean {
  if (!failing(program, candidate)) return false;
  const sure = confirmed(candidate);
  return sure !== null && fails(program, sure);
}

/** `fails`, found out once for each pair: each further choice compares the same ones again. */
function remembered(): typeof fails {
  const known = new Map<Candidate, Map<Program, boolean>>();
  return (program, candidate) => {
    const ofCandidate = known.get(candidate) ?? new Map<Program, boolean>();
    known.set(candidate, ofCandidate);
    const result = ofCandidate.get(program) ?? fails(program, candidate);
    ofCandidate.set(program, result);
    return result;
  };
}

/**
 * Makes sure of the chosen: what they show without doubt is known only then. Those that are not sure show nothing.
 * @returns whether something has changed, so that the choice must be made again.
 */
function confirmAll(
  chosen: readonly number[],
  on: {
    readonly sure: Set<number>;
    readonly candidates: Candidate[];
    readonly rows: number[][];
    readonly isTold: (candidate: Candidate, row: number) => boolean;
  },
): boolean {
  let changed = false;
  for (const index of chosen) {
    if (on.sure.has(index)) continue;
    on.sure.add(index);
    const candidate = confirmed(itemAt(on.candidates, index));
    const rows = itemAt(on.rows, index);
    const kept = candidate === null ? [] : rows.filter((row) => on.isTold(candidate, row));
    if (candidate !== null) on.candidates[index] = candidate;
    if (kept.length < rows.length) changed = true;
    on.rows[index] = kept;
  }
  return changed;
}

/** A short drill is about bounds and mistakes only. */
function rowsOf(stage: Stage, { made, bounds }: Candidate): number[] {
  const shown = bounds.map((side) => stage.reactionCount + sides.indexOf(side));
  return stage.question.short ? shown : [...made, ...shown];
}

/** Nowhere that the sound watch is led to at its quickest: perhaps where it and the faulty one have come to differ. */
function furtherStep(stage: Stage, { program }: MutantProgram): Candidate | null {
  const aside = (route: Route): string => ` ${String(faultyStateAfter(stage, program, route))}`;
  for (const place of explored(stage, { mostPlaces: mostDrillPlacesAside, aside })) {
    const sure = firstTelling(program, endingsOf(stage, place));
    if (sure !== null) return sure;
  }
  return null;
}

/** What a person can be, who looks at a clock. */
const exactMs = 1_000;

/** A side of a bound, done more exactly than the others; null: that tells it no more, or is as they are done anyway. */
function exactStep({ question }: Stage, { program }: MutantProgram): Candidate | null {
  if (question.toleranceMs <= exactMs) return null;
  const exact = stageOf({ ...question, toleranceMs: exactMs }, question.toleranceMs);
  return firstTelling(program, [...sidesOf(exact), ...cooldownSidesOf(exact)]);
}

/** The first of some candidates that tells a mistake, and without doubt. */
function firstTelling(program: Program, candidates: readonly Candidate[]): Candidate | null {
  for (const candidate of candidates) {
    const sure = fails(program, candidate) ? confirmed(candidate) : null;
    if (sure !== null && fails(program, sure)) return sure;
  }
  return null;
}

/** What a faulty watch has come to by the same script. */
function faultyStateAfter({ question, corners }: Stage, program: Program, route: Route): number {
  const corner = itemAt(corners, 0);
  const { actions } = route;
  const { wakes } = play(program, { actions, endsMs: workEndOf(route) + 1, corner, question });
  let state = program.table.initial;
  for (const [index, wake] of wakes.entries()) {
    for (const code of inputsOf(wake, index)) state = nextState(program.table, state, code);
  }
  return state;
}
