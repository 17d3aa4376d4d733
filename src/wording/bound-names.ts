// The names of bounds for people; programs get the keys of the JSON.
import type { BoundName } from '../bounds/index.js';

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

/** `sure from, at rest` */
export function boundNameText(bound: BoundName): string {
  return names[bound];
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
      return bound === undefined ? run : `"${boundNameText(bound)}"`;
    })
    .join(', ');
}
