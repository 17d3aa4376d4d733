// What is proved is never beaten by a sample inside the same environment.
import { leastOf } from '../../../src/base/index.js';
import type { Bounds, BoundsQuestion, SearchResult } from '../../../src/bounds/index.js';
import { decidedFromMs, longestMs, sureFromMs } from '../../../src/bounds/index.js';
import { type Draw, drawFrom } from './draw.js';
import { type Broken, foundFor, type LawCase, questionIn } from './law-case.js';
import { type Sample, sampleOf } from './samples.js';

interface FoundAll {
  readonly atRest: SearchResult | null;
  readonly anyState: SearchResult | null;
  readonly quickest: SearchResult | null;
}

function foundIn(question: BoundsQuestion): FoundAll {
  return {
    atRest: foundFor(question, 'atRest'),
    anyState: foundFor(question, 'anyState'),
    quickest: foundFor(question, 'quickest'),
  };
}

/** The figures that samples may not beat; undefined: nothing is claimed. */
export interface Claims {
  readonly sureFromMs: { readonly atRest?: number; readonly anyState?: number };
  readonly decidedFromMs?: { readonly atRest?: number; readonly anyState?: number };
  readonly worstDelayMs: { readonly atRest?: number; readonly anyState?: number };
  /** Infinity: no opening ever raises an alert. */
  readonly quietUpToMs?: number;
  /** Infinity: no alert is ever delivered. */
  readonly bestDelayMs?: number;
}

export function claimsOf(question: BoundsQuestion, found = foundIn(question)): Claims {
  const { atRest: rest, anyState: any, quickest } = found;
  const forEver = Number.POSITIVE_INFINITY;
  return {
    sureFromMs: {
      ...claim('atRest', rest === null ? null : sureFromMs(rest)),
      ...claim('anyState', any === null ? null : sureFromMs(any)),
    },
    decidedFromMs: {
      ...claim('atRest', rest === null ? null : decidedFromMs(rest)),
      ...claim('anyState', any === null ? null : decidedFromMs(any)),
    },
    worstDelayMs: {
      ...claim('atRest', rest === null ? null : longestMs(rest)),
      ...claim('anyState', any === null ? null : longestMs(any)),
    },
    ...claim('quietUpToMs', quickest === null ? null : (quickest.decision?.openingMs ?? forEver)),
    ...claim('bestDelayMs', quickest === null ? null : (quickest.delivery?.openingMs ?? forEver)),
  };
}

function claim(name: string, ms: number | null): Record<string, number> {
  return ms === null ? {} : { [name]: ms };
}

/** The bounds of a watch, as `bounds --json` has them. */
export interface ProvedBounds
  extends Pick<
    Bounds,
    'alwaysReportedFromMs' | 'worstDelayMs' | 'neverAlarmedUpToMs' | 'bestDelayMs'
  > {
  readonly exactness: { readonly unknown: readonly { readonly bounds: readonly string[] }[] };
}

export function claimsIn(bounds: ProvedBounds): Claims {
  const { alwaysReportedFromMs: sure, worstDelayMs: worst } = bounds;
  const { unknown } = bounds.exactness;
  const isUnknown = (name: string): boolean => unknown.some((one) => one.bounds.includes(name));
  const forEver = Number.POSITIVE_INFINITY;
  return {
    sureFromMs: { ...claim('atRest', sure.atRest), ...claim('anyState', sure.anyState) },
    worstDelayMs: { ...claim('atRest', worst.atRest), ...claim('anyState', worst.anyState) },
    ...(isUnknown('neverAlarmedUpToMs')
      ? {}
      : claim('quietUpToMs', bounds.neverAlarmedUpToMs ?? forEver)),
    ...(isUnknown('bestDelayMs') ? {} : claim('bestDelayMs', bounds.bestDelayMs ?? forEver)),
  };
}

/** Samples of each kind for one case. */
export function provedLaw(
  one: Pick<LawCase, 'seed' | 'index' | 'watchFile' | 'program'>,
  samples: number,
  claims = claimsOf(questionIn(one)),
): Broken {
  const question = questionIn(one);
  const draw = drawFrom(one.seed, 'samples', one.index);
  const broken: string[] = [];
  for (let sample = 0; sample < samples; sample += 1) {
    for (const from of ['atRest', 'anyState'] as const) {
      broken.push(...openingBeats(question, { claims, from, draw }));
    }
    broken.push(...quietBeats(question, claims, draw));
  }
  return broken;
}

interface On {
  readonly claims: Claims;
  readonly from: 'atRest' | 'anyState';
  readonly draw: Draw;
}

/** An opening that is surely reported, and one that never ends. */
function openingBeats(question: BoundsQuestion, { claims, from, draw }: On): Broken {
  const afterUse = from === 'anyState';
  const sureMs = claims.sureFromMs[from];
  const worstMs = claims.worstDelayMs[from];
  const broken: string[] = [];
  if (sureMs !== undefined) {
    const lengthMs = Math.max(1, sureMs) + draw.pick([0, 0, 1, draw.whole(0, sureMs)]);
    const sample = sampleOf(question, { lengthMs, afterUse }, draw);
    if (deliveredAfterMs(sample) === null) {
      broken.push(`sure ${from} from ${String(sureMs)} ms, and missed: ${told(sample)}`);
    }
    broken.push(...bestBeaten(sample, claims, afterUse));
  }
  const decidedMs = claims.decidedFromMs?.[from];
  if (decidedMs !== undefined) {
    const lengthMs = Math.max(1, decidedMs) + draw.pick([0, 0, 1]);
    const sample = sampleOf(question, { lengthMs, afterUse }, draw);
    if (sample.verdict.alerts.every(({ opening }) => opening !== sample.opening)) {
      broken.push(`decided ${from} from ${String(decidedMs)} ms, and none: ${told(sample)}`);
    }
  }
  if (worstMs !== undefined) {
    const sample = sampleOf(question, { lengthMs: Number.POSITIVE_INFINITY, afterUse }, draw);
    const delayMs = deliveredAfterMs(sample);
    if (delayMs === null || delayMs > worstMs) {
      broken.push(
        `worst latency ${from} ${String(worstMs)} ms, and ${String(delayMs)}: ${told(sample)}`,
      );
    }
    broken.push(...bestBeaten(sample, claims, afterUse));
  }
  return broken;
}

function bestBeaten(sample: Sample, { bestDelayMs }: Claims, afterUse: boolean): Broken {
  const delayMs = deliveredAfterMs(sample);
  if (afterUse || bestDelayMs === undefined || delayMs === null || delayMs >= bestDelayMs)
    return [];
  return [`best latency ${String(bestDelayMs)} ms, and ${String(delayMs)}: ${told(sample)}`];
}

function quietBeats(question: BoundsQuestion, { quietUpToMs }: Claims, draw: Draw): Broken {
  if (quietUpToMs === undefined || quietUpToMs < 1) return [];
  const mostMs = Math.min(quietUpToMs, 86_400_000);
  const lengthMs = draw.pick([mostMs, mostMs, draw.whole(1, mostMs)]);
  const sample = sampleOf(question, { lengthMs, afterUse: false }, draw);
  return sample.verdict.alerts.length === 0
    ? []
    : [`quiet up to ${String(quietUpToMs)} ms, and an alert: ${told(sample)}`];
}

/** From the start of the opening to the first delivery of an alert of its own; null: none. */
export function deliveredAfterMs({ verdict, opening }: Sample): number | null {
  const { fromMs } = verdict.openings.at(opening);
  const times = verdict.alerts.flatMap((alert) =>
    alert.opening === opening && alert.deliveredMs !== null ? [alert.deliveredMs - fromMs] : [],
  );
  return times.length === 0 ? null : leastOf(times);
}

function told({ experiment: { world, timing }, verdict }: Sample): string {
  const pairs = (spans: { fromMs: Float64Array; toMs: Float64Array }) =>
    Array.from(spans.fromMs, (from, at) => [from, spans.toMs[at]]);
  return JSON.stringify({
    openings: pairs(world.openings),
    down: pairs(world.networkDown),
    lost: pairs(world.powerLost),
    resets: [...world.resetsMs],
    contact: [...world.contact],
    lengthMs: world.lengthMs,
    timing,
    alerts: verdict.alerts,
  });
}
