// What holds where a field is empty: what a preset fills in, and the defaults of watch files.
import { presetNumbers, type Setting, settingAt } from '../model/index.js';
import { typedText } from '../scenarios/index.js';
import type { Settings } from './settings.js';

/** '': nothing is set. */
export function usualOf(key: string, set: Settings): string {
  const setting = settingAt(key);
  if (setting === undefined) return '';
  const preset = presetNumbers(set['supply.preset'] ?? '').find(
    (one) => `supply.${one.key}` === key,
  );
  return preset === undefined ? otherwise(setting, set) : typedText(preset.value, setting.row.kind);
}

function otherwise({ path, row, isInOptional }: Setting, set: Settings): string {
  // A word of an optional map is chosen only with the map.
  if (row.kind === 'word' && isInOptional) return '';
  const usual = row.default ?? row.otherwise ?? '';
  if (typeof usual !== 'object') return String(usual);
  const like = [...path.slice(0, -1), usual.like].join('.');
  return set[like] ?? usualOf(like, set);
}

/** The key of the setting that an empty field follows; null: none. */
export function followedBy(key: string): string | null {
  const setting = settingAt(key);
  const usual = setting?.row.default ?? setting?.row.otherwise;
  if (setting === undefined || typeof usual !== 'object') return null;
  return [...setting.path.slice(0, -1), usual.like].join('.');
}
