// The drill of a watch: steps chosen from all that it can be led to.
import { itemAt } from '../base/index.js';
import { gapsOf, searched, searchesFor, sureFromMs, TooManyStatesError } from '../bounds/index.js';
import { calmEnvironment, mostDrillStates } from '../model/index.js';
import { mutantPrograms } from '../mutants/index.js';
import { candidatesFor } from './candidates.js';
import { chosenOf } from './choose.js';
import type { LeastCover } from './cover.js';
import { exercisedOf } from './exercised.js';
import { longBy, settingMs } from './long.js';
import {
  type Awaited,
  type Drill,
  type DrillProgress,
  type DrillQuestion,
  type LongSetting,
  type LongSteps,
  type Step,
  setUpMs,
  stepKinds,
} from './plan.js';
import { stageOf } from './stage.js';

/**
 * A drill that shows every transition that a person can bring about and tell the time of, both sides of the bounds, and
 * every faulty watch that shows in messages, in the least time. No steps: nothing about this watch can be told for sure.
 * Yields how far it has come.
 */
export function* drillOf(
  question: DrillQuestion,
  leastCover: LeastCover,
): Generator<DrillProgress, Drill> {
  yield { doing: 'taking the watch apart', share: null };
  const stage = stageOf(question);
  const candidates = yield* candidatesFor(stage);
  yield { doing: 'making mistakes', share: null };
  const faults = mutantPrograms(
    question.program,
    question.timing,
    question.reset.button !== 'clears',
  ).filter(
    ({ alike, fault }) => !alike && fault.showsAfterMs === undefined && fault.beyondHands !== true,
  );
  const chosen = yield* chosenOf(stage, { candidates, faults, leastCover });
  const made = chosen.candidates.map((candidate, index) => {
    const { actions, endsMs, windows, bounds } = candidate;
    const { toleranceMs } = candidate.stage.question;
    const tells = itemAt(chosen.tells, index).map((number) => itemAt(faults, number).fault.name);
    const step: Step = { actions, toleranceMs, windows, endsMs, bounds, restsAtMm: null, tells };
    return { step, took: longBy(candidate) };
  });
  made.sort((a, b) => a.step.endsMs - b.step.endsMs);
  const steps = made.map(({ step }) => step);
  const told = new Set(steps.flatMap(({ tells }) => tells));
  const names = faults.map(({ fault }) => fault.name);
  yield { doing: 'proving the bounds', share: null };
  return {
    steps: withDoorAtGap(question, steps),
    totalMs: chosen.costMs,
    long: longOf(
      made,
      (setting) => {
        const { faults: numbers, ...only } = chosen.only(setting);
        return { ...only, mistakes: numbers.map((number) => itemAt(faults, number).fault.name) };
      },
      question.program.watch,
    ),
    setUpMs,
    atLeastMs: chosen.atLeastMs,
    candidates: chosen.among.length,
    toleranceMs: question.toleranceMs,
    withoutResets: question.reset.button === null && !question.without.has('reset'),
    without: stepKinds.filter((kind) => question.without.has(kind)),
    ...exercisedOf(stage, new Set(chosen.candidates.flatMap(({ made }) => [...made]))),
    faults: {
      told: names.filter((name) => told.has(name)),
      untold: names.filter((name) => !told.has(name)),
    },
    proved: provedOf(question),
  };
}

interface Timed {
  readonly step: Step;
  /** By the setting that takes it. */
  readonly took: ReadonlyMap<LongSetting, number>;
}

/** Steps by the setting that takes most of their time. */
function longOf(
  made: readonly Timed[],
  onlyBy: (setting: Awaited) => LongSteps['only'],
  watch: DrillQuestion['program']['watch'],
): readonly LongSteps[] {
  const ofSetting = new Map<LongSetting, Timed[]>();
  for (const one of made) {
    const setting = mostTaking([one])[0]?.[0] ?? 'checkInterval';
    ofSetting.set(setting, [...(ofSetting.get(setting) ?? []), one]);
  }
  return [...ofSetting]
    .map(([setting, ones]): LongSteps => {
      const isAwaited = setting === 'alertCooldown' || setting === 'heartbeatInterval';
      return {
        setting,
        settingMs: settingMs(watch, setting),
        steps: ones.map((one) => made.indexOf(one) + 1),
        lastMs: ones.reduce((sum, { step }) => sum + step.endsMs, 0),
        takes: mostTaking(ones).map(([name, takesMs]) => {
          return { setting: name, settingMs: settingMs(watch, name), takesMs };
        }),
        only: isAwaited ? onlyBy(setting) : { mistakes: [], bounds: [], transitions: 0 },
      };
    })
    .sort((a, b) => b.lastMs - a.lastMs);
}

function mostTaking(steps: readonly Timed[]): readonly (readonly [LongSetting, number])[] {
  const sum = new Map<LongSetting, number>();
  for (const { took } of steps) {
    for (const [setting, ms] of took) sum.set(setting, (sum.get(setting) ?? 0) + ms);
  }
  return [...sum].filter(([, ms]) => ms > 0).sort(([, a], [, b]) => b - a);
}

/** What a ruler and a hand may err by. */
const gapToleranceMm = 2;

/** In the first step with a message the door rests just beyond where the contact can read shut: that shows where its magnet is. */
function withDoorAtGap(question: DrillQuestion, steps: readonly Step[]): readonly Step[] {
  const gaps = gapsOf(question);
  const at = steps.findIndex(
    ({ actions, windows }) => windows.length > 0 && actions.some(({ deed }) => deed === 'open'),
  );
  const step = steps[at];
  if (gaps === null || step === undefined) return steps;
  const { kind, overMm, opensAtLeastMm } = gaps;
  const leastMm = Math.ceil(overMm) + gapToleranceMm;
  const restsAtMm = kind === 'assumed' ? Math.max(opensAtLeastMm ?? 0, leastMm) : leastMm;
  return steps.with(at, { ...step, restsAtMm });
}

/** The bounds that a drill shows both sides of, where they are quickly found: proved for a watch at rest, at a wide-open door and without outages. */
function provedOf(of: DrillQuestion): Drill['proved'] {
  const question = { ...of, environment: calmEnvironment };
  try {
    const slowest = searched(question, { ...searchesFor.atRest, mostNodes: mostDrillStates });
    const quickest = searched(question, { ...searchesFor.quickest, mostNodes: mostDrillStates });
    return {
      sureFromMs: sureFromMs(slowest.result),
      quietUpToMs: quickest.result.decision?.openingMs ?? null,
    };
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    return { sureFromMs: null, quietUpToMs: null };
  }
}
