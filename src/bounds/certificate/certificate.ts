// The certificate of a watch's bounds: what the search found, the states that prove it, worked out by the rules that a
// checker goes by, and courses that reach it. Search and rules share nothing: where they disagree nothing is written.
import {
  type CertifiedBounds,
  type CertifiedCourses,
  certificateSchema,
  checksumOf,
  comesTo,
  deviceOf,
  type Proofs,
  type Rules,
  rulesOf,
  writeProofs,
} from '../../verify/index.js';
import { type BoundsQuestion, type DetectionBounds, detectionBounds } from '../bounds.js';
import type { Environment } from '../environment.js';
import type { Found } from '../search.js';
import { courseTo } from './courses.js';
import { laidOut } from './layout.js';

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
  const device = deviceOf(timing);
  if (device === null) return notCovered('sleeps listed one by one');
  if (environment.longestChatterMs > 0 && program.watch.wakeOn !== 'timer') {
    return notCovered('a chattering contact whose edges wake the device');
  }
  const rules = rulesOf(program.watch, device, environment);
  const proofs = yield* writeProofs(rules, mostStates);
  if (proofs === 'too many states') return notCovered(`more than ${String(mostStates)} states`);
  if (typeof proofs === 'string') return notCovered(`a watch with which ${proofs}`);
  const found = detectionBounds(question);
  if (!agree(found, proofs.bounds)) {
    return notCovered('bounds that the search finds and the rules of the proof do not');
  }
  const courses = coursesOf(question, { rules, found, bounds: proofs.bounds });
  const unbounded = proofs.latestFromAnyState === null;
  if (unbounded && courses.neverReported === null) {
    return notCovered('an opening that is never reported, other than by a device that holds');
  }
  const { bounds, situations, ...states } = proofs;
  const text = laidOut({
    schema: certificateSchema,
    watch: program.watch,
    device,
    environment: sealed(environment),
    bounds,
    situations,
    ...states,
    courses,
  });
  const unneeded = unbounded ? /FromAnyState$/u : /^neverReported$/u;
  const notReached = Object.entries(courses)
    .filter(([name, course]) => course === null && !unneeded.test(name))
    .map(([name]) => name);
  return { kind: 'certificate', text, states: statesIn(proofs), notReached };
}

function notCovered(what: string): Certified {
  return { kind: 'not covered', why: `a certificate cannot speak of ${what}` };
}

/** In the order in which its checksum is taken. */
function sealed(given: Environment): Environment & { readonly checksum: string } {
  const environment: Environment = {
    longestOutageMs: given.longestOutageMs,
    powerLosses: given.powerLosses,
    longestPowerLossMs: given.longestPowerLossMs,
    resets: given.resets,
    longestChatterMs: given.longestChatterMs,
  };
  return { ...environment, checksum: checksumOf(environment) };
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
  const { rules, bounds } = on;
  const { alwaysReportedFromMs: always, worstDelayMs: worst } = bounds;
  const { slowest, quickest } = on.found.courses;
  const course = (found: Found | null, goal: Goal, seek: 'greatest' | 'least' = 'greatest') => {
    const way = found === null ? null : courseTo(question, found, seek);
    return way !== null && comesTo(rules, way, goal) ? way : null;
  };
  const goal = (from: Goal['from'], what: Goal['what'], afterMs: number | null): Goal => ({
    from,
    what,
    afterMs,
  });
  const bounded = always.anyState === null ? null : slowest.anyState;
  const { never } = slowest.anyState;
  const latestMs = { rest: always.atRest - 1, any: (always.anyState ?? 0) - 1 };
  const [rest, any] = ['rest', 'any state'] as const;
  return {
    latestDecisionAtRest: course(slowest.atRest.decision, goal(rest, 'decision', latestMs.rest)),
    latestDeliveryAtRest: course(slowest.atRest.delivery, goal(rest, 'delivery', worst.atRest)),
    latestDecisionFromAnyState: course(
      bounded?.decision ?? null,
      goal(any, 'decision', latestMs.any),
    ),
    latestDeliveryFromAnyState: course(
      bounded?.delivery ?? null,
      goal(any, 'delivery', worst.anyState),
    ),
    earliestDecisionAtRest: course(
      quickest.decision,
      goal(rest, 'decision', bounds.neverAlarmedUpToMs),
      'least',
    ),
    earliestDeliveryAtRest: course(
      quickest.delivery,
      goal(rest, 'delivery', bounds.bestDelayMs),
      'least',
    ),
    neverReported: course(bounded === null ? never : null, goal(any, 'hold', null)),
  };
}

type Goal = Parameters<typeof comesTo>[2];

function statesIn({ rest, latestAtRest, latestFromAnyState, earliestAtRest }: Proofs): number {
  return [rest, latestAtRest, earliestAtRest, latestFromAnyState].reduce(
    (sum, proof) => sum + (proof?.states.length ?? 0),
    0,
  );
}
