// What is assumed of faults before any message is looked at. They are invented, and every answer shows them.

export interface Priors {
  /** Faults that last until somebody comes, per year. */
  readonly networkPerYear: number;
  readonly contactPerYear: number;
  readonly firmwarePerYear: number;
  /** The share of messages that never arrive though the device sent them. */
  readonly lostShare: number;
  /** The share of alerts after which nobody resets a device that waits for that. */
  readonly unansweredShare: number;
  /** The share of silences in which nobody uses the door at all: a holiday, a store that is shut. */
  readonly unusedShare: number;
  /** How far the life of a charge differs from the computed one: the standard deviation of its logarithm. */
  readonly lifeSpread: number;
}

export const usualPriors: Priors = {
  networkPerYear: 0.5,
  contactPerYear: 0.1,
  firmwarePerYear: 0.2,
  lostShare: 0.01,
  unansweredShare: 0.1,
  unusedShare: 0.005,
  lifeSpread: 0.2,
};
