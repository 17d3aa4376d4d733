// The list of phrases that are never right: each of them is found, and good sentences pass.
import { describe, expect, it } from 'vitest';
import { phrases, wordsToReplace } from '../../scripts/words.mjs';

const bad = [
  '<<<<<<< HEAD',
  'hold a log of the real device against its watch',
  'Each scenario is held to its own expectations.',
  'What is asked does not hold.',
  'The network is down at most so many times.',
  'told within 10 min',
  'It draws the numbers anew.',
  'Options lie over what each watch file says.',
  'a scenario that lived through a power cut',
  '0.5 false alarms a year',
  'grey band: told or not, as the moment has it',
];

const good = [
  'dozewatch compares a log of the real device with its watch file and door log.',
  'It reports every opening of at least 4 min 1 s.',
  'The requirements are not met, even at rest.',
  '0.5 false alarms per year; a year has 365 days',
  'Hold the magnet in place. It was so long that the cable bent.',
];

describe('the check of words', () => {
  it('has no phrase twice, and something to write instead of each', () => {
    expect(new Set(phrases.map(([phrase]) => phrase.source)).size).toBe(phrases.length);
    expect(phrases.every(([, instead]) => instead !== '')).toBe(true);
  });

  it.each(bad)('refuses: %s', (sentence) => {
    expect(wordsToReplace(`A line.\n${sentence}`)).toMatchObject([{ line: 2 }, ...rest(sentence)]);
  });

  it.each(good)('accepts: %s', (sentence) => {
    expect(wordsToReplace(sentence)).toEqual([]);
  });
});

/** Further findings in the same line, each in line 2. */
function rest(sentence: string): { line: number }[] {
  return wordsToReplace(sentence)
    .slice(1)
    .map(() => ({ line: 2 }));
}
