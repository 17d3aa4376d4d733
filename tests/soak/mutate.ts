// Small changes of a sound text: of its structure (lines, words, numbers, units, pieces of another text), and noise in
// its bytes. The result is mostly still close to something that can be read.
import type { Draw } from '../laws/support/draw.js';

const pieces = [
  '',
  ' ',
  '\n',
  '\t',
  '\r\n',
  ':',
  ',',
  ';',
  '"',
  "'",
  '-',
  '- ',
  '{',
  '}',
  '[',
  ']',
  '#',
  '|',
  '>',
  '&a',
  '*a',
  '<<: *a',
  '0',
  '1',
  '-1',
  '1e9',
  '1e400',
  'NaN',
  'null',
  '~',
  'true',
  'off',
  '.5',
  '00',
  '9007199254740993',
  '1_000',
  '3m',
  '3',
  '0s',
  '1h1h',
  'PT',
  'P1Y',
  '-3m',
  '3 M',
  '1.0001ms',
  '100y',
  '3s..9s',
  '+11h',
  '24:00',
  'day 0 07:30',
  'end',
  '%',
  '101%',
  '−2%',
  'ppm',
  '2026-02-30T00:00:00Z',
  '2026-10-25T02:30',
  '[Europe/Lisbon]',
  'é',
  '\u202e',
  '\u0000',
  '\ufeff',
  '😀',
  '!!binary aGk=',
  '!!js/function x',
  '__proto__: 1',
  'constructor',
  '../x',
  '/dev/null',
  '-c',
  '--',
  '--json',
  '%s',
  '\\',
  '$(true)',
];

/** One to a few changes of a text, each of some kind. */
export function mutated(text: string, others: readonly string[], draw: Draw): string {
  let changed = text;
  for (let left = draw.pick([1, 1, 1, 2, 3, 6]); left > 0; left -= 1) {
    changed = draw.pick(changes)(changed, draw, others);
  }
  return changed;
}

type Change = (text: string, draw: Draw, others: readonly string[]) => string;

const changes: readonly Change[] = [
  onLines((lines, at) => lines.toSpliced(at, 1)),
  onLines((lines, at) => lines.toSpliced(at, 0, lines[at] ?? '')),
  onLines((lines, at, draw) => lines.toSpliced(draw.whole(0, lines.length), 0, lines[at] ?? '')),
  onLines((lines, at, draw) => lines.with(at, `${' '.repeat(draw.whole(1, 5))}${lines[at] ?? ''}`)),
  onLines((lines, at) => lines.with(at, (lines[at] ?? '').trimStart())),
  onTokens((_, draw) => draw.pick(pieces)),
  onTokens((token, draw) => token + draw.pick(pieces)),
  onTokens((token, draw) => number(token, draw)),
  onTokens((token, draw) => number(token, draw)),
  onTokens((token) => token.slice(1)),
  onTokens((token, draw) => token.repeat(draw.pick([2, 3, 50]))),
  (text, draw, others) => {
    const other = draw.pick([...others, text]);
    const [from, to] = slice(other, draw);
    const at = draw.whole(0, text.length);
    return text.slice(0, at) + other.slice(from, to) + text.slice(draw.pick([at, at, text.length]));
  },
  (text, draw) => {
    const [from, to] = slice(text, draw);
    return text.slice(0, from) + text.slice(to);
  },
  (text, draw) => {
    const at = draw.whole(0, text.length);
    return text.slice(0, at) + draw.pick(pieces) + text.slice(at);
  },
  (text, draw) => {
    const at = draw.whole(0, Math.max(0, text.length - 1));
    return text.slice(0, at) + String.fromCodePoint(draw.whole(1, 0x2ff)) + text.slice(at + 1);
  },
  (text, draw) => text.slice(0, draw.whole(0, text.length)),
];

function onLines(change: (lines: string[], at: number, draw: Draw) => readonly string[]): Change {
  return (text, draw) => {
    const lines = text.split('\n');
    return change(lines, draw.whole(0, lines.length - 1), draw).join('\n');
  };
}

function onTokens(change: (token: string, draw: Draw) => string): Change {
  return (text, draw) => {
    const tokens = Array.from(text.matchAll(/[\w.+%-]+/gu));
    if (tokens.length === 0) return text;
    const { 0: token, index } = draw.pick(tokens);
    return text.slice(0, index) + change(token, draw) + text.slice(index + token.length);
  };
}

/** The digits of a word become others: none, more, less, far more. */
function number(token: string, draw: Draw): string {
  return token.replace(/\d+(?:\.\d+)?/u, (digits) =>
    draw.pick([
      '0',
      `-${digits}`,
      `${digits}.5`,
      String(Number(digits) + 1),
      String(Number(digits) - 1),
      `${digits}0`,
      `${digits}${digits}${digits}`,
      '1',
    ]),
  );
}

function slice(text: string, draw: Draw): readonly [number, number] {
  const from = draw.whole(0, text.length);
  return [from, Math.min(text.length, from + draw.pick([1, 2, 8, 40, 400]))];
}

/** Bytes with noise in some of them: no longer text, perhaps. */
export function noisy(bytes: Uint8Array, draw: Draw): Uint8Array {
  const changed = Uint8Array.from(bytes);
  for (let left = draw.whole(1, 8); left > 0 && changed.length > 0; left -= 1) {
    changed[draw.whole(0, changed.length - 1)] = draw.whole(0, 255);
  }
  return draw.chance(0.2) ? changed.subarray(0, draw.whole(0, changed.length)) : changed;
}
