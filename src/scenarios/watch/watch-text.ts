// A watch file with settings laid over it, written out again.
import { Document, stringify, visit } from 'yaml';
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

/** A value on one line, as a file could write it: `{ firstDay: 5%, perMonth: 2% }`. */
export function flowText(value: unknown): string {
  const document = new Document(value, { version: '1.2' });
  visit(document, {
    Collection: (_, collection) => {
      collection.flow = true;
    },
  });
  return document.toString({ lineWidth: 0 }).trimEnd();
}

/** The value of such a line; the text itself where it cannot be read. */
export function flowValue(text: string): unknown {
  const { root, errors } = readDocument(text, '');
  return errors.length > 0 || root === undefined ? text : root;
}
