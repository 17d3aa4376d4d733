// The words for an open and a shut door.
import { shellWord } from '../../base/index.js';
import { mostNewReadings, mostNewWords } from '../../model/index.js';
import { bad, type Decoded, good, type Problem } from '../text/problem.js';
import { didYouMean } from '../text/suggest.js';
import { plainName } from './columns.js';
import { type OpenReadings, readingIn, stateAt } from './readings.js';

const openWords = ['open', 'opened', 'on', '1', 'true'];
/** The state of a row that begins a span of which nothing is known. */
export const unavailable = 2;

/** In any case; an empty field as well. */
const unavailableWords = ['unavailable', 'unknown', 'none', 'nan', ''];

const shutWords = ['closed', 'shut', 'close', 'off', '0', 'false'];

/** Words that only say yes or no: what they mean depends on the name of their column. */
const yesWords: ReadonlySet<string> = new Set(['on', '1', 'true']);
const noWords: ReadonlySet<string> = new Set(['off', '0', 'false']);

/** Columns in which yes means that the contact is closed, and so the door shut. */
const closedColumns: ReadonlySet<string> = new Set([
  'contact',
  'closed',
  'is_closed',
  'shut',
  'is_shut',
]);

/** Added to the state of a word that its column has turned round. */
const turned = 4;

/** Words of the owner's own. */
export interface OwnWords {
  readonly open: readonly string[];
  readonly shut: readonly string[];
  readonly unavailable: readonly string[];
  /** Numbers are readings of a sensor; absent: they are words like any other. */
  readonly readings?: OpenReadings | null;
}

export interface StateWords {
  readonly column: string;
  /** 1 for open, 0 for shut, `unavailable`, −1 for a word that is not known. */
  read(text: string): number;
  explain(text: string): Decoded<number>;
  /** Whether a word that is not known comes for the first time; of very many, only the first ones do. */
  isNew(text: string): boolean;
  /** The words that were not known, in the order in which they came. */
  readonly newWords: readonly string[];
  /** Whether a word that is not known came more than once. */
  isRepeated(text: string): boolean;
  /** The first numbers among the words that were not known, each as often as it came. */
  readonly newReadings: readonly number[];
  /** Numbers are readings of a sensor; null: they are words. */
  readonly readings: OpenReadings | null;
  /** The last word read for an open and for a shut door; null: none so far. */
  readonly lastOpen: string | null;
  readonly lastShut: string | null;
  /** Whether a word was read that means the opposite in other columns. */
  readonly tookTurned: boolean;
}

/** The usual words as their column means them, and words of the owner's own, which override them. */
export function stateWords(own: OwnWords, column: string): StateWords {
  const states = wordTable(own, meansClosed(column));
  let lastOpen: string | null = null;
  let lastShut: string | null = null;
  let tookTurned = false;
  const newWords = new Map<string, number>();
  const newReadings: number[] = [];
  const { readings = null } = own;
  let held = unavailable;
  const read = (text: string): number => {
    const value = readings === null ? Number.NaN : readingIn(text);
    if (readings !== null && !Number.isNaN(value)) {
      held = stateAt(value, readings) ?? held;
      return held;
    }
    const found = states.get(text) ?? states.get(plain(text)) ?? -1;
    if (found < 0) return found;
    if (found >= turned) tookTurned = true;
    const state = found % turned;
    if (state === 1) lastOpen = text;
    else if (state === 0) lastShut = text;
    return state;
  };
  return {
    column,
    read,
    explain(text) {
      const state = read(text);
      if (state >= 0) return good(state);
      return unknownState(
        text,
        [...states.keys()].filter((known) => known !== ''),
      );
    },
    isNew(text) {
      const word = text.trim();
      const value = readingIn(word);
      if (!Number.isNaN(value) && newReadings.length < mostNewReadings) newReadings.push(value);
      const before = newWords.get(word);
      if (before === undefined && newWords.size >= mostNewWords) return false;
      newWords.set(word, (before ?? 0) + 1);
      return before === undefined;
    },
    get newWords() {
      return [...newWords.keys()];
    },
    isRepeated: (text) => (newWords.get(text.trim()) ?? 0) > 1,
    newReadings,
    readings,
    get lastOpen() {
      return lastOpen;
    },
    get lastShut() {
      return lastShut;
    },
    get tookTurned() {
      return tookTurned;
    },
  };
}

/** The refusal of a text that is not a state, with the word that was probably meant. */
function unknownState(text: string, words: readonly string[]): Decoded<number> {
  const expected = `one of ${words.join(', ')}`;
  const word = shellWord(text);
  const own = `else say --open-word ${word}, or --shut-word ${word}`;
  const begins = plain(text);
  const isBegun = (known: string): boolean =>
    begins.length > 1 && known.startsWith(begins) && !unavailableWords.includes(known);
  const whole = words.find(isBegun);
  // A slip of the finger, or a word of another language: "offen" is near to "off", and means open.
  const near = didYouMean(text, words);
  const hint =
    whole !== undefined
      ? `did you mean ${whole}? If the file is cut off here, --lenient leaves this row out; ${own}`
      : near === undefined
        ? near
        : `${near} ${own}`;
  return bad('state-unknown', 'is not a door state', { found: text, expected, hint });
}

function wordTable(own: OwnWords, yesIsShut: boolean): ReadonlyMap<string, number> {
  const states = new Map<string, number>();
  for (const word of openWords) states.set(word, 1);
  for (const word of shutWords) states.set(word, 0);
  for (const word of unavailableWords) states.set(word, unavailable);
  const ownWords = [...own.open, ...own.shut].map(plain);
  // One such word of the owner's own settles what all of them mean: its opposite may not mean the same.
  if (yesIsShut && !ownWords.some((word) => yesWords.has(word) || noWords.has(word))) {
    for (const word of yesWords) states.set(word, turned);
    for (const word of noWords) states.set(word, turned + 1);
  }
  for (const word of own.unavailable) states.set(plain(word), unavailable);
  for (const word of own.open) states.set(plain(word), 1);
  for (const word of own.shut) states.set(plain(word), 0);
  return states;
}

/** A word that its owner gave two meanings; null: each has one. */
export function wordTwice(own: Pick<OwnWords, 'open' | 'shut' | 'unavailable'>): Problem | null {
  const options = { open: '--open-word', shut: '--shut-word', unavailable: '--unavailable-word' };
  const meanings = new Map<string, string>();
  for (const meaning of ['open', 'shut', 'unavailable'] as const) {
    for (const word of own[meaning]) {
      const other = meanings.get(plain(word));
      if (other !== undefined && other !== options[meaning]) {
        return {
          code: 'options-conflict',
          says: `${other} and ${options[meaning]} have the same word`,
          found: word,
          hint: 'give it to one of them',
        };
      }
      meanings.set(plain(word), options[meaning]);
    }
  }
  return null;
}

/** Whether a text is a word that only ever names a state of a door; numbers name other things as well. */
export function isWordForState(text: string): boolean {
  const word = plain(text);
  return !/^\d+$/u.test(word) && (openWords.includes(word) || shutWords.includes(word));
}

/** By the last part of a dotted name. */
function meansClosed(column: string): boolean {
  const last = column.split('.').at(-1) ?? '';
  return closedColumns.has(plainName(last));
}

function plain(word: string): string {
  const text = word.trim().toLowerCase();
  return text === '1.0' ? '1' : text === '0.0' ? '0' : text;
}
