// Columns that a header does not name so that they are known: the first row shows which could be which, and the error gives
// the options.
import { shellWord } from '../../base/index.js';
import type { Problem } from '../text/problem.js';
import { likelyPattern } from '../time/likely-pattern.js';
import { isTimeOfDay } from '../time/recognise.js';
import type { LogParts } from './line-taker.js';
import { isSerial } from './log-time.js';
import { readingIn } from './readings.js';
import { splitRecord } from './record.js';
import { stateWords } from './state-words.js';

/** The problem of a header, with the options that name its columns, where the first row shows them. */
export function withGuess(
  problem: Problem,
  of: {
    readonly names: readonly string[];
    readonly row: string;
    readonly place: { readonly delimiter: string };
    readonly parts: LogParts;
  },
): Problem {
  const fields = splitRecord(of.row, of.place.delimiter);
  if (!fields.ok) return problem;
  const values = fields.value.map(({ text }) => text);
  return guessed(problem, of.names, { values, parts: of.parts });
}

/** Suggestions for as many doors. */
const mostDoors = 6;

/** Whether a text may be how long an opening lasted. */
function isLength(text: string): boolean {
  return /^(?:\d+(?:[.,]\d+)?|(?:\d+ days? )?\d+:\d\d(?::\d\d(?:[.,]\d+)?)?|PT?\d.*)$/iu.test(text);
}

/** Names of columns that speak of a door, or of a sensor that sees how far it is open. */
const ofDoor = /hall|reed|mag|dist|gap|angle|door|contact|field/iu;

const ofSensors = /hall|reed|mag|dist|angle|field/iu;

/** Names of columns of warmth, charge and radio, which say nothing about a door. */
const ofOthers =
  /temp|hum|batt|vbat|vcc|vdd|supply|charge|current|rssi|snr|signal|press|lux|light|id$/iu;

/** Names of columns that hold a quantity and never how long an opening lasted. */
const ofQuantities = /volt|amp|(?:^|_)(?:m?v|m?a|mt|deg|celsius|percent|pct)$/iu;

/** Columns of a door before those that may be anything; those of other things only where there is nothing else. */
function likeliestFirst(names: readonly string[]): readonly string[] {
  const rank = (name: string): number => (ofDoor.test(name) ? 0 : ofOthers.test(name) ? 2 : 1);
  const fit = names.filter((name) => rank(name) < 2);
  return (fit.length > 0 ? fit : names).toSorted((a, b) => rank(a) - rank(b));
}

/** Whether the name of a column of numbers lets it be how long an opening lasted. */
function mayBeLength(name: string): boolean {
  return ![ofSensors, ofOthers, ofQuantities].some((pattern) => pattern.test(name));
}

/** What a value of a row may be. */
function kindsOf({ times, options }: LogParts): {
  readonly isTime: (text: string) => boolean;
  readonly isState: (text: string) => boolean;
  /** The option for a time that is not recognised without it; empty: none is needed. */
  readonly formOf: (text: string) => string;
} {
  const own = {
    open: options.openWords ?? [],
    shut: options.shutWords ?? [],
    unavailable: options.unavailableWords ?? [],
  };
  const states = stateWords(own, '');
  const isKnownTime = (text: string): boolean =>
    isSerial(text) ||
    (text.length > 5 && (!Number.isNaN(times.read(text)) || times.doubtOf(text) !== null));
  const patternOf = (text: string): string | null => {
    if (options.timeFormat !== undefined) return null;
    if (isSerial(text)) return 'serial';
    return isKnownTime(text) ? null : likelyPattern(text);
  };
  const isTime = (text: string): boolean => isKnownTime(text) || patternOf(text) !== null;
  return {
    isTime,
    isState: (text) => text !== '' && !isTime(text) && states.read(text) >= 0,
    formOf(text) {
      const pattern = patternOf(text.trim());
      return pattern === null ? '' : ` --time-format ${shellWord(pattern)}`;
    },
  };
}

/** The same for values that are split already. */
export function guessed(
  problem: Problem,
  names: readonly string[],
  { values, parts }: { readonly values: readonly string[]; readonly parts: LogParts },
): Problem {
  const { isTime, isState, formOf } = kindsOf(parts);
  const named = (test: (text: string) => boolean): readonly string[] =>
    names.filter((_, index) => test((values[index] ?? '').trim())).map(shellWord);
  const [time, other] = named(isTime);
  const [clock] = named(isTimeOfDay);
  const isWord = (text: string): boolean => /^\p{L}[\p{L} _-]*$/u.test(text);
  const numbers: readonly string[] = named((text) => /^\d+$/u.test(text));
  // A number of a row may look like a state.
  const isNumbered = (name: string): boolean =>
    numbers.includes(name) && /^(?:id|nr|no|num|number|count|seq|index|row|#)$/iu.test(name);
  const stateColumns = named(isState).filter(
    (name) => !isNumbered(name) || named(isWord).length === 0,
  );
  const [state] = stateColumns;
  const rest = names.filter((name) => shellWord(name) !== time);
  const [only] = rest.length === 1 && clock === undefined ? rest.map(shellWord) : [];
  const word = state ?? named(isWord)[0] ?? only;
  const form = formOf(values[names.findIndex((name) => shellWord(name) === time)] ?? '');
  if (time !== undefined && other !== undefined && state === undefined) {
    return {
      ...problem,
      hint: 'name the columns',
      tries: [`--start-column ${time} --end-column ${other}${form}`],
    };
  }
  const [length] = named((text) => isLength(text)).filter(
    (name) => name !== time && !isNumbered(name) && mayBeLength(name),
  );
  if (time === undefined) return problem;
  const date = clock === undefined ? '' : `--date-column ${time} `;
  const isReading = (text: string): boolean => text !== '' && !Number.isNaN(readingIn(text));
  const readings = named(isReading).filter((name) => name !== time);
  // One column for each of several doors; or, without a word for a state, one of readings.
  const which =
    stateColumns.length > 0
      ? stateColumns.slice(0, mostDoors)
      : word === undefined && clock === undefined
        ? likeliestFirst(readings).slice(0, mostDoors)
        : [word];
  const tries = [
    ...which.flatMap((one) =>
      one === undefined
        ? []
        : [`${date}--time-column ${clock ?? time} --state-column ${one}${form}`],
    ),
    ...(length === undefined || state !== undefined || (clock !== undefined && word !== undefined)
      ? []
      : [`--start-column ${time} --duration-column ${length}${form}`]),
  ];
  return tries.length === 0 ? problem : { ...problem, hint: 'name the columns', tries };
}
