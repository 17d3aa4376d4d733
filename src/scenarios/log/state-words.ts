// The words for an open and a shut door.
import { bad, type Decoded, good } from '../text/problem.js';
import { didYouMean } from '../text/suggest.js';

const openWords = ['open', 'opened', 'on', '1', 'true'];
const shutWords = ['closed', 'shut', 'close', 'off', '0', 'false'];

export interface StateWords {
  /** 1 for open, 0 for shut, −1 for neither. */
  read(text: string): number;
  explain(text: string): Decoded<number>;
}

/** The usual words, and words of the owner's own, which go before them. */
export function stateWords(own: {
  readonly open: readonly string[];
  readonly shut: readonly string[];
}): StateWords {
  const states = new Map<string, number>();
  for (const word of openWords) states.set(word, 1);
  for (const word of shutWords) states.set(word, 0);
  for (const word of own.open) states.set(plain(word), 1);
  for (const word of own.shut) states.set(plain(word), 0);
  const read = (text: string): number => states.get(text) ?? states.get(plain(text)) ?? -1;
  return {
    read,
    explain(text) {
      const state = read(text);
      if (state >= 0) return good(state);
      const words = [...states.keys()];
      const expected = `one of ${words.join(', ')}`;
      const hint = didYouMean(text, words);
      return bad('state-unknown', 'is no state of a door', { found: text, expected, hint });
    },
  };
}

function plain(word: string): string {
  return word.trim().toLowerCase();
}
