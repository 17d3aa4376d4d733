// A certificate is accepted only if every number in it follows: the states hold all that can come, the extremes over
// them are the bounds, and each bound is reached by a course that the device can take.

import type { WatchSettings } from '../machine/index.js';
import type { DeviceTiming } from '../world/index.js';
import { refuseChanged } from './checksum.js';
import { type Goal, refuseCourse } from './course.js';
import {
  type Certificate,
  type CertifiedBounds,
  type Courses,
  certificateIn,
  courseNames,
  type Environment,
  type Task,
} from './format.js';
import { checkProof, type Extremes } from './proof.js';
import { type Refusal, RefusedError, refuse, refuseDifference } from './refusal.js';
import { longestMs, type Rules, rulesOf, timesOf } from './rules.js';

/** The watch that a certificate must be of. */
export interface CertifiedWatch {
  readonly watch: WatchSettings;
  readonly timing: DeviceTiming;
}

export type Verdict =
  | {
      readonly kind: 'verified';
      readonly bounds: CertifiedBounds;
      readonly environment: Environment;
      /** Bounds that hold, and that no course is given for. */
      readonly notReached: readonly (keyof Courses)[];
      readonly states: number;
      /** What can come next in any of them. */
      readonly transitions: number;
    }
  | ({ readonly kind: 'refused' } & Refusal)
  /** It is a certificate, of another watch or of another device. */
  | ({ readonly kind: 'other watch' } & Refusal)
  /** It is no certificate at all. */
  | ({ readonly kind: 'malformed' } & Refusal);

/** What each proof of a certificate is of. */
export const tasks = {
  latestAtRest: { from: 'rest', seek: 'latest' },
  latestFromAnyState: { from: 'any state', seek: 'latest' },
  earliestAtRest: { from: 'rest', seek: 'earliest' },
} as const satisfies Readonly<Record<string, Task>>;

type TaskName = keyof typeof tasks;
const taskNames = ['latestAtRest', 'latestFromAnyState', 'earliestAtRest'] as const;

/**
 * Checks a certificate, given as parsed JSON. It yields the share that is done, and returns the verdict.
 */
export function* verifyCertificate(json: unknown, of: CertifiedWatch): Generator<number, Verdict> {
  const read = certificateIn(json);
  if (!read.ok) return { kind: 'malformed', ...read.flaw };
  try {
    return yield* verified(read.certificate, of);
  } catch (error) {
    if (!(error instanceof RefusedError)) throw error;
    const other = /^\/(watch|device)(\/|$)/u.test(error.refusal.place);
    return { kind: other ? 'other watch' : 'refused', ...error.refusal };
  }
}

function* verified(certificate: Certificate, of: CertifiedWatch): Generator<number, Verdict> {
  const rules = certifiedRules(certificate, of);
  const found: Partial<Record<TaskName, Extremes>> = {};
  const proofs = taskNames.flatMap((name) => {
    const proof = certificate[name];
    return proof === null ? [] : [{ name, proof }];
  });
  const states = proofs.reduce((sum, { proof }) => sum + proof.states.length, 0);
  let done = 0;
  for (const { name, proof } of proofs) {
    const steps = checkProof(rules, proof, { task: tasks[name], place: `/${name}` });
    let step = steps.next();
    for (; step.done !== true; step = steps.next()) yield (done + step.value) / states;
    found[name] = step.value;
    done += proof.states.length;
  }
  const message = 'the states of the certificate give another bound';
  refuseDifference(certificate.bounds, boundsFrom(found), { place: '/bounds', message });
  const notReached = refuseCourses(rules, certificate);
  const nexts = proofs.flatMap(({ proof }) => [
    proof.first,
    ...proof.states.map(({ next }) => next),
  ]);
  const transitions = nexts.reduce((sum, next) => sum + next.length, 0);
  const [{ bounds }, { environment }] = [certificate, rules];
  return { kind: 'verified', bounds, environment, notReached, states, transitions };
}

/** @throws RefusedError for another watch, another device, or an environment that cannot be. */
function certifiedRules(certificate: Certificate, { watch, timing }: CertifiedWatch): Rules {
  const { checksum, ...environment } = certificate.environment;
  refuseDifference(certificate.watch, JSON.parse(JSON.stringify(watch)), {
    place: '/watch',
    message: 'the certificate is of another watch',
  });
  const times = timesOf(timing);
  refuseDifference(certificate.device, times, {
    place: '/device',
    message: 'the certificate is of a device that takes other times',
  });
  refuseChanged({ ...environment, checksum }, '/environment');
  const rules = rulesOf(watch, times, environment);
  const { powerLosses, longestPowerLossMs, longestChatterMs } = environment;
  const must = (holds: boolean, place: string, why: string): void => {
    if (!holds) refuse(place, why);
  };
  must(timing.clockError.kind !== 'sleeps', '/device', 'no rule is of sleeps listed one by one');
  for (const [name, most] of Object.entries(environment)) {
    must(most <= longestMs, `/environment/${name}`, 'this is more than can be counted with');
  }
  const [cut, chatter] = ['/environment/longestPowerLossMs', '/environment/longestChatterMs'];
  must(powerLosses === 0 || longestPowerLossMs > 0, cut, 'a power loss lasts 1 ms at least');
  const edgesWake = watch.wakeOn !== 'timer';
  must(longestChatterMs === 0 || !edgesWake, chatter, 'no rule is of chatter where edges wake');
  const shortest = Math.min(...Object.values(rules.sleeps).map(({ least }) => least));
  must(shortest > 0, '/watch', 'a sleep lasts 1 ms at least');
  return rules;
}

/** The bounds that follow from the extremes of the proofs; null: there is none. */
export function boundsFrom(found: Partial<Record<TaskName, Extremes>>) {
  const { latestAtRest: late, latestFromAnyState: any, earliestAtRest: early } = found;
  /** An opening must last one millisecond beyond the latest decision to hold it. */
  const beyond = (decisionMs: number | null): number | null =>
    decisionMs === null ? null : decisionMs + 1;
  return {
    alwaysReportedFromMs: {
      atRest: beyond(late?.decisionMs ?? null),
      anyState: beyond(any?.decisionMs ?? null),
    },
    neverAlarmedUpToMs: early?.decisionMs ?? null,
    worstDelayMs: { atRest: late?.deliveryMs ?? null, anyState: any?.deliveryMs ?? null },
    bestDelayMs: early?.deliveryMs ?? null,
  };
}

/** What each course is to come to; null: there is nothing for it to show. */
export function goalsOf(bounds: CertifiedBounds): Readonly<Record<keyof Courses, Goal | null>> {
  const { alwaysReportedFromMs: always, worstDelayMs: worst } = bounds;
  const goal = (from: Task['from'], what: Goal['what'], afterMs: number | null): Goal => {
    return { from, what, afterMs };
  };
  const any = always.anyState;
  return {
    latestDecisionAtRest: goal('rest', 'decision', always.atRest - 1),
    latestDeliveryAtRest: goal('rest', 'delivery', worst.atRest),
    latestDecisionFromAnyState: any === null ? null : goal('any state', 'decision', any - 1),
    latestDeliveryFromAnyState: any === null ? null : goal('any state', 'delivery', worst.anyState),
    earliestDecisionAtRest: goal('rest', 'decision', bounds.neverAlarmedUpToMs),
    earliestDeliveryAtRest: goal('rest', 'delivery', bounds.bestDelayMs),
    neverReported: any === null ? goal('any state', 'hold', null) : null,
  };
}

/**
 * Each course comes to its bound, and where there is no bound from any state, a course shows that.
 * @returns the names of the courses that are not there.
 */
function refuseCourses(rules: Rules, { bounds, courses }: Certificate): readonly (keyof Courses)[] {
  const missing: (keyof Courses)[] = [];
  for (const name of courseNames) {
    const [goal, course, place] = [goalsOf(bounds)[name], courses[name], `/courses/${name}`];
    if (goal === null) {
      if (course !== null) refuse(place, 'there is nothing for this to show');
    } else if (course !== null) refuseCourse(rules, course, goal, place);
    else if (goal.what === 'hold') refuse(place, 'nothing shows that there is no bound');
    else missing.push(name);
  }
  return missing;
}
