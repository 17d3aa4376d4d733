// All bounds of a watch as one plain object: the searches, which requirements they meet, and a run that shows
// each number.
import { itemAt, listText, numberText } from '../base/index.js';
import { adviceOf } from './advice/advice.js';
import { blindBandMmOf, gapsOf } from './advice/blind-band.js';
import { findingsOf } from './advice/findings.js';
import type { FalseAlarmsPerYear } from './advice/prices.js';
import { remediesOf } from './advice/remedies.js';
import { openTrials, type RestBounds } from './advice/trial.js';
import { unreportableOf } from './advice/unreportable.js';
import { aliasingOf } from './aliasing/aliasing.js';
import type { BoundName, Bounds, Unknown } from './answer.js';
import {
  decidedFromMs,
  longestMs,
  type Searched,
  searched,
  searchesFor,
  sureFromMs,
} from './bounds.js';
import { curvesOf } from './curves/curves.js';
import { shownOf } from './evidence/witnesses.js';
import { holdsOf, type Known } from './holds.js';
import type { BoundsQuestion } from './question.js';
import { unlessOutgrown } from './visited.js';

/**
 * The bounds of a watch in its environment. A search that outgrows its limit is reported, and proves nothing.
 * @param falseAlarmsPerYear a further price of each remedy, for a door whose usage is known.
 */
export function boundsOf(
  question: BoundsQuestion,
  falseAlarmsPerYear?: FalseAlarmsPerYear,
): Bounds {
  const { searches, unknown } = searchesOf(question);
  const { atRest, anyState } = searches;
  const known = knownOf(searches);
  const holds = holdsOf(question, known);
  const shown = shownOf(question, searches);
  const { aliasing, proof, ...alias } = aliasingOf(question);
  const never = anyState === null ? null : unreportableOf(question, anyState);
  const trials = openTrials(question);
  const priced = {
    quietMs: known.neverAlarmedUpToMs ?? null,
    restMs: restBoundsOf(known),
    ...(falseAlarmsPerYear === undefined ? {} : { falseAlarmsPerYear }),
  };
  const remedies = remediesOf(question, holds, priced, trials);
  const nodes = Object.values(searches).map((search) => search?.result.nodes ?? 0);
  return {
    alwaysReportedFromMs: {
      atRest: known.alwaysReportedFromMs.atRest ?? null,
      anyState: known.alwaysReportedFromMs.anyState ?? null,
    },
    alwaysDecidedFromMs: {
      atRest: atRest === null ? null : decidedFromMs(atRest.result),
      anyState: anyState === null ? null : decidedFromMs(anyState.result),
    },
    neverAlarmedUpToMs: known.neverAlarmedUpToMs ?? null,
    worstDelayMs: {
      atRest: known.worstDelayMs.atRest ?? null,
      anyState: known.worstDelayMs.anyState ?? null,
    },
    bestDelayMs: searches.quickest?.result.delivery?.openingMs ?? null,
    unreportable: never?.unreportable ?? null,
    aliasing,
    aliasingProof: proof,
    blindBandMm: blindBandMmOf(question),
    gaps: gapsOf(question),
    ...curvesOf(question),
    holds,
    safeLimits: [
      ...shown.safeLimits,
      ...(alias.isShown ? [] : [{ bound: 'aliasing' as const, reachedMs: null }]),
    ],
    unknown: [...unknown, ...(alias.unknown === null ? [] : [alias.unknown])],
    witnesses: [...shown.witnesses, never?.witness, alias.witness].filter((one) => one != null),
    findings: findingsOf(question, searches),
    remedies,
    advice: adviceOf(question, known, { holds, remedies, isCutShort: trials.isCutShort() }),
    states: nodes.reduce((sum, count) => sum + count, alias.states),
  };
}

function restBoundsOf({ alwaysReportedFromMs, worstDelayMs }: Known): RestBounds | undefined {
  const [sureFromMs, delayMs] = [alwaysReportedFromMs.atRest, worstDelayMs.atRest];
  if (sureFromMs === undefined || delayMs === undefined) return undefined;
  return { sureFromMs, worstDelayMs: delayMs };
}

type Searches = Readonly<Record<keyof typeof searchesFor, Searched | null>>;

const boundsFrom: Readonly<Record<keyof typeof searchesFor, readonly BoundName[]>> = {
  atRest: ['alwaysReportedFromMs.atRest', 'alwaysDecidedFromMs.atRest', 'worstDelayMs.atRest'],
  anyState: [
    'alwaysReportedFromMs.anyState',
    'alwaysDecidedFromMs.anyState',
    'worstDelayMs.anyState',
    'unreportable',
  ],
  quickest: ['neverAlarmedUpToMs', 'bestDelayMs'],
};

/** What a search that stopped does not find. */
const leftOpen: Readonly<Record<keyof typeof boundsFrom, string>> = {
  atRest: 'what holds at rest',
  anyState: 'what holds from any state',
  quickest: 'up to which length the watch stays quiet, and how soon an alert can come,',
};

/** @param mostNodes the most states of each search; default: the usual limit. */
export function searchesOf(
  question: BoundsQuestion,
  mostNodes?: number,
): {
  readonly searches: Searches;
  readonly unknown: readonly Unknown[];
} {
  const unknown: Unknown[] = [];
  const options = mostNodes === undefined ? {} : { mostNodes };
  const run = (name: keyof typeof searchesFor): Searched | null =>
    unlessOutgrown(
      () => searched(question, { ...searchesFor[name], ...options }),
      ({ mostNodes: mostStates }) => {
        const met = `the search met more than ${numberText(mostStates)} states and stopped, so`;
        const sentence = `${met} ${leftOpen[name]} is not known; ${lighterText(question)}`;
        unknown.push({ bounds: boundsFrom[name], mostStates, sentence });
        return null;
      },
    );
  const atRest = run('atRest');
  // From any state it meets far more.
  const anyState = atRest === null ? null : run('anyState');
  if (atRest === null) {
    const { mostStates } = itemAt(unknown, 0);
    const sentence = `${leftOpen.anyState} was not searched for, since that meets more states still`;
    unknown.push({ bounds: boundsFrom.anyState, mostStates, sentence });
  }
  return { searches: { atRest, anyState, quickest: run('quickest') }, unknown };
}

/** What to leave out so that a search may finish: the faults that multiply the states most come first. */
function lighterText({ environment, program, timing }: BoundsQuestion): string {
  const { longestChatterMs, resets, powerLosses, outages, longestOutageMs } = environment;
  const faults = [
    ...(longestChatterMs > 0 ? ['without longestChatter'] : []),
    ...(resets > 1 ? ['with resets: 1'] : resets === 1 ? ['without resets'] : []),
    ...(powerLosses > 1
      ? ['with powerLosses: 1']
      : powerLosses === 1
        ? ['without powerLosses']
        : []),
    ...(longestOutageMs > 0 && outages > 1 ? ['with outages: 1'] : []),
  ];
  const { least, most } = timing.bootTime;
  const isRanged = least < most || timing.connectTime.least < timing.connectTime.most;
  const others = [
    ...(isRanged ? ['with narrower ranges (device:)'] : []),
    ...(program.watch.heartbeatIntervalMs === null ? [] : ['without heartbeats']),
    'with a smaller escalationThreshold',
  ];
  return `${listText(faults.length > 0 ? faults : others, 'or')} it may finish`;
}

export function knownOf({ atRest, anyState, quickest }: Searches): Known {
  return {
    alwaysReportedFromMs: {
      atRest: atRest === null ? undefined : sureFromMs(atRest.result),
      anyState: anyState === null ? undefined : sureFromMs(anyState.result),
    },
    worstDelayMs: {
      atRest: atRest === null ? undefined : longestMs(atRest.result),
      anyState: anyState === null ? undefined : longestMs(anyState.result),
    },
    neverAlarmedUpToMs:
      quickest === null ? undefined : (quickest.result.decision?.openingMs ?? null),
  };
}
