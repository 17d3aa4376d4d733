// How much may go wrong in one trial.
import { weekMs } from '../base/index.js';
import { calmEnvironment, type Environment, type PossibleResets } from '../model/index.js';

/** The budgets of an environment for timelines that are drawn: with 0 outages there are none. All zero: only the door moves. */
export interface Adversity extends Environment {
  /** Stretches in which the contact reads shut though the door is open, or at random. */
  readonly misreads: number;
  /** What its resets may do to retained memory; all those of one timeline do the same. */
  readonly possibleResets: PossibleResets;
}

export type AdversityKind = 'outages' | 'power' | 'resets' | 'chatter';

export const adversityKinds: readonly AdversityKind[] = ['outages', 'power', 'resets', 'chatter'];

/** Nothing goes wrong. */
export const calm: Adversity = {
  ...calmEnvironment,
  outages: 0,
  longestPowerLossMs: 0,
  misreads: 0,
  possibleResets: { keeping: 'button', clearing: null },
};

const usual: Readonly<Record<AdversityKind, Partial<Adversity>>> = {
  outages: { outages: 2, longestOutageMs: 3_600_000 },
  power: { powerLosses: 2, longestPowerLossMs: 3_600_000 },
  resets: { resets: 3 },
  chatter: { misreads: 2, longestChatterMs: 30_000 },
};

function isGiven(kind: AdversityKind, given: Adversity): boolean {
  switch (kind) {
    case 'outages':
      return given.outages > 0;
    case 'power':
      return given.powerLosses > 0;
    case 'resets':
      return given.resets > 0;
    case 'chatter':
      return given.misreads > 0;
  }
}

/** In timelines that are longer: what goes wrong only the third time, or some hours after another fault, needs more of them. */
const longMs = weekMs;
const usualInLong: Readonly<Partial<Record<AdversityKind, Partial<Adversity>>>> = {
  outages: { outages: 6 },
  resets: { resets: 6 },
};

/** What is given, and the usual amount of each kind that is asked for and not given. @param lengthMs of the longest timelines. */
export function withUsual(
  given: Adversity,
  kinds: readonly AdversityKind[],
  lengthMs: number = weekMs,
): Adversity {
  const more = lengthMs > longMs ? usualInLong : {};
  return kinds
    .filter((kind) => !isGiven(kind, given))
    .reduce((whole, kind) => ({ ...whole, ...usual[kind], ...more[kind] }), given);
}
