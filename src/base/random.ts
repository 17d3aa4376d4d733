// Randomness is named, not shared: each consumer opens its own stream by purpose and identity, so that
// removing one opening from a timeline does not reshuffle another.
import alea from 'seedrandom/lib/alea.js';

/** A stream of random numbers; the same name and seed give the same numbers on any machine. */
export interface RandomStream {
  /** Uniform in [0, 1). */
  unit(): number;
  /** Uniform whole number in [least, greatest], both included. */
  whole(least: number, greatest: number): number;
}

/**
 * Opens the stream that belongs to `seed`, a purpose and an identity.
 * @param seed always a string: numbers and their decimal text would give different streams.
 */
export function randomStream(seed: string, ...name: readonly (string | number)[]): RandomStream {
  const next = alea([seed, ...name].join('\u001f'));
  return {
    unit: () => next(),
    whole: (least, greatest) => least + Math.floor(next() * (greatest - least + 1)),
  };
}
