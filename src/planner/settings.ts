// A watch file as what the fields say, and back.
import { parseWatchFile, plainWatchFile, type WatchOverride } from '../scenarios/index.js';
import { fieldNamed, fields } from './fields.js';
import { usagePrefix } from './usage.js';
import { schemaKey, valueOf, writtenOf } from './written.js';

export type Settings = Readonly<Record<string, string>>;

/** What the fields say for a watch file; null: it has errors. */
export function settingsIn(text: string, file: string): Settings | null {
  if (!parseWatchFile(text, file).ok) return null;
  const root = plainWatchFile(text, file);
  const set: Record<string, string> = {};
  const schema = valueAt(root, [schemaKey]);
  if (typeof schema === 'string') set[schemaKey] = schema;
  for (const { key, form } of fields) {
    const value = valueAt(root, key.split('.'));
    if (value !== undefined && value !== null) set[key] = writtenOf(value, form);
  }
  return set;
}

function valueAt(root: unknown, path: readonly string[]): unknown {
  let here: unknown = root;
  for (const step of path) {
    if (typeof here !== 'object' || here === null || Array.isArray(here)) return undefined;
    here = Object.entries(here).find(([key]) => key === step)?.[1];
  }
  return here;
}

/** What the fields say, in place of what a watch file says; an empty field says nothing. */
export function overridesOf(set: Settings): readonly WatchOverride[] {
  return Object.entries(set)
    .filter(([key, written]) => written.trim() !== '' && !key.startsWith(usagePrefix))
    .map(([key, written]) => ({
      path: key.split('.'),
      value: key === schemaKey ? written : valueOf(written, fieldNamed(key)?.form ?? 'plain'),
      text: written,
      source: key,
    }));
}
