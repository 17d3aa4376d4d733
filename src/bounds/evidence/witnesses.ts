// A run for every number: found by the search, run anew in the simulator, made plain, and believed only if it shows
// the number to the millisecond. A number that no run shows is called safe, and no more.
import { durationText, invariant } from '../../base/index.js';
import type { BoundName, CourseWorld, SafeLimit, Witness } from '../answer.js';
import type { Searched } from '../bounds.js';
import type { BoundsQuestion } from '../question.js';
import { attempts, type Sought } from './attempts.js';
import { type Replayed, replay } from './replay.js';
import { type Scene, sceneOf, worldOf } from './scene.js';
import { simplified } from './simplify.js';

export interface Shown {
  readonly witnesses: readonly Witness[];
  readonly safeLimits: readonly SafeLimit[];
}

/** A number that is claimed, and what is to be shown for it. */
interface Claim extends Sought {
  readonly bound: BoundName;
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
    // Where an opening may never be reported there is no such number.
    if (searched?.result.never !== null) continue;
    const options = { from: from === 'atRest' ? 'rest' : 'anywhere', seek: 'greatest' } as const;
    claims.push({ bound: `alwaysReportedFromMs.${from}`, searched, what: 'decision', options });
    claims.push({ bound: `worstDelayMs.${from}`, searched, what: 'delivery', options });
  }
  if (searches.quickest !== null) {
    const searched = searches.quickest;
    const options = { from: 'rest', seek: 'least' } as const;
    claims.push({ bound: 'neverAlarmedUpToMs', searched, what: 'decision', options });
    claims.push({ bound: 'bestDelayMs', searched, what: 'delivery', options });
  }
  const shown = claims.map((claim) => shownFor(question, claim));
  return {
    witnesses: shown.flatMap(({ witness }) => (witness === null ? [] : [witness])),
    safeLimits: shown.flatMap(({ safeLimit }) => (safeLimit === null ? [] : [safeLimit])),
  };
}

interface ShownClaim {
  readonly witness: Witness | null;
  readonly safeLimit: SafeLimit | null;
}

function shownFor(question: BoundsQuestion, claim: Claim): ShownClaim {
  const { searched, what, options, bound } = claim;
  const wantedMs = searched.result[what]?.openingMs;
  if (wantedMs === undefined) return { witness: null, safeLimit: null };
  let best: { readonly experiment: CourseWorld; readonly ms: number } | null = null;
  for (const experiment of attempts(question, searched, claim)) {
    const ms = reached(replay(question, experiment), what);
    if (ms === null) continue;
    const beats = options.seek === 'greatest' ? ms > wantedMs : ms < wantedMs;
    invariant(!beats, 'no run beats a bound', { bound, ms, wantedMs });
    const nearer = best === null || (options.seek === 'greatest' ? ms > best.ms : ms < best.ms);
    if (nearer) best = { experiment, ms };
    if (ms === wantedMs) break;
  }
  const reachedMs = best === null ? null : boundFrom(bound, best.ms);
  const safeLimit = best?.ms === wantedMs ? null : { bound, reachedMs };
  return { witness: best === null ? null : witnessOf(question, claim, best), safeLimit };
}

function reached(replayed: Replayed, what: Sought['what']): number | null {
  return what === 'decision' ? replayed.decidedAfterMs : replayed.deliveredAfterMs;
}

/** An opening must last one millisecond beyond the latest first decision to hold it. */
function boundFrom(bound: BoundName, ms: number): number {
  return bound.startsWith('alwaysReportedFromMs') ? ms + 1 : ms;
}

/** Null where the opening would have no length. */
function witnessOf(
  question: BoundsQuestion,
  { bound, what }: Claim,
  best: { readonly experiment: CourseWorld; readonly ms: number },
): Witness | null {
  const lastsMs = lengthFor(bound, best.ms);
  if (lastsMs === 0) return null;
  const scene = withLength(sceneOf(best.experiment), lastsMs);
  const claimed = replay(question, worldOf(scene));
  const own = (of: Replayed): unknown =>
    what === 'delivery' ? of.deliveredAfterMs : of.decidedAfterMs;
  const shows = (candidate: Scene): boolean =>
    own(replay(question, worldOf(candidate))) === own(claimed);
  const experiment = worldOf(simplified(question, scene, shows));
  const { opening, decidedAfterMs, deliveredAfterMs } = replay(question, experiment);
  const sentence = sentenceFor(bound, best.ms);
  return { bound, sentence, experiment, opening, decidedAfterMs, deliveredAfterMs };
}

function lengthFor(bound: BoundName, ms: number): number {
  switch (bound) {
    case 'alwaysReportedFromMs.atRest':
    case 'alwaysReportedFromMs.anyState':
      return ms;
    case 'neverAlarmedUpToMs':
      return ms + 1;
    case 'worstDelayMs.atRest':
    case 'worstDelayMs.anyState':
    case 'bestDelayMs':
    case 'unreportable':
    case 'aliasing':
      return Number.POSITIVE_INFINITY;
  }
}

function withLength(scene: Scene, lastsMs: number): Scene {
  const last = scene.openings.length - 1;
  const [from] = scene.openings[last] ?? [0];
  return { ...scene, openings: scene.openings.with(last, [from, from + lastsMs]) };
}

function sentenceFor(bound: BoundName, ms: number): string {
  switch (bound) {
    case 'alwaysReportedFromMs.atRest':
    case 'alwaysReportedFromMs.anyState':
      return `open for ${durationText(ms)}, a millisecond too short to be sure of an alert, and none is decided in it`;
    case 'neverAlarmedUpToMs':
      return `open for ${durationText(ms + 1)}, just long enough to cause an alert`;
    case 'worstDelayMs.atRest':
    case 'worstDelayMs.anyState':
    case 'bestDelayMs':
    case 'unreportable':
    case 'aliasing':
      return `left open for ever, and told of after ${durationText(ms)}`;
  }
}
