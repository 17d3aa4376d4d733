// The certificate of a watch's bounds: what the search found, the states that prove it, worked out by the rules that a
// checker uses, and runs that reach it. Search and rules share nothing: where they disagree nothing is written.
import { deviceMs, hourMs, invariant, numberText, writeDuration } from '../../base/index.js';
import { type Environment, mostCertifiedStates } from '../../model/index.js';
import {
  boundsFrom,
  type CertifiedBounds,
  type CertifiedEnvironment,
  certificateSchema,
  type Extremes,
  notReachedIn,
  type Proof,
  type Rules,
  rulesOf,
  sealed,
  sizeOf,
  type TaskName,
  taskNames,
  tasks,
  timesOf,
} from '../../verify/index.js';
import { type DetectionBounds, detectionBounds, warningsOf } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import type { Found, SearchResult } from '../search.js';
import { laidOut } from './layout.js';
import { type Proved, prove } from './prove.js';
import { runTo } from './runs.js';

export type Certified =
  | {
      readonly kind: 'certificate';
      readonly text: string;
      readonly states: number;
      readonly bounds: CertifiedBounds;
      /** Runs that are missing: those bounds are safe, and nothing shows that they are reached. */
      readonly notReached: readonly string[];
    }
  /** Nothing is written of such a watch or environment, and why: a clause. */
  | { readonly kind: 'not covered'; readonly why: string };

/**
 * Certifies the bounds of a watch. It yields the number of states of the proof it is at.
 * @throws TooManyStatesError when the search outgrows its limit.
 */
export function* certificateText(
  question: BoundsQuestion,
  mostStates = mostCertifiedStates,
): Generator<number, Certified> {
  const beyond = beyondCertificates(question);
  if (beyond !== null) return notCovered(beyond);
  const { watch } = question.program;
  const [device, environment] = [
    timesOf(question.timing, question.reset),
    certifiedOf(question.environment),
  ];
  const rules = rulesOf(watch, device, environment);
  const proved = yield* allProved(rules, mostStates);
  if (typeof proved === 'string') return notCovered(proved);
  const { bounds, ...proofs } = proved;
  const found = detectionBounds(question);
  if (!agree(found, bounds)) {
    return notCovered('bounds on which the search and the rules of the proof disagree');
  }
  const { slowest, quickest } = found.runs;
  const on = { question, rules };
  const anyState = proofs.latestFromAnyState;
  const never = anyState === null ? holdingRun(slowest.anyState, on) : null;
  if (anyState === null && never === null) {
    return notCovered(
      'an opening that is never reported, unless a device that holds is the reason',
    );
  }
  const parts = {
    latestAtRest: withRuns('latestAtRest', proofs.latestAtRest, slowest.atRest, on),
    latestFromAnyState:
      anyState === null ? null : withRuns('latestFromAnyState', anyState, slowest.anyState, on),
    earliestAtRest: withRuns('earliestAtRest', proofs.earliestAtRest, quickest, on),
    neverReported: never === null ? null : sealed(never),
  };
  const schema = certificateSchema;
  const head = { schema, watch, device, environment: sealed(environment), bounds };
  return {
    kind: 'certificate',
    text: laidOut({ ...head, ...parts }),
    states: sizeOf(parts).states,
    bounds,
    notReached: notReachedIn(parts),
  };
}

/** Why this question cannot be certified, if that is clear before searching; else null. */
export function beyondCertificates(question: BoundsQuestion): string | null {
  const { program, environment } = question;
  if (environment.longestChatterMs > 0 && program.watch.wakeOn !== 'timer') {
    return 'a chattering contact whose edges wake the device';
  }
  if (warningsOf(question) === 'free') {
    const least = leastSeldomMs(question);
    const way =
      least === null
        ? ''
        : `: it can with a longer watch.lowBattery.repeat, such as ${writeDuration(deviceMs(least))}`;
    return `low-battery messages so close together that several matter to one opening${way}`;
  }
  return null;
}

/** Round intervals between two low-battery messages, as a person would choose them. */
const roundRepeatsMs = [1, 2, 3, 4, 6, 8, 12, 24, 36, 48, 72, 168, 336, 720].map(
  (hours) => hours * hourMs,
);

/** The shortest of them with which at most one message matters to an opening; null: none. */
function leastSeldomMs(question: BoundsQuestion): number | null {
  const { program } = question;
  const { lowBattery } = program.watch;
  if (lowBattery === undefined) return null;
  const isSeldom = (ms: number): boolean => {
    const watch = { ...program.watch, lowBattery: { ...lowBattery, repeatMs: deviceMs(ms) } };
    return warningsOf({ ...question, program: { ...program, watch } }) === 'seldom';
  };
  return roundRepeatsMs.find(isSeldom) ?? null;
}

/** In the order in which its checksum is taken. */
function certifiedOf(environment: Environment): CertifiedEnvironment {
  return {
    outages: environment.outages,
    longestOutageMs: environment.longestOutageMs,
    outagesApartMs: environment.outagesApartMs,
    powerLosses: environment.powerLosses,
    longestPowerLossMs: environment.longestPowerLossMs,
    resets: environment.resets,
    longestChatterMs: environment.longestChatterMs,
  };
}

function notCovered(what: string): Certified {
  return { kind: 'not covered', why: `a certificate cannot cover ${what}` };
}

interface AllProved {
  readonly latestAtRest: Proved;
  /** Null: there is no bound from any state. */
  readonly latestFromAnyState: Proved | null;
  readonly earliestAtRest: Proved;
  readonly bounds: CertifiedBounds;
}

/** The proofs of a watch, and the bounds that follow; a text: what there are none of. */
function* allProved(rules: Rules, mostStates: number): Generator<number, AllProved | string> {
  const found: Partial<Record<TaskName, Proved>> = {};
  for (const name of taskNames) {
    const proved = yield* prove(rules, tasks[name], mostStates);
    if (proved === 'too many states') return `more than ${numberText(mostStates)} states`;
    if (proved !== 'the device may hold for ever') found[name] = proved;
    else if (name !== 'latestFromAnyState') return `a watch where ${proved}`;
  }
  const { latestAtRest, earliestAtRest, latestFromAnyState = null } = found;
  const bounds = boundsFrom({
    latestAtRest: latestAtRest?.extremes,
    earliestAtRest: earliestAtRest?.extremes,
    latestFromAnyState: latestFromAnyState?.extremes,
  });
  if (!isWhole(bounds, latestFromAnyState !== null)) {
    return 'a watch with which some opening has no alert';
  }
  invariant(latestAtRest !== undefined && earliestAtRest !== undefined, 'bounds are proved');
  return { latestAtRest, earliestAtRest, latestFromAnyState, bounds };
}

/** Whether there is a bound for all that is proved. */
export function isWhole(
  bounds: ReturnType<typeof boundsFrom>,
  fromAnyState: boolean,
): bounds is CertifiedBounds {
  const {
    alwaysReportedFromMs: always,
    alwaysDecidedFromMs: decided,
    worstDelayMs: worst,
  } = bounds;
  const { neverAlarmedUpToMs, bestDelayMs } = bounds;
  const atRest = [always.atRest, decided.atRest, worst.atRest, neverAlarmedUpToMs, bestDelayMs];
  const anyState = [always.anyState, decided.anyState, worst.anyState];
  return !atRest.includes(null) && !(fromAnyState && anyState.includes(null));
}

/** Whether the search found all bounds that are proved. */
export function agree(found: Omit<DetectionBounds, 'runs'>, proved: CertifiedBounds): boolean {
  const inOrder = ({
    alwaysReportedFromMs: reported,
    alwaysDecidedFromMs: decided,
    worstDelayMs: worst,
    neverAlarmedUpToMs,
    bestDelayMs,
  }: CertifiedBounds | Omit<DetectionBounds, 'runs'>) =>
    [reported, decided, worst]
      .flatMap(({ atRest, anyState }) => [atRest, anyState])
      .concat(neverAlarmedUpToMs, bestDelayMs)
      .join();
  return inOrder(found) === inOrder(proved);
}

/** What a run is followed by. */
interface Telling {
  readonly question: BoundsQuestion;
  readonly rules: Rules;
}

/** A proof with the runs of the search that reach what it proves. */
function withRuns(
  name: TaskName,
  { extremes, first, states }: Proved,
  { decision, delivery, unreported }: SearchResult,
  { question, rules }: Telling,
): Proof {
  const run = (event: keyof Extremes, found: Found | null, afterMs: number | null) =>
    found && runTo(question, found, { rules, goal: { task: tasks[name], event, afterMs } });
  return sealed({
    first,
    states,
    decided: run('decided', decision, extremes.decided),
    delivered: run('delivered', delivery, extremes.delivered),
    unreported: run('unreported', unreported, extremes.unreported),
  });
}

/** The run to a device that holds; null: none is known. */
function holdingRun({ never }: SearchResult, { question, rules }: Telling) {
  const goal = { task: tasks.latestFromAnyState, event: 'held', afterMs: null } as const;
  return never && runTo(question, never, { rules, goal });
}
