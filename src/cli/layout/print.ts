// Words for a reader: in the width of a terminal, which itself would break them anywhere, and unchanged in a file.
import { columnsOf } from '../../wording/index.js';
import type { Io } from '../host/io.js';
import { asRun } from './command-line.js';
import { wrappedWords } from './wrapped-words.js';

/**
 * Writes words for a reader, whole lines of them: a terminal gets them in its width, a file as they are. Command lines in them
 * begin as this run was started.
 */
export function print(io: Io, text: string, to: 'stdout' | 'stderr' = 'stdout'): Promise<void> {
  const words = asRun(text, io.environment);
  const { isTerminal, columns } = io[to];
  return io[to].write(isTerminal ? wrapped(words, columns) : words);
}

/** Columns of a table, bars and what is to be copied: they stand as they are. */
const asItIs = /\S {2,}\S|\bdozewatch [a-z]+ -/u;
const next = /^(?<why>(?:Next: |[^\s#].*\. ).*:) (?<command>(?:npx )?dozewatch .*)$/u;
/** A label, a gap and words: the words are a column of their own. */
const labelled = /^(?<label> *\S+(?: \S+)* {2,})(?<words>\S+(?: \S+)*)$/u;
const isCommand = /\bdozewatch [a-z]/u;

/**
 * Lines of words that are too wide go on in further lines, as far in as they begin. What to run next then gets a line of its own,
 * which stays whole, and words after a label stay right of it.
 */
export function wrapped(text: string, width: number): string {
  return text
    .split('\n')
    .map((line) => {
      if (columnsOf(line) <= width) return line;
      const { why, command } = next.exec(line)?.groups ?? {};
      if (why !== undefined) return `${hanging(why, width)}\n  ${command ?? ''}`;
      const { label, words } = isCommand.test(line) ? {} : (labelled.exec(line)?.groups ?? {});
      if (label !== undefined && words !== undefined && columnsOf(label) <= width / 2) {
        return beside(label, words, width);
      }
      return asItIs.test(line) ? line : hanging(line, width);
    })
    .join('\n');
}

function beside(label: string, words: string, width: number): string {
  const lead = ' '.repeat(columnsOf(label));
  const lines = wrappedWords(words, width - lead.length);
  return label + lines.join(`\n${lead}`);
}

function hanging(line: string, width: number): string {
  const words = line.trimStart();
  const lead = line.slice(0, line.length - words.length);
  const lines = wrappedWords(words, Math.max(1, width - lead.length));
  return lines.map((one) => lead + one).join('\n');
}
