// What holds where a field is empty: what a preset fills in, and the defaults of watch files.
import { followedKey, presetNumbers, type Setting, settingAt } from '../model/index.js';
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

function otherwise(setting: Setting, set: Settings): string {
  const { row, isInOptional } = setting;
  // A word of an optional map is chosen only with the map.
  if (row.kind === 'word' && isInOptional) return '';
  const like = followedKey(setting);
  if (like !== null) return set[like] ?? usualOf(like, set);
  const usual = row.default ?? row.otherwise ?? '';
  return typeof usual === 'object' ? '' : String(usual);
}

/** The key of the setting that an empty field follows; null: none. */
export function followedBy(key: string): string | null {
  const setting = settingAt(key);
  return setting === undefined ? null : followedKey(setting);
}
