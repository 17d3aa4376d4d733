// Words broken into lines of a width. A number keeps its unit beside it: `6` at the end of a line and `s` on the next is hard to
// read. So does the name of the program its command: `dozewatch` alone at the end of a line is taken for the whole command. A setting in
// braces stays whole.
import { wrapAnsi } from 'fast-wrap-ansi';
import { commandNames } from '../command.js';

const beforeUnit = /(?<=\d) (?=(?:%|°C|[mµn]?(?:Ah?|s|V|m|C)|[kM]?Ω|min|h|d)(?![\w]))/gu;
const beforeCommand = new RegExp(`(?<=\\bdozewatch) (?=(?:${commandNames.join('|')})\\b)`, 'gu');
/** A setting such as `{ at: 4.5% }`, which is pasted. */
const inBraces = /\{ [^{}]{1,40} \}/gu;
const kept = '\u00a0';

/** A text in which no line may end between a number and its unit, or between the program and its command. */
export function withUnitsKept(text: string): string {
  return text.includes(kept)
    ? text
    : text
        .replaceAll(beforeUnit, kept)
        .replaceAll(beforeCommand, kept)
        .replaceAll(inBraces, (setting) => setting.replaceAll(' ', kept));
}

/** @returns lines. `hard`: a word that is longer than a line is broken. */
export function wrappedWords(
  text: string,
  width: number,
  options: { readonly hard?: boolean } = {},
): readonly string[] {
  const glued = withUnitsKept(text);
  const wrapped = wrapAnsi(glued, width, options);
  return (glued === text ? wrapped : wrapped.replaceAll(kept, ' ')).split('\n');
}
