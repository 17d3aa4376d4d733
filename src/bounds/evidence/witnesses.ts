// A run for every number: found by the search, run again in the simulator, made plain, and believed only if it shows
// the number to the millisecond. A number that no run shows is called safe, and no more.
import { durationText, greatestOf, invariant, minuteMs } from '../../base/index.js';
import type { Scene } from '../../timeline/index.js';
import type { BoundName, RunWorld, SafeLimit, Witness } from '../answer.js';
import { decidedFromMs, type Searched, sureFromMs } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import { timesOf } from '../times.js';
import { type Attempt, attempts, type Nearby, nearbySearches, type Sought } from './attempts.js';
import { type Replayed, replay } from './replay.js';
import { sceneOf, simplified, worldOf } from './scene.js';

export interface Shown {
  readonly witnesses: readonly Witness[];
  readonly safeLimits: readonly SafeLimit[];
}

/** Those of a search. */
type ClaimedBound = Exclude<BoundName, 'unreportable' | 'aliasing'>;

/** A number that is claimed, and what is to be shown for it. */
interface Claim extends Sought {
  readonly bound: ClaimedBound;
  readonly searched: Searched;
}

/** The finite bounds of searches, each with its witness or its reservation. */
export function shownOf(
  question: BoundsQuestion,
  searches: {
    readonly atRest: Searched | null;
    readonly anyState: Searched | null;
    readonly quickest: Searched | null;
  },
): Shown {
  const claims: Claim[] = [];
  for (const from of ['atRest', 'anyState'] as const) {
    const searched = searches[from];
    if (searched === null) continue;
    const { result } = searched;
    const options = { from: from === 'atRest' ? 'rest' : 'anywhere', seek: 'greatest' } as const;
    const decidedMs = decidedFromMs(result);
    // Where an alert is delivered whenever it is decided, one run shows both.
    if (decidedMs !== null && decidedMs !== sureFromMs(result)) {
      claims.push({ bound: `alwaysDecidedFromMs.${from}`, searched, what: 'decision', options });
    }
    // Where an opening may never be reported there are no such numbers.
    if (result.never !== null) continue;
    claims.push({ bound: `alwaysReportedFromMs.${from}`, searched, what: 'unreported', options });
    claims.push({ bound: `worstDelayMs.${from}`, searched, what: 'delivery', options });
  }
  if (searches.quickest !== null) {
    const searched = searches.quickest;
    const options = { from: 'rest', seek: 'least' } as const;
    claims.push({ bound: 'neverAlarmedUpToMs', searched, what: 'decision', options });
    claims.push({ bound: 'bestDelayMs', searched, what: 'delivery', options });
  }
  const nearby = nearbySearches();
  const shown = claims.map((claim) => shownFor(question, { ...claim, nearby }));
  return {
    witnesses: shown.flatMap(({ witness }) => (witness === null ? [] : [witness])),
    safeLimits: shown.flatMap(({ safeLimit }) => (safeLimit === null ? [] : [safeLimit])),
  };
}

interface ShownClaim {
  readonly witness: Witness | null;
  readonly safeLimit: SafeLimit | null;
}

function shownFor(
  question: BoundsQuestion,
  claim: Claim & { readonly nearby: Nearby },
): ShownClaim {
  const { searched, what, options, bound } = claim;
  const wantedMs = searched.result[what]?.openingMs;
  if (wantedMs === undefined) return { witness: null, safeLimit: null };
  let best: { readonly experiment: RunWorld; readonly ms: number } | null = null;
  for (const attempt of attempts(question, searched, claim)) {
    const ms = reached(question, attempt, what);
    if (ms === null) continue;
    const beats = options.seek === 'greatest' ? ms > wantedMs : ms < wantedMs;
    invariant(!beats, 'no run beats a bound', { bound, ms, wantedMs });
    const nearer = best === null || (options.seek === 'greatest' ? ms > best.ms : ms < best.ms);
    if (nearer) best = { experiment: attempt.experiment, ms };
    if (ms === wantedMs) break;
  }
  const reachedMs = best === null ? null : boundFrom(bound, best.ms);
  const safeLimit = best?.ms === wantedMs ? null : { bound, reachedMs };
  return { witness: best === null ? null : witnessOf(question, claim, best), safeLimit };
}

function reached(question: BoundsQuestion, attempt: Attempt, what: Sought['what']): number | null {
  const { experiment, openingMs } = attempt;
  const endless = replay(question, experiment);
  if (what === 'decision') return endless.decidedAfterMs;
  if (what === 'delivery') return endless.deliveredAfterMs;
  // As long as the search says; else up to a decision, just too short for it.
  const own = endless.alerts.filter(({ opening }) => opening === endless.opening);
  const openedMs = experiment.world.openings.fromMs[endless.opening] ?? 0;
  const lengths = [openingMs, ...own.map(({ decidedMs }) => decidedMs - openedMs)];
  const scene = sceneOf(experiment);
  const goesUnreported = (ms: number): boolean =>
    ms === 0 || isUnreported(replay(question, worldOf(shutAfter(question, scene, ms))));
  return lengths.toSorted((a, b) => b - a).find(goesUnreported) ?? null;
}

function isUnreported({ deliveredAfterMs }: Replayed): boolean {
  return deliveredAfterMs === null;
}

/** Openings go unreported, or without a decision, if they are at most this long. */
function boundFrom(bound: ClaimedBound, ms: number): number {
  return isOfLength(bound) ? ms + 1 : ms;
}

function isOfLength(bound: ClaimedBound): boolean {
  return bound.startsWith('alwaysReportedFromMs') || bound.startsWith('alwaysDecidedFromMs');
}

/** Null where the opening would have no length. */
function witnessOf(
  question: BoundsQuestion,
  { bound, what }: Claim,
  best: { readonly experiment: RunWorld; readonly ms: number },
): Witness | null {
  const lastsMs = lengthFor(bound, best.ms);
  if (lastsMs === 0) return null;
  const scene = shutAfter(question, sceneOf(best.experiment), lastsMs);
  const own = (of: Replayed): unknown =>
    what === 'decision' ? of.decidedAfterMs : of.deliveredAfterMs;
  const claimed = own(replay(question, worldOf(scene)));
  const shows = (candidate: Scene): boolean =>
    own(replay(question, worldOf(candidate))) === claimed;
  const experiment = worldOf(simplified(question, scene, shows));
  const { opening, decidedAfterMs, deliveredAfterMs } = replay(question, experiment);
  const sentence = sentenceFor(bound, best.ms, decidedAfterMs);
  return { bound, sentence, experiment, opening, decidedAfterMs, deliveredAfterMs };
}

function lengthFor(bound: ClaimedBound, ms: number): number {
  switch (bound) {
    case 'alwaysReportedFromMs.atRest':
    case 'alwaysReportedFromMs.anyState':
    case 'alwaysDecidedFromMs.atRest':
    case 'alwaysDecidedFromMs.anyState':
      return ms;
    case 'neverAlarmedUpToMs':
      return ms + 1;
    case 'worstDelayMs.atRest':
    case 'worstDelayMs.anyState':
    case 'bestDelayMs':
      return Number.POSITIVE_INFINITY;
  }
}

/** The opening in question shuts, and the timeline goes on for as long as a pending alert would wait for another attempt. */
function shutAfter(question: BoundsQuestion, scene: Scene, lastsMs: number): Scene {
  const last = scene.openings.length - 1;
  const [from] = scene.openings[last] ?? [0];
  const shutMs = from + lastsMs;
  const openings = scene.openings.with(last, [from, shutMs]);
  if (shutMs === Number.POSITIVE_INFINITY) return { ...scene, openings };
  const downMs = scene.networkDown.at(-1)?.[1] ?? 0;
  const { bootMs, connectMs, joinWaitMs, sleeps } = timesOf(
    question.program.watch,
    question.timing,
  );
  const sendMs = connectMs.most + joinWaitMs;
  const wakeMs = bootMs.most + sendMs + greatestOf(sleeps.map(({ mostMs }) => mostMs));
  const leastMs = Math.max(shutMs, downMs) + 2 * wakeMs;
  const lengthMs = Math.max(scene.lengthMs, Math.ceil(leastMs / minuteMs) * minuteMs);
  return { ...scene, openings, lengthMs };
}

function sentenceFor(bound: ClaimedBound, ms: number, decidedAfterMs: number | null): string {
  const open = `open for ${durationText(ms)}`;
  switch (bound) {
    case 'alwaysReportedFromMs.atRest':
    case 'alwaysReportedFromMs.anyState':
      return decidedAfterMs === null
        ? `${open}, a millisecond too short to be sure of a report: no alert is decided`
        : `${open}, a millisecond too short to be sure of a report: its alert is lost before it is delivered`;
    case 'alwaysDecidedFromMs.atRest':
    case 'alwaysDecidedFromMs.anyState':
      return `${open}, a millisecond too short to be sure that an alert is decided: none is`;
    case 'neverAlarmedUpToMs':
      return `open for ${durationText(ms + 1)}, just long enough to cause an alert`;
    case 'worstDelayMs.atRest':
    case 'worstDelayMs.anyState':
    case 'bestDelayMs':
      return `left open for ever, and reported after ${durationText(ms)}`;
  }
}
