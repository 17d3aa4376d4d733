// A watch file as what the fields say, and back.
import { allSettings, settingAt } from '../model/index.js';
import {
  overrideOf,
  parseWatchFile,
  plainWatchFile,
  typedText,
  type WatchOverride,
} from '../scenarios/index.js';

/** Without a field on the page: it goes along, so that an editor still checks the file that is taken out. */
export const schemaKey = '$schema';

/** What is written into fields, by the key of the setting. */
export type Settings = Readonly<Record<string, string>>;

/** What the fields say for a watch file; null: it has errors. */
export function settingsIn(text: string, file: string): Settings | null {
  if (!parseWatchFile(text, file).ok) return null;
  const root = plainWatchFile(text, file);
  const set: Record<string, string> = {};
  const schema = valueAt(root, [schemaKey]);
  if (typeof schema === 'string') set[schemaKey] = schema;
  for (const { key, path, row } of allSettings) {
    const value = valueAt(root, path);
    if (value !== undefined && value !== null) set[key] = typedText(value, row.kind);
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
  return Object.entries(set).flatMap(([key, text]) => {
    if (text.trim() === '') return [];
    if (key === schemaKey) return [{ path: [key], value: text, text, source: key }];
    const setting = settingAt(key);
    if (setting === undefined) return [];
    return [overrideOf(setting, text, key)];
  });
}
