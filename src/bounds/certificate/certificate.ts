// The certificate of a watch's bounds: what the search found, the states that prove it, worked out by the rules that a
// checker goes by, and courses that reach it. Search and rules share nothing: where they disagree nothing is written.
import {
  boundsFrom,
  type Certificate,
  type CertifiedBounds,
  type CertifiedCourse,
  type CertifiedCourses,
  type CertifiedEnvironment,
  certificateSchema,
  courseNames,
  type Goal,
  goalsOf,
  RefusedError,
  type Rules,
  refuseCourse,
  rulesOf,
  sealed,
  tasks,
  timesOf,
} from '../../verify/index.js';
import { type BoundsQuestion, type DetectionBounds, detectionBounds } from '../bounds.js';
import type { Environment } from '../environment.js';
import type { Found } from '../search.js';
import { courseTo } from './courses.js';
import { laidOut } from './layout.js';
import { type Proved, prove } from './prove.js';

export type Certified =
  | {
      readonly kind: 'certificate';
      readonly text: string;
      readonly states: number;
      /** Courses that are missing: those bounds are safe, and nothing shows that they are reached. */
      readonly notReached: readonly string[];
    }
  /** Nothing is written of such a watch or environment, and why: a clause. */
  | { readonly kind: 'not covered'; readonly why: string };

/** The most states of one proof. */
export const mostCertifiedStates = 1_000_000;

/**
 * Certifies the bounds of a watch. It yields the number of states of the proof it is at.
 * @throws TooManyStatesError when the search outgrows its limit.
 */
export function* certificateText(
  question: BoundsQuestion,
  mostStates = mostCertifiedStates,
): Generator<number, Certified> {
  const { program, timing, environment } = question;
  const beyond = beyondCertificates(question);
  if (beyond !== null) return notCovered(beyond);
  const device = timesOf(timing);
  const rules = rulesOf(program.watch, device, certifiedOf(environment));
  const proved = yield* proofsOf(rules, mostStates);
  if (typeof proved === 'string') return notCovered(proved);
  const { proofs, bounds } = proved;
  const found = detectionBounds(question);
  if (!agree(found, bounds)) {
    return notCovered('bounds that the search finds and the rules of the proof do not');
  }
  const courses = coursesOf(question, { rules, found, bounds });
  if (proofs.latestFromAnyState === null && courses.neverReported === null) {
    return notCovered('an opening that is never reported, other than by a device that holds');
  }
  const text = laidOut({
    schema: certificateSchema,
    watch: program.watch,
    device,
    environment: sealed(rules.environment),
    bounds,
    ...proofs,
    courses,
  });
  const goals = goalsOf(bounds);
  const notReached = courseNames.filter((name) => courses[name] === null && goals[name] !== null);
  const states = Object.values(proofs).reduce((sum, proof) => sum + (proof?.states.length ?? 0), 0);
  return { kind: 'certificate', text, states, notReached };
}

/** What of a question no certificate can speak of, as far as it can be told without a search; null: nothing. */
export function beyondCertificates({
  program,
  timing,
  environment,
}: BoundsQuestion): string | null {
  if (timing.clockError.kind === 'sleeps') return 'sleeps listed one by one';
  if (environment.longestChatterMs > 0 && program.watch.wakeOn !== 'timer') {
    return 'a chattering contact whose edges wake the device';
  }
  const apart = environment.outages > 1 && environment.outagesApartMs > 0;
  return apart ? 'outages that keep a time apart' : null;
}

/** In the order in which its checksum is taken. */
function certifiedOf(environment: Environment): CertifiedEnvironment {
  return {
    outages: environment.outages,
    longestOutageMs: environment.longestOutageMs,
    powerLosses: environment.powerLosses,
    longestPowerLossMs: environment.longestPowerLossMs,
    resets: environment.resets,
    longestChatterMs: environment.longestChatterMs,
  };
}

function notCovered(what: string): Certified {
  return { kind: 'not covered', why: `a certificate cannot speak of ${what}` };
}

interface Proofs {
  readonly proofs: Pick<Certificate, TaskName>;
  readonly bounds: CertifiedBounds;
}

type TaskName = keyof typeof tasks;

/** The proofs of a watch, and the bounds that follow; a text: what there are none of. */
function* proofsOf(rules: Rules, mostStates: number): Generator<number, Proofs | string> {
  const found: Partial<Record<TaskName, Proved>> = {};
  for (const name of ['latestAtRest', 'earliestAtRest', 'latestFromAnyState'] as const) {
    const proved = yield* prove(rules, tasks[name], mostStates);
    if (proved === 'too many states') return `more than ${String(mostStates)} states`;
    if (proved !== 'the device may hold for ever') found[name] = proved;
    else if (name !== 'latestFromAnyState') return `a watch with which ${proved}`;
  }
  const { latestAtRest: late, earliestAtRest: early, latestFromAnyState: any } = found;
  const bounds = boundsFrom(found);
  if (late === undefined || early === undefined || !isWhole(bounds, any !== undefined)) {
    return 'a watch with which some opening has no alert';
  }
  const proofs = {
    latestAtRest: late.proof,
    latestFromAnyState: any?.proof ?? null,
    earliestAtRest: early.proof,
  };
  return { proofs, bounds };
}

/** Whether there is a bound for all that is proved. */
function isWhole(
  bounds: ReturnType<typeof boundsFrom>,
  fromAnyState: boolean,
): bounds is CertifiedBounds {
  const { alwaysReportedFromMs: always, worstDelayMs: worst } = bounds;
  const any = fromAnyState ? [always.anyState, worst.anyState] : [];
  const all = [always.atRest, worst.atRest, bounds.neverAlarmedUpToMs, bounds.bestDelayMs];
  return [...all, ...any].every((bound) => bound !== null);
}

function agree(found: DetectionBounds, proved: CertifiedBounds): boolean {
  const { alwaysReportedFromMs: always, worstDelayMs: worst } = proved;
  return (
    found.alwaysReportedFromMs.atRest === always.atRest &&
    found.alwaysReportedFromMs.anyState === always.anyState &&
    found.neverAlarmedUpToMs === proved.neverAlarmedUpToMs &&
    found.worstDelayMs.atRest === worst.atRest &&
    found.worstDelayMs.anyState === worst.anyState &&
    found.bestDelayMs === proved.bestDelayMs
  );
}

/** The courses of the search, as far as they come to the bounds. */
function coursesOf(
  question: BoundsQuestion,
  on: { readonly rules: Rules; readonly found: DetectionBounds; readonly bounds: CertifiedBounds },
): CertifiedCourses {
  const { slowest, quickest } = on.found.courses;
  const goals = goalsOf(on.bounds);
  const course = (
    name: keyof CertifiedCourses,
    found: Found | null,
    seek: 'greatest' | 'least' = 'greatest',
  ): CertifiedCourse | null => {
    const goal = goals[name];
    const way = goal === null || found === null ? null : courseTo(question, found, seek);
    return goal !== null && way !== null && comesTo(on.rules, way, goal) ? way : null;
  };
  return {
    latestDecisionAtRest: course('latestDecisionAtRest', slowest.atRest.decision),
    latestDeliveryAtRest: course('latestDeliveryAtRest', slowest.atRest.delivery),
    latestDecisionFromAnyState: course('latestDecisionFromAnyState', slowest.anyState.decision),
    latestDeliveryFromAnyState: course('latestDeliveryFromAnyState', slowest.anyState.delivery),
    earliestDecisionAtRest: course('earliestDecisionAtRest', quickest.decision, 'least'),
    earliestDeliveryAtRest: course('earliestDeliveryAtRest', quickest.delivery, 'least'),
    neverReported: course('neverReported', slowest.anyState.never),
  };
}

/** Whether a course can be taken, and comes to its goal, by the checker's own rules. */
function comesTo(rules: Rules, course: CertifiedCourse, goal: Goal): boolean {
  try {
    refuseCourse(rules, course, goal, '');
    return true;
  } catch (error) {
    if (error instanceof RefusedError) return false;
    throw error;
  }
}
