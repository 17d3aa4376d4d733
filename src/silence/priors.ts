// What is assumed of faults before any message is looked at. They are invented, and every answer shows them.

export interface Priors {
  /** Faults that last until somebody comes, per year. */
  readonly networkPerYear: number;
  readonly contactPerYear: number;
  readonly firmwarePerYear: number;
  /** The share of messages that never arrive though the device sent them. */
  readonly lostShare: number;
  /** How often a spell begins in which the network is down each day at the same hour, and how long it lasts on average. */
  readonly outagesPerYear: number;
  readonly spellMs: number;
  /** The share of alerts after which nobody resets a device that waits for that. */
  readonly unansweredShare: number;
  /** The share of silences that begin with a break in which nobody uses the door: a holiday, a store that is shut. */
  readonly unusedShare: number;
  /** Mean of the break's length, whose distribution is exponential; null: taken from the profile's gaps. */
  readonly breakMs: number | null;
  /** How far the life of a charge differs from the computed one: the standard deviation of its logarithm. */
  readonly lifeSpread: number;
}

/** Invented: a week away, for a door that is used every day. */
const usualBreakMs = 7 * 86_400_000;

/** The mean length of a break: what is given, else a week, or the longest gap of the profile's own years where that is longer. */
export function meanBreakMs({ breakMs }: Priors, longestGapMs: number): number {
  return breakMs ?? Math.max(usualBreakMs, longestGapMs);
}

export const usualPriors: Priors = {
  networkPerYear: 0.5,
  contactPerYear: 0.1,
  firmwarePerYear: 0.2,
  lostShare: 0.01,
  outagesPerYear: 6,
  spellMs: 7 * 86_400_000,
  unansweredShare: 0.1,
  unusedShare: 0.005,
  breakMs: null,
  lifeSpread: 0.2,
};
