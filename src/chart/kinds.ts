// Everything that a picture can show, with its words in the legend. A picture's legend lists what appears in it.
import type { OpeningOutcome } from '../verdict/index.js';

/** In the order of the legend. */
export const kindWords = [
  ['brief', 'brief opening'],
  ['dense', 'many brief openings: the darker, the more'],
  ['reported', 'leave-open, reported'],
  ['late', 'leave-open, reported late'],
  ['undecided', 'leave-open, still undecided at the end'],
  ['unknown', 'unknown: the log has a gap'],
  ['missed', 'leave-open, missed'],
  ['readsOpen', 'contact reads open'],
  ['true', 'alert, true'],
  ['early', 'alert, early'],
  ['repeat', 'alert, repeat'],
  ['false', 'false alarm'],
  ['unsent', 'hollow: never delivered'],
  ['checkOpen', 'check that reads open'],
  ['checkShut', 'check that reads shut'],
  ['checkWrong', 'check that reads wrong'],
  ['contactWake', 'woken by the contact'],
  ['memory', 'checks in memory: open, shut'],
  ['pending', 'alert pending'],
  ['delivered', 'attempt, delivered'],
  ['failed', 'attempt, failed'],
  ['cutOff', 'attempt, cut off'],
  ['heartbeat', 'heartbeat'],
  ['lowBattery', 'low-battery message'],
  ['cooldown', 'cooldown'],
  ['held', 'awake until a reset'],
  ['network', 'network down'],
  ['power', 'no power, or no charge'],
  ['reset', 'reset'],
  ['void', 'outside the timeline, or an hour that the clocks skip'],
  ['worst', 'worst detection latency'],
] as const;

/** An opening that was missed for want of charge looks like any other missed one; its words say why. */
export function lookOf(outcome: OpeningOutcome): Exclude<OpeningOutcome, 'unpowered'> {
  return outcome === 'unpowered' ? 'missed' : outcome;
}

export type Kind = (typeof kindWords)[number][0];
