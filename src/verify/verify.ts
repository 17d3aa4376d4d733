// A certificate is accepted only if every number in it follows: the states hold all that can come, the extremes over
// them are the bounds, and each bound is reached by a course that the device can take.

import type * as z from 'zod';
import type { WatchSettings } from '../machine/index.js';
import type { DeviceTiming } from '../world/index.js';
import { refuseChanged } from './checksum.js';
import { type Goal, refuseCourse } from './course.js';
import {
  type Certificate,
  type CertifiedBounds,
  type Courses,
  courseNames,
  type Proof,
  certificate as shape,
} from './format.js';
import { checkProof, type Extremes, type Task } from './proof.js';
import { type Refusal, RefusedError, refuse, refuseDifference, valueText } from './refusal.js';
import { type Environment, longestMs, type Rules, rulesOf, timesOf } from './rules.js';

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

/**
 * Checks a certificate, given as parsed JSON. It yields the share that is done, and returns the verdict.
 */
export function* verifyCertificate(json: unknown, of: CertifiedWatch): Generator<number, Verdict> {
  const parsed = shape.safeParse(json);
  if (!parsed.success) return { kind: 'malformed', ...flawOf(json, parsed.error.issues[0]) };
  try {
    return yield* verified(parsed.data, of);
  } catch (error) {
    if (!(error instanceof RefusedError)) throw error;
    const other = /^\/(watch|device)(\/|$)/u.test(error.refusal.place);
    return { kind: other ? 'other watch' : 'refused', ...error.refusal };
  }
}

/** The place at which parsed JSON is not made like a certificate, and what belongs there. */
function flawOf(json: unknown, issue: z.core.$ZodIssue | undefined): Refusal {
  const strays = issue?.code === 'unrecognized_keys' ? issue.keys.slice(0, 1) : [];
  const path = [...(issue?.path ?? []), ...strays].map(String);
  const wanted = (issue?.message ?? '')
    .replace(/^[^:]*: expected /u, '')
    .replace(/, received .*/u, '');
  let found = json;
  for (const key of path) found = Object.getOwnPropertyDescriptor(Object(found), key)?.value;
  return {
    place: path.map((key) => `/${key}`).join(''),
    message: 'this is not what stands there in a certificate',
    found: valueText(found),
    expected: strays.length > 0 ? 'no such key' : wanted,
  };
}

function* verified(certificate: Certificate, of: CertifiedWatch): Generator<number, Verdict> {
  const rules = certifiedRules(certificate, of);
  const states = proofsOf(certificate).reduce((sum, proof) => sum + proof.states.length, 0);
  let done = 0;
  const found: Partial<Record<keyof typeof tasks, Extremes>> = {};
  for (const name of ['latestAtRest', 'latestFromAnyState', 'earliestAtRest'] as const) {
    const proof = certificate[name];
    if (proof === null) continue;
    const check = checkProof(rules, proof, { task: tasks[name], place: `/${name}` });
    let step = check.next();
    for (; step.done !== true; step = check.next()) yield (done + step.value) / states;
    found[name] = step.value;
    done += proof.states.length;
  }
  refuseDifference(certificate.bounds, boundsFrom(found), {
    place: '/bounds',
    message: 'the states of the certificate give another bound',
  });
  return {
    kind: 'verified',
    bounds: certificate.bounds,
    environment: rules.environment,
    notReached: refuseCourses(rules, certificate),
    states,
    transitions: proofsOf(certificate).reduce((sum, proof) => sum + transitionsIn(proof), 0),
  };
}

function proofsOf({ latestAtRest, latestFromAnyState, earliestAtRest }: Certificate): Proof[] {
  return [latestAtRest, latestFromAnyState, earliestAtRest].filter((proof) => proof !== null);
}

function transitionsIn({ first, states }: Proof): number {
  return states.reduce((sum, { next }) => sum + next.length, first.length);
}

/** @throws RefusedError for another watch, another device, or an environment that cannot be. */
function certifiedRules(certificate: Certificate, { watch, timing }: CertifiedWatch): Rules {
  const { checksum, ...environment } = certificate.environment;
  const plainWatch: unknown = JSON.parse(JSON.stringify(watch));
  const otherWatch = { place: '/watch', message: 'the certificate is of another watch' };
  refuseDifference(certificate.watch, plainWatch, otherWatch);
  if (timing.clockError.kind === 'sleeps') {
    refuse('/device', 'sleeps listed one by one cannot be certified');
  }
  const times = timesOf(timing);
  refuseDifference(certificate.device, times, {
    place: '/device',
    message: 'the certificate is of a device that takes other times',
  });
  refuseChanged({ ...environment, checksum }, '/environment');
  for (const [name, most] of Object.entries(environment)) {
    if (most > longestMs) {
      refuse(`/environment/${name}`, 'this is more than can be counted with', { found: most });
    }
  }
  if (environment.powerLosses > 0 && environment.longestPowerLossMs < 1) {
    refuse('/environment/longestPowerLossMs', 'a power loss lasts 1 ms at least');
  }
  if (environment.longestChatterMs > 0 && watch.wakeOn !== 'timer') {
    const message = 'no rule says how chatter wakes a watch that edges wake';
    refuse('/environment/longestChatterMs', message);
  }
  const rules = rulesOf(watch, times, environment);
  if (Object.values(rules.sleeps).some(({ least }) => least < 1)) {
    refuse('/watch', 'a sleep lasts 1 ms at least');
  }
  return rules;
}

/** The bounds that follow from the extremes of the proofs; null: there is none. */
export function boundsFrom(found: Partial<Record<keyof typeof tasks, Extremes>>) {
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
