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

type Name = readonly (string | number)[];

function fullName(seed: string, name: Name): string {
  return [seed, ...name].join('\u001f');
}

/**
 * Opens the stream that belongs to `seed`, a purpose and an identity.
 * @param seed always a string: numbers and their decimal text would give different streams.
 */
export function randomStream(seed: string, ...name: Name): RandomStream {
  const next = alea(fullName(seed, name));
  return {
    unit: () => next(),
    whole: (least, greatest) => least + Math.floor(next() * (greatest - least + 1)),
  };
}

/** Many numbers of one stream after the other, for draws by the million. */
export interface RandomBlock {
  /** Goes over to the start of another stream. */
  open(seed: string, ...name: Name): void;
  /** The number that the stream of this name gives next. */
  unit(): number;
}

const blockLength = 1_024;

/**
 * A block of numbers that is filled again and again, with the same numbers as `randomStream` gives: the package seeds
 * the sequence, and its recurrence (Baagøe's Alea) is run here in local variables, at a fraction of the time.
 */
export function randomBlock(): RandomBlock {
  const block = new Float64Array(blockLength);
  const state = { c: 0, s0: 0, s1: 0, s2: 0 };
  let at = blockLength;
  const fill = (): void => {
    let { c, s0, s1, s2 } = state;
    for (let index = 0; index < blockLength; index += 1) {
      const t = 2_091_639 * s0 + c * 2.3283064365386963e-10;
      c = Math.trunc(t);
      s0 = s1;
      s1 = s2;
      s2 = t - c;
      block[index] = s2;
    }
    state.c = c;
    state.s0 = s0;
    state.s1 = s1;
    state.s2 = s2;
    at = 0;
  };
  return {
    open(seed, ...name) {
      Object.assign(state, alea(fullName(seed, name), { state: true }).state());
      at = blockLength;
    },
    unit() {
      if (at === blockLength) fill();
      const value = block[at] ?? 0;
      at += 1;
      return value;
    },
  };
}

/** The state that a stream begins with, for a generator elsewhere that is to draw the same: s0, s1, s2 and the carry. */
export function streamState(
  seed: string,
  ...name: Name
): readonly [s0: number, s1: number, s2: number, carry: number] {
  const { s0, s1, s2, c } = alea(fullName(seed, name), { state: true }).state();
  return [s0, s1, s2, c];
}
