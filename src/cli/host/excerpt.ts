// The line of a file that a diagnostic names, read again: nothing needs to be kept while a log streams by.
import type { Diagnostic } from '../../base/index.js';
import type { Io } from './io.js';
import { textChunksOf } from './read-text.js';

/** A line longer than this is shown from its start only. */
const mostCharacters = 100_000;

/** The named line, or undefined when there is none to be had (an option, standard input, a file that is gone). */
export async function namedLine({ source }: Diagnostic, io: Io): Promise<string | undefined> {
  const { file, line } = source;
  if (line === undefined || file === '-' || file.startsWith('--')) return undefined;
  try {
    return await lineOf(file, line, io);
  } catch {
    // An excerpt is a courtesy: the diagnostic stands without it.
    return undefined;
  }
}

async function lineOf(file: string, wanted: number, io: Io): Promise<string | undefined> {
  let line = 1;
  let kept = '';
  for await (const chunk of textChunksOf(file, io)) {
    let from = 0;
    for (;;) {
      const end = chunk.indexOf('\n', from);
      if (line === wanted && kept.length < mostCharacters) {
        kept += chunk.slice(from, end < 0 ? undefined : end);
      }
      if (end < 0) break;
      if (line === wanted) return kept.replace(/\r$/u, '');
      line += 1;
      from = end + 1;
    }
  }
  return line === wanted ? kept : undefined;
}
