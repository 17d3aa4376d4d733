// A watch file with settings laid over it, written out again.
import { stringify } from 'yaml';
import { readDocument } from '../text/document.js';
import { emptyDocument, overlaid, type WatchOverride } from './overrides.js';

/**
 * The text of a watch file with the overrides in it; comments are gone.
 * @param text a text that `parseWatchFile` reads with these overrides; null: there is none.
 * @param comment written above it, a line each.
 */
export function overlaidWatchText(
  text: string | null,
  file: string,
  on: { readonly overrides: readonly WatchOverride[]; readonly comment: readonly string[] },
): string {
  const document = text === null ? emptyDocument(file) : readDocument(text, file);
  const heading = on.comment.map((line) => `# ${line.replaceAll(/\s+/g, ' ')}\n`).join('');
  return heading + stringify(overlaid(document, on.overrides).root, { version: '1.2' });
}

/** What a watch file's text holds, before it is checked: maps, lists, words and numbers. */
export function plainWatchFile(text: string, file: string): unknown {
  return readDocument(text, file).root;
}
