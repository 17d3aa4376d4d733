// The law of reasons: every clause of every sentence is true of the run that it speaks of, and none is missing.
import { simulate } from '../../../src/sim/index.js';
import { explain, judge } from '../../../src/verdict/index.js';
import { claimsOf } from './claims.js';
import { alertClaims, openingClaims, wholeOf } from './reason-checker.js';
import { type ReasonCase, reasonCase } from './reason-experiments.js';

/** More than any of the experiments has to explain. */
const all = 1_000;

export interface ReasonFindings {
  readonly reasons: number;
  /** How often each kind of claim was made. */
  readonly kinds: ReadonlyMap<string, number>;
  /** Empty: the law holds. */
  readonly broken: readonly string[];
}

/** Checks every reason given for one experiment. */
export function checkReasons({ experiment, asked }: ReasonCase, name: string): ReasonFindings {
  const trace = simulate(experiment, { record: 'all' });
  const whole = wholeOf(experiment, trace, asked);
  const verdict = judge(experiment.world.openings, trace, asked);
  const kinds = new Map<string, number>();
  const broken: string[] = [];
  const reasons = explain({ experiment, verdict, asked, limit: all });
  for (const { subject, sentence } of reasons) {
    const { kind, index } = subject;
    const exact = kind === 'opening' ? openingClaims(whole, index) : alertClaims(whole, index);
    const wanted = exact.map(asWritten);
    const claimed = claimsIn(sentence);
    for (const claim of claimed) {
      const [word = ''] = claim.split(' ', 1);
      kinds.set(word, (kinds.get(word) ?? 0) + 1);
    }
    if (JSON.stringify(claimed) !== JSON.stringify(wanted)) {
      broken.push(
        `${name}, ${kind} ${String(index)}: ${sentence}\n  claims ${claimed.join(' | ')}\n  but    ${wanted.join(' | ')}`,
      );
    }
  }
  return { reasons: reasons.length, kinds, broken };
}

const durations = /\b(late by|after|before|delivered|decided|by|for|sent|lengths)=([\d,]+)/gu;

/** Lengths of openings are rounded down, what is too late upwards, as latencies are; all others to the nearest. */
const roundings: Readonly<Record<string, (value: number) => number>> = {
  lengths: Math.floor,
  'late by': Math.ceil,
};

/** A claim with its durations rounded as sentences write them. */
function asWritten(claim: string): string {
  return claim.replace(durations, (_, key: string, list: string) => {
    const round = roundings[key] ?? Math.round;
    const each = list.split(',').map((text) => (text === '' ? text : rounded(Number(text), round)));
    return `${key}=${each.join(',')}`;
  });
}

/** Whole seconds from a minute on, tenths from a second on. */
function rounded(ms: number, round: (value: number) => number): number {
  if (ms < 1_000) return ms;
  return ms < 60_000 ? round(ms / 100) * 100 : round(ms / 1_000) * 1_000;
}

function claimsIn(sentence: string): readonly string[] {
  try {
    return claimsOf(sentence);
  } catch (error) {
    return [String(error)];
  }
}

/** Checks the reasons of the experiments of a seed, from one index up to and without another. */
export function checkReasonsOf(seed: string, fromIndex: number, toIndex: number): ReasonFindings {
  const kinds = new Map<string, number>();
  const broken: string[] = [];
  let reasons = 0;
  for (let index = fromIndex; index < toIndex; index += 1) {
    const found = checkReasons(reasonCase(seed, index), `seed ${seed}, index ${String(index)}`);
    reasons += found.reasons;
    broken.push(...found.broken);
    for (const [kind, count] of found.kinds) kinds.set(kind, (kinds.get(kind) ?? 0) + count);
  }
  return { reasons, kinds, broken };
}
