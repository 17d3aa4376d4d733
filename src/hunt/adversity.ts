// How much may go wrong in one trial.

/** Budgets: at most so many, and each at most so long. All zero: only the door moves. */
export interface Adversity {
  readonly outages: number;
  readonly longestOutageMs: number;
  /** From the end of one to the beginning of the next at least. */
  readonly outagesApartMs: number;
  readonly powerCuts: number;
  readonly longestPowerCutMs: number;
  readonly resets: number;
  /** Stretches in which the contact reads shut though the door is open, or at random. */
  readonly misreads: number;
  readonly longestMisreadMs: number;
}

export type AdversityKind = 'outages' | 'power' | 'resets' | 'chatter';

export const adversityKinds: readonly AdversityKind[] = ['outages', 'power', 'resets', 'chatter'];

/** Nothing goes wrong. */
export const calm: Adversity = {
  outages: 0,
  longestOutageMs: 0,
  outagesApartMs: 0,
  powerCuts: 0,
  longestPowerCutMs: 0,
  resets: 0,
  misreads: 0,
  longestMisreadMs: 0,
};

const usual: Readonly<Record<AdversityKind, Partial<Adversity>>> = {
  outages: { outages: 2, longestOutageMs: 3_600_000 },
  power: { powerCuts: 2, longestPowerCutMs: 3_600_000 },
  resets: { resets: 3 },
  chatter: { misreads: 2, longestMisreadMs: 30_000 },
};

function isGiven(kind: AdversityKind, given: Adversity): boolean {
  switch (kind) {
    case 'outages':
      return given.outages > 0;
    case 'power':
      return given.powerCuts > 0;
    case 'resets':
      return given.resets > 0;
    case 'chatter':
      return given.misreads > 0;
  }
}

/** What is given, and the usual amount of each kind that is asked for and not given. */
export function withUsual(given: Adversity, kinds: readonly AdversityKind[]): Adversity {
  return kinds
    .filter((kind) => !isGiven(kind, given))
    .reduce((whole, kind) => ({ ...whole, ...usual[kind] }), given);
}
