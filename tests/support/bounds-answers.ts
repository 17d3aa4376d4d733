// Bounds as the search would answer them, written down by hand: the watch that checks every 3 min, with threshold 2.
import type { Bounds, Curve } from '../../src/bounds/index.js';
import { parseWatchFile, type WatchFile } from '../../src/scenarios/index.js';

/** D = P + S = 360.8 s, Q = S = 180.4 s, where P = S = 180 s + 400 ms. */
export function plainBounds(other: Partial<Bounds> = {}): Bounds {
  const detectionCurve: Curve = [
    [180_400, 0],
    [360_800, 1],
  ];
  const delayDistribution: Curve = [
    [184_399, 0],
    [364_799, 1],
  ];
  return {
    alwaysReportedFromMs: { atRest: 360_800, anyState: null },
    alwaysDecidedFromMs: { atRest: 360_800, anyState: null },
    neverAlarmedUpToMs: 180_400,
    worstDelayMs: { atRest: 364_799, anyState: null },
    bestDelayMs: 184_400,
    unreportable: null,
    gaps: null,
    aliasing: null,
    aliasingProof: null,
    blindBandMm: null,
    detectionCurve,
    detectionCurveMost: null,
    delayDistribution,
    delayDistributionMost: null,
    holds: {
      leaveOpenAfter: { atRest: false, anyState: false },
      reportWithin: { atRest: null, anyState: null },
      quietUpTo: { atRest: null, anyState: null },
    },
    safeLimits: [],
    unknown: [],
    witnesses: [],
    findings: [],
    remedies: [],
    advice: null,
    states: 12,
    ...other,
  };
}

/** A watch that no opening makes alert. */
export function silentBounds(): Bounds {
  return plainBounds({
    alwaysReportedFromMs: { atRest: null, anyState: null },
    alwaysDecidedFromMs: { atRest: null, anyState: null },
    neverAlarmedUpToMs: null,
    worstDelayMs: { atRest: null, anyState: null },
    bestDelayMs: null,
    detectionCurve: [],
    delayDistribution: [],
  });
}

export function watchFileOf(text: string): WatchFile {
  const result = parseWatchFile(text, 'watch.yaml');
  if (!result.ok) throw new Error(JSON.stringify(result.errors));
  return result.value;
}
