// A certificate is accepted only if every number in it follows: the states hold all that can come, the extremes over
// them are the bounds, and each run that it gives reaches its bound by the same rules.
import { leastOf } from '../base/index.js';
import type { WatchSettings } from '../machine/index.js';
import type { ResetMemory, TimingRanges } from '../model/index.js';
import { refuseChanged } from './checksum.js';
import { type Certificate, certificateIn, proofsIn, type TaskName, tasks } from './format.js';
import { checkProof, type Extremes, endOf } from './proof.js';
import { type Refusal, RefusedError, refuse, refuseDifference } from './refusal.js';
import { type Rules, rulesOf, timesOf } from './rules.js';

/** The watch that a certificate must be of. */
export interface CertifiedWatch {
  readonly watch: WatchSettings;
  readonly timing: TimingRanges;
  readonly reset: ResetMemory;
}

export type Verdict =
  | { readonly kind: 'verified'; readonly certificate: Certificate }
  | ({ readonly kind: 'refused' } & Refusal)
  /** It is a certificate, of another watch or of another device. */
  | ({ readonly kind: 'other watch' } & Refusal)
  /** It is no certificate at all. */
  | ({ readonly kind: 'malformed' } & Refusal);

/** What the proofs of a certificate come to. */
type Found = Partial<Record<TaskName, Extremes | undefined>>;

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
  const proofs = proofsIn(certificate);
  const found: Found = {};
  for (const [order, { name, proof }] of proofs.entries()) {
    const steps = checkProof(rules, proof, { task: tasks[name], place: `/${name}` });
    let step = steps.next();
    for (; step.done !== true; step = steps.next()) yield (order + step.value) / proofs.length;
    found[name] = step.value;
  }
  const message = 'the states in the certificate give another bound';
  refuseDifference(certificate.bounds, boundsFrom(found), { place: '/bounds', message });
  const { neverReported, latestFromAnyState } = certificate;
  const place = '/neverReported';
  if (neverReported !== null) {
    refuseChanged(neverReported, place);
    const { event } = endOf(rules, neverReported, { from: 'any state', place });
    if (event !== 'held') refuse(place, 'this run does not reach a device that holds');
  } else if (latestFromAnyState === null) refuse(place, 'no run shows that no bound exists');
  return { kind: 'verified', certificate };
}

/** @throws RefusedError for another watch, another device, or an environment that cannot be. */
function certifiedRules(certificate: Certificate, { watch, timing, reset }: CertifiedWatch): Rules {
  refuseDifference(certificate.watch, JSON.parse(JSON.stringify(watch)), {
    place: '/watch',
    message: 'the certificate belongs to a watch with other settings',
  });
  const times = timesOf(timing, reset);
  refuseDifference(certificate.device, times, {
    place: '/device',
    message: 'the certificate belongs to a device with other times or resets',
  });
  const { environment } = certificate;
  refuseChanged(environment, '/environment');
  const rules = rulesOf(watch, times, environment);
  const { powerLosses, longestPowerLossMs, longestChatterMs } = environment;
  const [cut, chatter] = ['/environment/longestPowerLossMs', '/environment/longestChatterMs'];
  const shortest = leastOf(Object.values(rules.sleeps).map(({ least }) => least));
  const cannot: readonly (readonly [is: boolean, place: string, why: string])[] = [
    [shortest < 1, '/watch', 'a sleep lasts at least 1 ms'],
    [powerLosses > 0 && longestPowerLossMs < 1, cut, 'a power loss lasts at least 1 ms'],
    [
      longestChatterMs > 0 && watch.wakeOn !== 'timer',
      chatter,
      'no rule covers chatter where contact edges wake the device',
    ],
  ];
  for (const [is, place, why] of cannot) if (is) refuse(place, why);
  return rules;
}

/** The bounds that follow from the extremes of the proofs; null: there is none. */
export function boundsFrom(found: Found) {
  const { latestAtRest: late, latestFromAnyState: any, earliestAtRest: early } = found;
  /** One millisecond beyond the longest opening of which it is not so. */
  const from = (ms: number | null | undefined): number | null => (ms == null ? null : ms + 1);
  return {
    alwaysReportedFromMs: { atRest: from(late?.unreported), anyState: from(any?.unreported) },
    alwaysDecidedFromMs: { atRest: from(late?.decided), anyState: from(any?.decided) },
    neverAlarmedUpToMs: early?.decided ?? null,
    worstDelayMs: { atRest: late?.delivered ?? null, anyState: any?.delivered ?? null },
    bestDelayMs: early?.delivered ?? null,
  };
}
