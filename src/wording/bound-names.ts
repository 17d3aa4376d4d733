// The names of bounds for people; programs get the keys of the JSON.
import { durationText } from '../base/index.js';
import type { BoundName, Bounds, SafeLimit } from '../bounds/index.js';

const names: Readonly<Record<BoundName, string>> = {
  'alwaysReportedFromMs.atRest': 'sure from, at rest',
  'alwaysReportedFromMs.anyState': 'sure from, from any state',
  'alwaysDecidedFromMs.atRest': 'alert always decided from, at rest',
  'alwaysDecidedFromMs.anyState': 'alert always decided from, from any state',
  neverAlarmedUpToMs: 'quiet up to',
  'worstDelayMs.atRest': 'worst detection latency, at rest',
  'worstDelayMs.anyState': 'worst detection latency, from any state',
  bestDelayMs: 'best detection latency',
  unreportable: 'a door that is never reported',
  aliasing: 'how many brief openings raise a false alarm',
};

/** A bound that the search could not show to be exact: on which side it is safe, and what comes nearest to it. */
export function safeLimitText({ bound, reachedMs }: SafeLimit, bounds: Bounds): string {
  const ms = boundMs(bound, bounds);
  const name = `"${names[bound]}"${ms === null ? '' : ` (${durationText(ms)})`}`;
  const [never, may] = isLeast(bound) ? ['long', 'short'] : ['short', 'long'];
  const sides = bound === 'aliasing' ? ['high', 'low'] : [never, may];
  const found =
    reachedMs === null
      ? 'no run was found that comes near it'
      : `the run that comes nearest to it shows ${durationText(reachedMs)}`;
  return `${name} is never too ${sides[0] ?? ''}, but it may be too ${sides[1] ?? ''}: ${found}.`;
}

/** Bounds that are least values; the others are greatest ones. */
function isLeast(bound: BoundName): boolean {
  return bound === 'neverAlarmedUpToMs' || bound === 'bestDelayMs';
}

/** Null: it has no length, or was not found. */
function boundMs(bound: BoundName, bounds: Bounds): number | null {
  switch (bound) {
    case 'alwaysReportedFromMs.atRest':
      return bounds.alwaysReportedFromMs.atRest;
    case 'alwaysReportedFromMs.anyState':
      return bounds.alwaysReportedFromMs.anyState;
    case 'alwaysDecidedFromMs.atRest':
      return bounds.alwaysDecidedFromMs.atRest;
    case 'alwaysDecidedFromMs.anyState':
      return bounds.alwaysDecidedFromMs.anyState;
    case 'worstDelayMs.atRest':
      return bounds.worstDelayMs.atRest;
    case 'worstDelayMs.anyState':
      return bounds.worstDelayMs.anyState;
    case 'neverAlarmedUpToMs':
      return bounds.neverAlarmedUpToMs;
    case 'bestDelayMs':
      return bounds.bestDelayMs;
    case 'unreportable':
    case 'aliasing':
      return null;
  }
}

const runs: Readonly<Record<string, BoundName>> = {
  'latestAtRest.decided': 'alwaysDecidedFromMs.atRest',
  'latestAtRest.delivered': 'worstDelayMs.atRest',
  'latestAtRest.unreported': 'alwaysReportedFromMs.atRest',
  'latestFromAnyState.decided': 'alwaysDecidedFromMs.anyState',
  'latestFromAnyState.delivered': 'worstDelayMs.anyState',
  'latestFromAnyState.unreported': 'alwaysReportedFromMs.anyState',
  'earliestAtRest.decided': 'neverAlarmedUpToMs',
  'earliestAtRest.delivered': 'bestDelayMs',
};

/** Bounds that no run of a certificate reaches, in a list. @param notReached the names of those runs in the certificate. */
export function notReachedText(notReached: readonly string[]): string {
  return notReached
    .map((run) => {
      const bound = runs[run];
      return bound === undefined ? run : `"${names[bound]}"`;
    })
    .join(', ');
}
