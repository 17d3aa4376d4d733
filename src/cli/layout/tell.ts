// Words for a reader: in the width of a terminal, which itself would break them anywhere, and unchanged in a file.
import { wrapAnsi } from 'fast-wrap-ansi';
import { columnsOf } from '../../wording/index.js';
import type { Out } from '../host/io.js';

/** Writes words for a reader, whole lines of them: a terminal gets them in its width, a file as they are. */
export function tell(out: Out, text: string): Promise<void> {
  return out.write(out.isTerminal ? wrapped(text, out.columns) : text);
}

/** Columns of a table, bars and what is to be copied: they stand as they are. */
const asItIs = /\S {2,}\S|\bdozewatch [a-z]+ -|^Next: .*: (?:npx )?dozewatch /u;

/** Lines of words that are too wide go on in further lines, as far in as they begin. */
export function wrapped(text: string, width: number): string {
  return text
    .split('\n')
    .map((line) => (columnsOf(line) <= width || asItIs.test(line) ? line : hanging(line, width)))
    .join('\n');
}

function hanging(line: string, width: number): string {
  const words = line.trimStart();
  const lead = line.slice(0, line.length - words.length);
  const lines = wrapAnsi(words, Math.max(1, width - lead.length)).split('\n');
  return lines.map((one) => lead + one).join('\n');
}
