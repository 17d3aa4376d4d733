// Attacks on the proof that every opening of at least D is reported: a random watch in a random environment, and timelines
// within that environment whose faults come where they hurt. Each attack is named by a seed and a number.
import fc from 'fast-check';
import { ppm, type RandomStream, randomStream, trueMs } from '../../src/base/index.js';
import {
  type BoundsQuestion,
  searched,
  searchesFor,
  sureFromMs,
  TooManyStatesError,
} from '../../src/bounds/index.js';
import {
  calmEnvironment,
  clockErrorsOf,
  type Environment,
  possibleResets,
  type RangeMs,
  type TimingRanges,
  unknownResets,
} from '../../src/model/index.js';
import { type Experiment, simulate } from '../../src/sim/index.js';
import { judge } from '../../src/verdict/index.js';
import {
  type ClockError,
  type DeviceTiming,
  deviceTiming,
  idealContactEdges,
  spansOf,
  type VaryingMs,
  type World,
  withFaults,
} from '../../src/world/index.js';
import { questionOf } from '../bounds/question.js';
import { logicSettings, type Scale, watchSettings } from '../support/arbitraries.js';

type Span = readonly [fromMs: number, toMs: number];

/** A timeline, in which the opening at `studied` must be reported. */
export interface Assault {
  readonly from: 'atRest' | 'anyState';
  readonly openings: readonly Span[];
  readonly studied: number;
  readonly networkDown: readonly Span[];
  readonly powerLost: readonly Span[];
  readonly resetsMs: readonly number[];
  readonly resetsClear: boolean;
  /** The contact reads shut. */
  readonly stuckShut: readonly Span[];
  readonly timing: DeviceTiming;
  readonly seed: string;
}

export interface Attack {
  readonly question: BoundsQuestion;
  /** Openings of at least this length that were tried, and not one of them missed unless named below. */
  readonly tried: number;
  /** Of these, those in which an alert of the opening was lost, dropped or sent in vain before another was delivered. */
  readonly hurt: number;
  readonly missed: readonly Assault[];
}

const scale: Scale = {
  leastMs: 20,
  mostMs: 90,
  mostBootMs: 8,
  mostConnectMs: 30,
  lengthMs: 2_000,
  errorPpm: 150_000,
};

const timelinesEach = 36;

/**
 * One attack: the same for the same seed and number.
 * @param shorterByMs tries openings so much shorter than D: to see that the attack finds what can be missed.
 */
export function deliveryAttack(seed: string, index: number, shorterByMs = 0): Attack {
  const random = randomStream(seed, 'attack on delivery', index);
  const waits = randomStream(seed, 'wait for the network', index);
  const question = questionFrom(random, [0, 0, 20, 100, 500][waits.whole(0, 4)] ?? 0);
  const tries: { readonly assault: Assault; readonly outcome: Outcome }[] = [];
  const sure = { atRest: sureIn(question, 'atRest'), anyState: sureIn(question, 'anyState') };
  for (let count = 0; count < timelinesEach; count += 1) {
    const from = random.unit() < 0.5 ? 'atRest' : 'anyState';
    const sureMs = (sure[from] ?? 0) - shorterByMs;
    if (sureMs < 1) continue;
    const name = `${seed} ${String(index)} ${String(count)}`;
    const assault = assaultFrom(question, random, { from, sureMs, name });
    tries.push({ assault, outcome: outcomeOf(question, assault) });
  }
  return {
    question,
    tried: tries.length,
    hurt: tries.filter(({ outcome }) => outcome.wasHurt).length,
    missed: tries.filter(({ outcome }) => !outcome.isReported).map(({ assault }) => assault),
  };
}

/** Few enough that thousands of watches can be tried. */
const mostNodes = 2_500;

/** D of each; undefined: the search outgrew its limit. */
function sureIn(question: BoundsQuestion, from: Assault['from']): number | null | undefined {
  try {
    return sureFromMs(searched(question, { ...searchesFor[from], mostNodes }).result);
  } catch (error) {
    if (error instanceof TooManyStatesError) return undefined;
    throw error;
  }
}

function questionFrom(random: RandomStream, joinWaitMs: number): BoundsQuestion {
  const watches = logicSettings.chain((logic) => watchSettings(logic, scale));
  const [watch] = fc.sample(watches, { numRuns: 1, seed: random.whole(0, 2 ** 31 - 1) });
  if (watch === undefined) throw new Error('a sample has one watch');
  const timing: TimingRanges = {
    bootTime: rangeUpTo(random, scale.mostBootMs),
    connectTime: rangeUpTo(random, scale.mostConnectMs),
    joinWaitMs,
    clockError: errorFrom(random),
  };
  const environment = environmentFrom(random);
  return questionOf(watch, { timing, environment, leaveOpenAfterMs: 1, reset: unknownResets });
}

function rangeUpTo(random: RandomStream, mostMs: number): RangeMs {
  const [one, other] = [random.whole(0, mostMs), random.whole(0, mostMs)];
  if (random.unit() < 0.6) return { least: one, most: one };
  return { least: Math.min(one, other), most: Math.max(one, other) };
}

function errorFrom(random: RandomStream): TimingRanges['clockError'] {
  const error = () => random.whole(-scale.errorPpm, scale.errorPpm);
  const [one, other] = [error(), error()];
  if (random.unit() < 0.5) return { kind: 'range', least: ppm(0), most: ppm(0) };
  if (random.unit() < 0.5) return { kind: 'range', least: ppm(one), most: ppm(one) };
  return { kind: 'range', least: ppm(Math.min(one, other)), most: ppm(Math.max(one, other)) };
}

function environmentFrom(random: RandomStream): Environment {
  const one = <T>(...values: readonly [T, ...T[]]): T =>
    values[random.whole(0, values.length - 1)] ?? values[0];
  return {
    ...calmEnvironment,
    outages: one(1, 1, 2),
    outagesApartMs: one(0, 0, 40),
    longestOutageMs: one(0, 60, 200, 400),
    powerLosses: one(0, 0, 1, 1, 2),
    longestPowerLossMs: one(1, 30, 80),
    resets: one(0, 0, 1, 2),
    longestChatterMs: one(0, 0, 0, 50),
  };
}

/** What has been used of an environment, while a timeline is made. */
type Draft = { -readonly [Key in keyof Assault]: Assault[Key] };

/** Whether the resets of one attack clear memory: the watch file may leave both. */
function resetsClear({ reset }: BoundsQuestion, random: RandomStream): boolean {
  const { keeping, clearing } = possibleResets(reset);
  if (keeping === null || clearing === null) return clearing !== null;
  return random.unit() < 0.5;
}

function assaultFrom(
  question: BoundsQuestion,
  random: RandomStream,
  {
    from,
    sureMs,
    name,
  }: { readonly from: Assault['from']; readonly sureMs: number; readonly name: string },
): Assault {
  const { watch } = question.program;
  const periodMs = watch.checkIntervalMs + question.timing.bootTime.most;
  const draft: Draft = {
    from,
    openings: [],
    studied: 0,
    networkDown: [],
    powerLost: [],
    resetsMs: [],
    resetsClear: resetsClear(question, random),
    stuckShut: [],
    timing: timingWithin(question.timing, random),
    seed: name,
  };
  const restMs = (watch.clearThreshold + 4) * 2 * periodMs;
  const startMs =
    from === 'atRest'
      ? restMs + random.whole(0, 4 * periodMs)
      : earlierOpenings(draft, random, periodMs);
  const checks = checksIn(question, draft, startMs + periodMs * 4);
  const before = checks.filter((atMs) => atMs < startMs).at(-1);
  // Just after a check: the next one is as far away as it can be.
  const openMs =
    before !== undefined && random.unit() < 0.7
      ? Math.max(before + 1, lastShut(draft) + 1)
      : startMs;
  draft.studied = draft.openings.length;
  // It goes on for ever, until it is known where the faults are to come.
  const endless = [...draft.openings, [openMs, openMs + sureMs * 3 + 40 * periodMs] as const];
  draft.openings = endless;
  const earliestMs = from === 'atRest' ? openMs : 0;
  strikeAll(question, random, { draft, earliestMs, openMs, sureMs });
  const later = checksIn(question, draft, openMs + sureMs + 2 * periodMs).filter(
    (atMs) => atMs >= openMs + sureMs,
  );
  const shutMs =
    random.unit() < 0.6 ? openMs + sureMs : (later[0] ?? openMs + sureMs) + random.whole(0, 1);
  draft.openings = [
    ...draft.openings.slice(0, draft.studied),
    [openMs, shutMs],
    ...afterwards(random, shutMs, periodMs),
  ];
  // Once it has shut, what is left of the faults is for the alert that still waits.
  strikeAll(question, random, { draft, earliestMs: shutMs, openMs, sureMs });
  return draft;
}

function lastShut({ openings }: Draft): number {
  return openings.at(-1)?.[1] ?? 0;
}

/** Openings that come before; where the next one may begin. */
function earlierOpenings(draft: Draft, random: RandomStream, periodMs: number): number {
  let atMs = random.whole(0, 2 * periodMs);
  const count = random.whole(0, 4);
  for (let index = 0; index < count; index += 1) {
    const untilMs = atMs + 1 + random.whole(0, random.unit() < 0.5 ? 3 : 8 * periodMs);
    draft.openings = [...draft.openings, [atMs, untilMs]];
    atMs = untilMs + 1 + random.whole(0, random.unit() < 0.5 ? 2 : 2 * periodMs);
  }
  return atMs;
}

function afterwards(random: RandomStream, shutMs: number, periodMs: number): readonly Span[] {
  const spans: Span[] = [];
  let atMs = shutMs;
  while (random.unit() < 0.5 && spans.length < 4) {
    atMs += 1 + random.whole(0, random.unit() < 0.5 ? 1 : 2 * periodMs);
    const untilMs = atMs + 1 + random.whole(0, 3 * periodMs);
    spans.push([atMs, untilMs]);
    atMs = untilMs;
  }
  return spans;
}

/** Times of the device drawn from its ranges, or at an end of them, or now at one and now at the other. */
function timingWithin(ranges: TimingRanges, random: RandomStream): DeviceTiming {
  const at = ({ least, most }: RangeMs): VaryingMs | null => {
    const roll = random.unit();
    if (least === most || roll < 0.3) return null;
    if (roll < 0.8) return { kind: 'fixed', ms: trueMs(roll < 0.6 ? most : least) };
    const ms = Array.from({ length: 30 }, () => trueMs(random.unit() < 0.5 ? least : most));
    return { kind: 'inTurn', ms };
  };
  const errors = (): ClockError | null => {
    const { least, most } = clockErrorsOf(ranges.clockError);
    if (least === most || random.unit() < 0.3) return null;
    const isSteady = random.unit() < 0.5;
    const each = () => (isSteady || random.unit() < 0.5 ? most : least);
    return { kind: 'inTurn', ppm: Array.from({ length: 30 }, each) };
  };
  const given = { bootTime: at(ranges.bootTime), connectTime: at(ranges.connectTime) };
  return deviceTiming({ ...given, clockError: errors() }, ranges);
}

interface Target {
  readonly draft: Draft;
  readonly earliestMs: number;
  readonly openMs: number;
  readonly sureMs: number;
}

/** Uses up the environment's faults one by one, each at an instant of the run as it is with those before it. */
function strikeAll(question: BoundsQuestion, random: RandomStream, target: Target): void {
  const { environment } = question;
  const { draft, openMs } = target;
  const kinds: (() => void)[] = [];
  const add = (count: number, strike: () => void): void => {
    for (let index = 0; index < count; index += 1) if (random.unit() < 0.7) kinds.push(strike);
  };
  const near = (): number => instantNear(question, random, target);
  add(environment.outages - draft.networkDown.length, () => {
    if (environment.longestOutageMs === 0) return;
    const fromMs =
      near() - (random.unit() < 0.3 ? random.whole(0, environment.longestOutageMs - 1) : 0);
    const lastsMs =
      random.unit() < 0.7
        ? environment.longestOutageMs
        : random.whole(1, environment.longestOutageMs);
    const spans = [
      ...draft.networkDown,
      [Math.max(0, fromMs), Math.max(0, fromMs) + lastsMs] as const,
    ];
    if (areApart(spans, Math.max(1, environment.outagesApartMs)))
      draft.networkDown = inOrder(spans);
  });
  add(environment.powerLosses - draft.powerLost.length, () => {
    const fromMs = near();
    const lastsMs =
      random.unit() < 0.6
        ? environment.longestPowerLossMs
        : random.whole(1, environment.longestPowerLossMs);
    const spans = [...draft.powerLost, [fromMs, fromMs + lastsMs] as const];
    if (areApart(spans, 1)) draft.powerLost = inOrder(spans);
  });
  add(environment.resets - draft.resetsMs.length, () => {
    const resets = new Set([...draft.resetsMs, near()]);
    draft.resetsMs = [...resets].toSorted((a, b) => a - b);
  });
  add(environment.longestChatterMs > 0 ? 1 - draft.stuckShut.length : 0, () => {
    const fromMs = Math.max(openMs, near() - random.whole(0, 1));
    draft.stuckShut = [[fromMs, fromMs + random.whole(1, environment.longestChatterMs)]];
  });
  while (kinds.length > 0) {
    const [strike] = kinds.splice(random.whole(0, kinds.length - 1), 1);
    strike?.();
  }
}

function inOrder(spans: readonly Span[]): readonly Span[] {
  return spans.toSorted(([a], [b]) => a - b);
}

function areApart(spans: readonly Span[], leastMs: number): boolean {
  return inOrder(spans).every(
    ([fromMs], index, all) => fromMs >= (all[index - 1]?.[1] ?? -leastMs) + leastMs,
  );
}

/** Where something happens: mostly an alert that is decided or about to be delivered. */
function instantNear(question: BoundsQuestion, random: RandomStream, target: Target): number {
  const { draft, earliestMs, openMs, sureMs } = target;
  const trace = simulate(experimentOf(question, draft, openMs + sureMs * 3), { record: 'all' });
  const of = trace.alerts.flatMap(({ decidedMs, attempts }) => [
    decidedMs,
    decidedMs + 1,
    ...attempts.flatMap(({ startMs, endMs }) => [startMs, startMs + 1, endMs - 1, endMs, endMs]),
  ]);
  const checks = trace.wakes.flatMap(({ check, wakeMs }) =>
    check === null ? [] : [wakeMs, check.atMs],
  );
  const pool = (random.unit() < 0.8 ? of : checks).filter((atMs) => atMs >= earliestMs);
  const within = pool.filter((atMs) => atMs >= openMs && atMs <= openMs + sureMs + 200);
  const best = random.unit() < 0.8 && within.length > 0 ? within : pool;
  const atMs =
    best[random.whole(0, Math.max(0, best.length - 1))] ?? openMs + random.whole(0, sureMs);
  return Math.max(earliestMs, 1, atMs + (random.unit() < 0.2 ? random.whole(-1, 1) : 0));
}

function checksIn(question: BoundsQuestion, draft: Draft, untilMs: number): readonly number[] {
  const trace = simulate(experimentOf(question, draft, untilMs), { record: 'all' });
  return trace.wakes.flatMap(({ check, repeats, periodMs }) =>
    check === null
      ? []
      : Array.from({ length: repeats + 1 }, (_, index) => check.atMs + index * periodMs),
  );
}

function experimentOf({ program }: BoundsQuestion, assault: Assault, lengthMs: number): Experiment {
  const openings = spansOf(assault.openings);
  const faults = assault.stuckShut.map(([fromMs, toMs]) => ({
    fromMs: trueMs(fromMs),
    toMs: trueMs(toMs),
    reads: { kind: 'stuck', at: 'shut' } as const,
  }));
  const world: World = {
    lengthMs: trueMs(Math.max(1, Math.ceil(lengthMs))),
    openings,
    contact: withFaults(idealContactEdges(openings), faults, ''),
    networkDown: spansOf(assault.networkDown),
    powerLost: spansOf(assault.powerLost),
    resetsMs: Float64Array.from(assault.resetsMs),
    resetEffects: assault.resetsMs.map(() => ({
      kind: 'button' as const,
      clears: assault.resetsClear,
    })),
    powerOnAtMs: trueMs(0),
  };
  return { program, timing: assault.timing, world, seed: assault.seed };
}

export interface Outcome {
  readonly isReported: boolean;
  readonly wasHurt: boolean;
}

/** What a replay finds, in a timeline long enough for every alert that is still pending. */
export function outcomeOf(question: BoundsQuestion, assault: Assault): Outcome {
  const { watch } = question.program;
  const { bootTime, connectTime } = question.timing;
  const longestSleepMs =
    Math.max(watch.checkIntervalMs, watch.recheckIntervalMs, watch.retryIntervalMs) * 1.2;
  const wakeMs = longestSleepMs + bootTime.most + connectTime.most + 2;
  const ends = [...assault.openings, ...assault.networkDown, ...assault.powerLost].map(
    ([, toMs]) => toMs,
  );
  const lastMs = Math.max(...ends, ...assault.resetsMs);
  const experiment = experimentOf(question, assault, lastMs + 4 * wakeMs);
  const trace = simulate(experiment, { record: 'none' });
  const verdict = judge(experiment.world.openings, trace, question.judge);
  const opening = verdict.openings.at(assault.studied);
  const own = trace.alerts.filter((_, index) => verdict.alerts[index]?.opening === assault.studied);
  return {
    isReported: opening.outcome === 'reported' || opening.outcome === 'late',
    wasHurt: own.some(({ deliveredMs, attempts }) => deliveredMs === null || attempts.length > 1),
  };
}
