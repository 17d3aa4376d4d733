// A certificate is accepted only if every number in it follows: the states hold all that can come, the extremes over
// them are the bounds, and each bound is reached by a course that the device can take.
import type { WatchSettings } from '../machine/index.js';
import type { DeviceTiming } from '../world/index.js';
import { checksumOf } from './checksum.js';
import { playCourse } from './course.js';
import { decodeCertificate } from './decode.js';
import type { Certificate, CertifiedBounds, Courses, Proof } from './format.js';
import { checkProof, type Extremes, type Proved, type Task } from './proof.js';
import { type Refusal, RefusedError, refuse, refuseDifference } from './refusal.js';
import { type Device, deviceOf, type Environment, type Rules, rulesOf } from './rules.js';
import { noSituations, type Situations } from './situations.js';
import { tasks } from './tasks.js';

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
      /** Reactions that the statechart was asked for. */
      readonly reactions: number;
    }
  | ({ readonly kind: 'refused' } & Refusal)
  /** It is a certificate, of another watch or of another device. */
  | ({ readonly kind: 'other watch' } & Refusal)
  /** It is no certificate at all. */
  | ({ readonly kind: 'malformed' } & Refusal);

/**
 * Checks a certificate, given as parsed JSON. It yields the share that is done, and returns the verdict.
 */
export function* verifyCertificate(json: unknown, of: CertifiedWatch): Generator<number, Verdict> {
  try {
    return yield* verified(decodeCertificate(json), of);
  } catch (error) {
    if (!(error instanceof RefusedError)) throw error;
    const { refusal, malformed } = error;
    const other = /^\/(watch|device)(\/|$)/u.test(refusal.place);
    return { kind: malformed ? 'malformed' : other ? 'other watch' : 'refused', ...refusal };
  }
}

/** Some three hundred years: sums of such times are still exact. */
const longestMs = 1e13;

function* verified(certificate: Certificate, of: CertifiedWatch): Generator<number, Verdict> {
  const rules = certifiedRules(certificate, of);
  const check: Check = {
    rules,
    situations: situationsOf(certificate, rules),
    certificate,
    done: 0,
  };
  const { latestFromAnyState: unlimited } = certificate;
  const rest = yield* proved(check, certificate.rest, { place: '/rest', task: tasks.rest(rules) });
  const late = yield* proved(check, certificate.latestAtRest, {
    place: '/latestAtRest',
    task: tasks.atRest(rules, rest.states, 'latest'),
  });
  const any =
    unlimited === null
      ? null
      : yield* proved(check, unlimited, {
          place: '/latestFromAnyState',
          task: tasks.fromAnyState(rules),
        });
  const early = yield* proved(check, certificate.earliestAtRest, {
    place: '/earliestAtRest',
    task: tasks.atRest(rules, rest.states, 'earliest'),
  });
  refuseUnused(certificate);
  refuseBounds(certificate.bounds, { late, any, early });
  return {
    kind: 'verified',
    notReached: refuseCourses(check),
    bounds: certificate.bounds,
    environment: rules.environment,
    states: statesIn(certificate),
    reactions: rules.machine.asked(),
  };
}

interface Check {
  readonly rules: Rules;
  readonly situations: Situations;
  readonly certificate: Certificate;
  /** States that are done with. */
  done: number;
}

/** The situations of a certificate. @throws RefusedError when two of them are the same. */
function situationsOf({ situations }: Certificate, { machine }: Rules): Situations {
  const numbered = noSituations(machine);
  for (const [index, situation] of situations.entries()) {
    const { then, contact } = situation;
    const spot = { state: machine.stateOf(situation), then, contact };
    const place = `/situations/${String(index)}`;
    const known = numbered.indexOf(spot);
    if (known >= 0) refuse(place, 'this situation stands here twice', { found: situation });
    numbered.add(spot);
    refuseDifference(situation, numbered.list[index], { place, message: 'no check leaves this' });
  }
  return numbered;
}

function* proved(
  check: Check,
  proof: Proof,
  on: { readonly place: string; readonly task: Task },
): Generator<number, Proved> {
  const all = statesIn(check.certificate);
  const steps = checkProof(proof, on.task, { ...check, place: on.place });
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) {
      check.done += proof.states.length;
      return step.value;
    }
    yield (check.done + step.value) / all;
  }
}

function proofsOf({ rest, latestAtRest, latestFromAnyState, earliestAtRest }: Certificate) {
  return [
    rest,
    latestAtRest,
    earliestAtRest,
    ...(latestFromAnyState === null ? [] : [latestFromAnyState]),
  ];
}

function statesIn(certificate: Certificate): number {
  return proofsOf(certificate).reduce((sum, { states }) => sum + states.length, 0);
}

/** @throws RefusedError for another watch, another device, or an environment that cannot be. */
function certifiedRules(certificate: Certificate, { watch, timing }: CertifiedWatch): Rules {
  const { environment } = certificate;
  refuseDifference(certificate.watch, plainOf(watch), {
    place: '/watch',
    message: 'the certificate is of another watch',
  });
  const device: Device | null = deviceOf(timing);
  if (device === null) refuse('/device', 'sleeps listed one by one cannot be certified');
  refuseDifference(certificate.device, device, {
    place: '/device',
    message: 'the certificate is of a device that takes other times',
  });
  const stated = checksumOf(environment);
  if (stated !== environment.checksum) {
    refuse('/environment/checksum', 'the environment was changed after it was written', {
      found: environment.checksum,
      expected: stated,
    });
  }
  for (const [name, most] of Object.entries(environment)) {
    if (typeof most === 'number' && most > longestMs) {
      refuse(`/environment/${name}`, 'this is more than can be counted with', { found: most });
    }
  }
  if (environment.powerLosses > 0 && environment.longestPowerLossMs < 1) {
    refuse('/environment/longestPowerLossMs', 'a power loss lasts 1 ms at least');
  }
  if (environment.longestChatterMs > 0 && watch.wakeOn !== 'timer') {
    refuse(
      '/environment/longestChatterMs',
      'no rule says how chatter wakes a watch that edges wake',
    );
  }
  const rules = rulesOf(watch, device, environment);
  if (Object.values(rules.sleeps).some(({ least }) => least < 1)) {
    refuse('/watch', 'a sleep lasts 1 ms at least');
  }
  return rules;
}

/** Settings as they stand in a file. */
function plainOf(watch: WatchSettings): unknown {
  const plain: unknown = JSON.parse(JSON.stringify(watch));
  return plain;
}

function refuseUnused(certificate: Certificate): void {
  const used = new Set(
    proofsOf(certificate).flatMap(({ states }) => states.map(({ situation }) => situation)),
  );
  const unused = certificate.situations.findIndex((_, index) => !used.has(index));
  if (unused >= 0) refuse(`/situations/${String(unused)}`, 'no state is of this situation');
}

function refuseBounds(
  bounds: CertifiedBounds,
  found: { readonly late: Extremes; readonly any: Extremes | null; readonly early: Extremes },
): void {
  const { late, any, early } = found;
  /** An opening must last one millisecond beyond the latest decision to hold it. */
  const beyond = (decisionMs: number | null): number | null =>
    decisionMs === null ? null : decisionMs + 1;
  const expected = {
    alwaysReportedFromMs: {
      atRest: beyond(late.decisionMs),
      anyState: any === null ? null : beyond(any.decisionMs),
    },
    neverAlarmedUpToMs: early.decisionMs,
    worstDelayMs: { atRest: late.deliveryMs, anyState: any?.deliveryMs ?? null },
    bestDelayMs: early.deliveryMs,
  };
  refuseDifference(bounds, expected, {
    place: '/bounds',
    message: 'the states of the certificate give another bound',
  });
}

/**
 * Each course comes to its bound, and where there is no bound from any state, a course shows that.
 * @returns the names of the courses that are not there.
 */
function refuseCourses({ rules, certificate }: Check): readonly (keyof Courses)[] {
  const { bounds, courses } = certificate;
  const { alwaysReportedFromMs: always, worstDelayMs: worst } = bounds;
  const unbounded = certificate.latestFromAnyState === null;
  const atRest = [
    ['latestDecisionAtRest', 'decision', always.atRest - 1],
    ['latestDeliveryAtRest', 'delivery', worst.atRest],
    ['earliestDecisionAtRest', 'decision', bounds.neverAlarmedUpToMs],
    ['earliestDeliveryAtRest', 'delivery', bounds.bestDelayMs],
  ] as const;
  const fromAnyState = [
    ['latestDecisionFromAnyState', 'decision', (always.anyState ?? 0) - 1],
    ['latestDeliveryFromAnyState', 'delivery', worst.anyState],
  ] as const;
  const never = [['neverReported', 'hold', null]] as const;
  const [wanted, unwanted] = unbounded ? [never, fromAnyState] : [fromAnyState, never];
  for (const [name] of unwanted) {
    if (courses[name] !== null) refuse(`/courses/${name}`, 'there is nothing for this to show');
  }
  if (unbounded && courses.neverReported === null) {
    refuse('/courses/neverReported', 'nothing shows that there is no bound');
  }
  const rows = [
    ...atRest.map((row) => [...row, 'rest'] as const),
    ...wanted.map((row) => [...row, 'any state'] as const),
  ];
  for (const [name, what, afterMs, from] of rows) {
    const course = courses[name];
    if (course === null) continue;
    playCourse(rules, course, { from, what, afterMs }, `/courses/${name}`);
  }
  return rows.map(([name]) => name).filter((name) => courses[name] === null);
}
