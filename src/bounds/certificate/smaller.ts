// A watch whose proof is too large, with a little left out, so that its proof is small enough: each change is tried, alone
// first, and else the fewest that are enough together.
import { ppm, writeDuration } from '../../base/index.js';
import type { WatchSettings } from '../../machine/index.js';
import { clockErrorsOf, mostSmallerProofStates, type TimingRanges } from '../../model/index.js';
import { compileWatch } from '../../sim/index.js';
import type { CertifiedBounds } from '../../verify/index.js';
import type { BoundsQuestion } from '../question.js';
import { TooManyStatesError } from '../visited.js';
import { certificateText } from './certificate.js';

/** What is enough for a certificate, and what the certificate would then prove. */
export interface SmallerProof {
  /** What to do, a clause each. */
  readonly changes: readonly string[];
  readonly states: number;
  readonly bounds: CertifiedBounds;
}

interface Change {
  readonly words: string;
  readonly apply: (question: BoundsQuestion) => BoundsQuestion;
}

/** Yields as it goes on; null: nothing that was tried is enough. */
export function* smallerProof(
  question: BoundsQuestion,
  mostStates = mostSmallerProofStates,
): Generator<number, SmallerProof | null> {
  const all = changesFor(question);
  const proofWith = (changes: readonly Change[]) => provedWith(question, changes, mostStates);
  for (const change of all) {
    const proof = yield* proofWith([change]);
    if (proof !== null) return proof;
  }
  if (all.length < 2) return null;
  let enough = yield* proofWith(all);
  if (enough === null) return null;
  let left = all;
  // What changes most of what is proved is kept only if it must be.
  for (const change of all.toReversed()) {
    const fewer = left.filter((one) => one !== change);
    const proof = yield* proofWith(fewer);
    if (proof !== null) [left, enough] = [fewer, proof];
  }
  return enough;
}

function* provedWith(
  question: BoundsQuestion,
  changes: readonly Change[],
  mostStates: number,
): Generator<number, SmallerProof | null> {
  const changed = changes.reduce((so, { apply }) => apply(so), question);
  try {
    const certified = yield* certificateText(changed, mostStates);
    if (certified.kind === 'not covered') return null;
    const { states, bounds } = certified;
    return { changes: changes.map(({ words }) => words), states, bounds };
  } catch (error) {
    if (error instanceof TooManyStatesError) return null;
    throw error;
  }
}

/** What may be left out, the less important first. */
function changesFor(question: BoundsQuestion): readonly Change[] {
  const { watch } = question.program;
  const { resets, longestChatterMs, powerLosses, longestOutageMs } = question.environment;
  const { open, outOf } = watch.escalationThreshold;
  const all: readonly (Change | false)[] = [
    watch.heartbeatIntervalMs !== null && inWatch('leave out heartbeatInterval', silent),
    watch.lowBattery !== undefined && inWatch('leave out lowBattery', unwarned),
    ...singleTimes(question.timing),
    resets > 0 && without('resets', { resets: 0 }),
    longestChatterMs > 0 && without('longestChatter', { longestChatterMs: 0 }),
    powerLosses > 0 && without('powerLosses', { powerLosses: 0 }),
    longestOutageMs > 0 && without('longestOutage', { longestOutageMs: 0 }),
    open > 1 && outOf > 2 && inWatch('set escalationThreshold: 2', atTwo),
  ];
  return all.filter((change) => change !== false);
}

function inWatch(words: string, change: (watch: WatchSettings) => WatchSettings): Change {
  const apply = (question: BoundsQuestion): BoundsQuestion => {
    const program = compileWatch(change(question.program.watch));
    return { ...question, program };
  };
  return { words, apply };
}

function silent(watch: WatchSettings): WatchSettings {
  return { ...watch, heartbeats: false, heartbeatIntervalMs: null };
}

function unwarned({ lowBattery: _, ...watch }: WatchSettings): WatchSettings {
  return watch;
}

function atTwo(watch: WatchSettings): WatchSettings {
  return { ...watch, escalationThreshold: { open: 2, outOf: 2 } };
}

function without(key: string, faults: Partial<BoundsQuestion['environment']>): Change {
  return {
    words: `leave out ${key} (environment:)`,
    apply: (question) => ({ ...question, environment: { ...question.environment, ...faults } }),
  };
}

/** Each range as the single value in its middle. */
function singleTimes(timing: TimingRanges): readonly (Change | false)[] {
  const durations = (['bootTime', 'connectTime'] as const).map((key): Change | false => {
    const { least, most } = timing[key];
    const ms = Math.round((least + most) / 2);
    const words = `give a single ${key}, such as ${writeDuration(ms)}`;
    return least < most && timed(words, { [key]: { least: ms, most: ms } });
  });
  const errors = clockErrorsOf(timing.clockError);
  const middle = ppm(Math.round((errors.least + errors.most) / 2));
  const words = `give a single clockError, such as ${String(middle / 10_000)}%`;
  const clockError = { kind: 'range', least: middle, most: middle } as const;
  return [...durations, errors.least < errors.most && timed(words, { clockError })];
}

function timed(words: string, times: Partial<TimingRanges>): Change {
  const apply = (question: BoundsQuestion): BoundsQuestion => {
    const timing = { ...question.timing, ...times };
    return { ...question, timing };
  };
  return { words, apply };
}
