// Draws for random files: a stream of its own for each purpose, so that a key more in one file moves nothing in another.
import { itemAt, type RandomStream, randomStream } from '../../../src/base/index.js';

export interface Draw {
  /** A whole number, both ends included. */
  whole(least: number, greatest: number): number;
  chance(share: number): boolean;
  pick<T>(list: readonly T[]): T;
  /** What `draw` gives in a share of all cases, else undefined, which writes no key. */
  maybe<T>(share: number, draw: () => T): T | undefined;
  shuffled<T>(list: readonly T[]): readonly T[];
}

export function drawFrom(seed: string, ...name: readonly (string | number)[]): Draw {
  return drawOf(randomStream(seed, 'laws', ...name));
}

function drawOf(stream: RandomStream): Draw {
  const pick = <T>(list: readonly T[]): T => itemAt(list, stream.whole(0, list.length - 1));
  return {
    whole: (least, greatest) => stream.whole(least, greatest),
    chance: (share) => stream.unit() < share,
    pick,
    maybe: (share, draw) => (stream.unit() < share ? draw() : undefined),
    shuffled(list) {
      const rest = [...list];
      for (let at = rest.length - 1; at > 0; at -= 1) {
        const other = stream.whole(0, at);
        const [here, there] = [itemAt(rest, at), itemAt(rest, other)];
        rest[at] = there;
        rest[other] = here;
      }
      return rest;
    },
  };
}
