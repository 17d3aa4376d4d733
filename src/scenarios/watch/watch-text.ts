// A watch file with settings laid over it, written out again: the one writer of watch files. What it does not change stays as
// it was written: comments, order, `$schema`.
import { Document, isCollection, isMap, isNode, isScalar, parseDocument, stringify } from 'yaml';
import { allSettings, settingAt } from '../../model/index.js';
import { readDocument } from '../text/document.js';
import { emptyDocument, overlaid, switchedOff, type WatchOverride } from './overrides.js';

/**
 * The text of a watch file with the overrides in it.
 * @param text a text that `parseWatchFile` reads with these overrides; null for the defaults.
 * @param comment written above it, a line each.
 */
export function overlaidWatchText(
  text: string | null,
  file: string,
  on: { readonly overrides: readonly WatchOverride[]; readonly comment: readonly string[] },
): string {
  const heading = on.comment.map((line) => `# ${line.replaceAll(/\s+/g, ' ')}\n`).join('');
  const overrides = on.overrides.map(asWritten);
  return heading + (isCommented(file) ? edited(text, overrides) : rewritten(text, file, overrides));
}

/**
 * The text of a watch file in which the overrides stand in place of all its settings.
 * @param text whose comments and order stay; null for the defaults.
 */
export function watchTextSaying(text: string | null, overrides: readonly WatchOverride[]): string {
  return edited(text, overrides.map(asWritten), 'only these');
}

/** What a watch file's text holds, before it is checked: maps, lists, words and numbers. */
export function plainWatchFile(text: string, file: string): unknown {
  return readDocument(text, file).root;
}

/** JSON has no comments to keep, and its text would become one long line. */
function isCommented(file: string): boolean {
  return !file.toLowerCase().endsWith('.json');
}

function rewritten(text: string | null, file: string, overrides: readonly WatchOverride[]): string {
  const document = text === null ? emptyDocument(file) : readDocument(text, file);
  return stringify(overlaid(document, overrides).root, { version: '1.2' });
}

function edited(
  text: string | null,
  overrides: readonly WatchOverride[],
  others?: 'only these',
): string {
  const document: Document =
    text === null
      ? new Document({}, { version: '1.2' })
      : parseDocument(text.replace(/^\ufeff/u, ''), { version: '1.2', schema: 'core' });
  if (others === 'only these') {
    const said = new Set(overrides.map(({ path }) => path.join('.')));
    for (const { path, key } of allSettings) if (!said.has(key)) takeOut(document, path);
  }
  for (const path of switchedOff(overrides)) takeOut(document, path);
  for (const { path, value } of overrides) put(document, path, value);
  return document.toString({ lineWidth: 0 });
}

/** Takes a key out, and the maps around it that hold nothing then. */
function takeOut(document: Document, path: readonly string[]): void {
  if (path.length === 0 || !document.hasIn(path)) return;
  document.deleteIn(path);
  const around = path.slice(0, -1);
  const map = document.getIn(around, true);
  if (isMap(map) && map.items.length === 0) takeOut(document, around);
}

/** Writes a value; the comments beside the one before stay. */
function put(document: Document, path: readonly string[], value: unknown): void {
  for (let depth = 1; depth < path.length; depth += 1) {
    const around = path.slice(0, depth);
    // A section without a line in it is null.
    if (!isCollection(document.getIn(around, true))) exchange(document, around, {});
  }
  exchange(document, path, value);
}

function exchange(document: Document, path: readonly string[], value: unknown): void {
  const old = document.getIn(path, true);
  if (isScalar(old) && typeof old.value === typeof value && typeof value !== 'object') {
    old.value = value;
    return;
  }
  const isInline = isCollection(value) || path.length > 1;
  const node = document.createNode(value, { flow: isInline });
  if (isNode(old)) {
    const { comment, commentBefore, spaceBefore } = old;
    Object.assign(node, { comment, commentBefore, spaceBefore });
  }
  document.setIn(path, node);
}

/** A range is typed as `2s..8s`, and written as a map. */
function asWritten(override: WatchOverride): WatchOverride {
  const { path, value } = override;
  const kind = settingAt(path.join('.'))?.row.kind;
  if ((kind !== 'timeRange' && kind !== 'clockError') || typeof value !== 'string') return override;
  const [min, max] = value.split('..').map((end) => end.trim());
  return min === undefined || max === undefined ? override : { ...override, value: { min, max } };
}
