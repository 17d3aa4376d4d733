// All bounds of a watch as one plain object: the searches, what they mean for what is asked, and a run that shows
// each number.
import { durationText, InvariantError } from '../base/index.js';
import { simulate } from '../sim/index.js';
import { judge } from '../verdict/index.js';
import { aliasingOf } from './aliasing.js';
import type { BoundName, Bounds, Holds, SafeLimit, Unknown, Witness } from './answer.js';
import { type BoundsQuestion, type DetectionBounds, detectionBounds, modelOf } from './bounds.js';
import { courseWorld } from './course-world.js';
import { curvesOf } from './curves.js';
import { blindBandMmOf, findingsOf, unreportableOf } from './findings.js';
import { adviceOf, remediesOf } from './remedies.js';
import type { Found } from './search.js';
import { TooManyStatesError } from './visited.js';
import { courseOf } from './witness.js';

/** The bounds of a watch in its environment. A search that outgrows its limit is told of, and claims nothing. */
export function boundsOf(question: BoundsQuestion): Bounds {
  const searched = searchedOf(question);
  const { found, unknown } = searched;
  const holds = holdsOf(question, found);
  const shown = found === null ? noWitnesses : witnessesOf(question, found);
  const alias = aliasingOf(question);
  const remedies = found === null ? [] : remediesOf(question, holds);
  const neverMs = found?.neverAlarmedUpToMs ?? null;
  return {
    alwaysReportedFromMs: found?.alwaysReportedFromMs ?? { atRest: null, anyState: null },
    neverAlarmedUpToMs: neverMs === Number.POSITIVE_INFINITY ? null : neverMs,
    worstDelayMs: found?.worstDelayMs ?? { atRest: null, anyState: null },
    bestDelayMs: found?.bestDelayMs ?? null,
    unreportable: found === null ? null : unreportableOf(question, found),
    aliasing: alias.aliasing,
    aliasingProof: alias.proof,
    blindBandMm: blindBandMmOf(question),
    ...curvesOf(question),
    holds,
    safeLimits: shown.safeLimits,
    unknown,
    witnesses: shown.witnesses,
    findings: found === null ? [] : findingsOf(question, found),
    remedies,
    advice: found === null ? null : adviceOf(question, found, { holds, remedies }),
    states:
      found === null
        ? 0
        : found.courses.slowest.atRest.nodes +
          found.courses.slowest.anyState.nodes +
          found.courses.quickest.nodes,
  };
}

function searchedOf(question: BoundsQuestion): {
  readonly found: DetectionBounds | null;
  readonly unknown: readonly Unknown[];
} {
  try {
    return { found: detectionBounds(question), unknown: [] };
  } catch (error) {
    if (!(error instanceof TooManyStatesError)) throw error;
    const sentence =
      'the search met more states than its limit, and nothing is claimed of these bounds';
    const bounds: readonly BoundName[] = [
      'alwaysReportedFromMs.atRest',
      'alwaysReportedFromMs.anyState',
      'neverAlarmedUpToMs',
      'worstDelayMs.atRest',
      'worstDelayMs.anyState',
      'bestDelayMs',
      'unreportable',
    ];
    return { found: null, unknown: [{ bounds, mostStates: error.mostNodes, sentence }] };
  }
}

/** Does the watch do what its owner asks? */
export function holdsOf({ judge: asked }: BoundsQuestion, found: DetectionBounds | null): Holds {
  if (found === null) {
    const none = { atRest: null, anyState: null };
    return { leaveOpenAfter: none, reportWithin: none, quietUpTo: none };
  }
  const { alwaysReportedFromMs: sure, worstDelayMs: worst, neverAlarmedUpToMs } = found;
  const { leaveOpenAfterMs, reportWithinMs, quietUpToMs } = asked;
  const atMost = (bound: number | null, limit: number | null): boolean | null =>
    limit === null ? null : bound !== null && bound <= limit;
  return {
    leaveOpenAfter: {
      atRest: atMost(sure.atRest, leaveOpenAfterMs),
      anyState: atMost(sure.anyState, leaveOpenAfterMs),
    },
    reportWithin: {
      atRest: atMost(worst.atRest, reportWithinMs),
      anyState: atMost(worst.anyState, reportWithinMs),
    },
    quietUpTo: {
      atRest: quietUpToMs === null ? null : quietUpToMs <= neverAlarmedUpToMs,
      anyState: null,
    },
  };
}

interface Shown {
  readonly witnesses: readonly Witness[];
  readonly safeLimits: readonly SafeLimit[];
}

const noWitnesses: Shown = { witnesses: [], safeLimits: [] };

interface Case {
  readonly bound: BoundName;
  readonly found: Found | null;
  readonly seek: 'greatest' | 'least';
  /** How long the opening lasts, from what the search found. */
  readonly lastsMs: (openingMs: number) => number;
  readonly sentence: (openingMs: number) => string;
}

function casesOf({
  courses,
  worstDelayMs,
  alwaysReportedFromMs,
}: DetectionBounds): readonly Case[] {
  const { slowest, quickest } = courses;
  const forEver = (): number => Number.POSITIVE_INFINITY;
  const unreported = (ms: number): string =>
    `open for ${durationText(ms)}, just too short to be sure of an alert, and none is decided in it`;
  const late = (ms: number): string => `left open for ever, and told of after ${durationText(ms)}`;
  const both = ['atRest', 'anyState'] as const;
  return [
    ...both.flatMap((from): readonly Case[] => [
      {
        bound: `alwaysReportedFromMs.${from}`,
        found: alwaysReportedFromMs[from] === null ? null : slowest[from].decision,
        seek: 'greatest',
        lastsMs: (ms) => ms,
        sentence: unreported,
      },
      {
        bound: `worstDelayMs.${from}`,
        found: worstDelayMs[from] === null ? null : slowest[from].delivery,
        seek: 'greatest',
        lastsMs: forEver,
        sentence: late,
      },
    ]),
    {
      bound: 'neverAlarmedUpToMs',
      found: quickest.decision,
      seek: 'least',
      lastsMs: (ms) => ms + 1,
      sentence: (ms) => `open for ${durationText(ms + 1)}, just long enough to cause an alert`,
    },
    {
      bound: 'bestDelayMs',
      found: quickest.delivery,
      seek: 'least',
      lastsMs: forEver,
      sentence: late,
    },
  ];
}

function witnessesOf(question: BoundsQuestion, found: DetectionBounds): Shown {
  const witnesses: Witness[] = [];
  const safeLimits: SafeLimit[] = [];
  for (const one of casesOf(found)) {
    // An opening of no length is no opening: it shows nothing.
    if (one.found === null || one.lastsMs(one.found.openingMs) <= 0) continue;
    const witness = witnessOf(question, one, one.found);
    if (witness === null) safeLimits.push({ bound: one.bound, reachedMs: null });
    else witnesses.push(witness);
  }
  return { witnesses, safeLimits };
}

/** A run that reaches a bound; null where the search could only show that nothing is worse. */
function witnessOf(question: BoundsQuestion, one: Case, found: Found): Witness | null {
  const model = modelOf(question);
  try {
    const course = courseOf(model, found, one.seek);
    const shutsAtMs = course.opensAtMs + one.lastsMs(found.openingMs);
    const experiment = courseWorld(model, course, { shutsAtMs, nominal: question.timing });
    const { program, judge: asked } = question;
    const trace = simulate({ ...experiment, program, seed: '' }, { record: 'none' });
    const verdict = judge(experiment.world.openings, trace, asked);
    const opening = verdict.openings.count - 1;
    const own = verdict.alerts.filter((alert) => alert.opening === opening);
    const { fromMs, delayMs } = verdict.openings.at(opening);
    const decidedMs = own[0]?.decidedMs;
    return {
      bound: one.bound,
      sentence: one.sentence(found.openingMs),
      experiment,
      opening,
      decidedAfterMs: decidedMs === undefined ? null : decidedMs - fromMs,
      deliveredAfterMs: delayMs,
    };
  } catch (error) {
    // The zones of a range of clock errors may hold readings that no one course reaches.
    if (error instanceof InvariantError) return null;
    throw error;
  }
}
