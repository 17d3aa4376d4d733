// Randomness is named, not shared: each consumer opens its own stream by purpose and identity, so that
// removing one opening from a timeline does not reshuffle another. A name is hashed before it starts a generator:
// streams numbered 0, 1, 2 … must be as independent as any others.
import { sha256 } from '@noble/hashes/sha2';
import alea from 'seedrandom/lib/alea.js';

/** A stream of random numbers; the same name and seed give the same numbers on any machine. */
export interface RandomStream {
  /** Uniform in [0, 1), a multiple of 2⁻³². */
  unit(): number;
  /** Uniform whole number in [least, greatest], both included. */
  whole(least: number, greatest: number): number;
}

type Name = readonly (string | number)[];

interface State {
  readonly s0: number;
  readonly s1: number;
  readonly s2: number;
  readonly c: number;
}

/** The widest range that one number of 32 bits fills evenly, to one part in 256; a wider one takes two numbers. */
const widestOfOne = 2 ** 24;

/** SHA-256 (FIPS 180-4) of the name as JSON, which no other name has; a generator of Alea starts from 96 bits of it. */
function stateOf(seed: string, name: Name): State {
  const hash = sha256(JSON.stringify([seed, ...name]));
  const words = new DataView(hash.buffer, hash.byteOffset, hash.byteLength);
  const share = (index: number): number => words.getUint32(4 * index) / 2 ** 32;
  return { s0: share(0), s1: share(1), s2: share(2), c: 1 };
}

/**
 * Opens the stream that belongs to `seed`, a purpose and an identity.
 * @param seed always a string: numbers and their decimal text would give different streams.
 */
export function randomStream(seed: string, ...name: Name): RandomStream {
  const next = alea('', { state: stateOf(seed, name) });
  return {
    unit: () => next(),
    whole: (least, greatest) => {
      const width = greatest - least + 1;
      return least + Math.floor((width <= widestOfOne ? next() : next.double()) * width);
    },
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
 * A block of numbers that is filled again and again, with the same numbers as `randomStream` gives: the recurrence of
 * the package (Baagøe's Alea) is run here in local variables, at a fraction of the time.
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
      Object.assign(state, stateOf(seed, name));
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
  const { s0, s1, s2, c } = stateOf(seed, name);
  return [s0, s1, s2, c];
}
