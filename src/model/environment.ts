// What may go wrong around a watch at worst, for proofs, hunts and drills. A replay takes what happens from its timeline.

/** Its powers are budgets: they may be used at the worst moment, or not. */
export interface Environment {
  /** The most network outages. */
  readonly outages: number;
  /** From the end of one to the beginning of the next at least; with 0, one may begin as another ends. */
  readonly outagesApartMs: number;
  /** How long each may last at most; 0 for none. */
  readonly longestOutageMs: number;
  readonly powerLosses: number;
  /** How long the power may stay away each time; at least 1 ms where there are losses. */
  readonly longestPowerLossMs: number;
  readonly resets: number;
  /** One stretch of at most this length in which the contact may read shut though the door is open; 0 for none. */
  readonly longestChatterMs: number;
}

/** A network that is always up, power that never fails, a contact that reads true. */
export const calmEnvironment: Environment = {
  outages: 1,
  outagesApartMs: 0,
  longestOutageMs: 0,
  powerLosses: 0,
  longestPowerLossMs: 1,
  resets: 0,
  longestChatterMs: 0,
};
