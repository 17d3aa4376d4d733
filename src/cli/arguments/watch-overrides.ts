// The settings that were typed to override a watch file.
import { allSettings, type Setting } from '../../model/index.js';
import { overrideOf, type WatchOverride } from '../../scenarios/index.js';
import { typedFor, type WatchOptions } from './setting-options.js';

export function overridesOf(options: WatchOptions): readonly WatchOverride[] {
  return allSettings.flatMap((setting) => {
    const text = typedFor(setting, options);
    return text === undefined ? [] : [typedOverride(setting, text)];
  });
}

export function typedOverride(setting: Setting, text: string): WatchOverride {
  return overrideOf(setting, text, optionOf(setting));
}

/** `--interval`; the key of a setting that has no option. */
export function optionOf({ row, key }: Setting): string {
  return row.option?.flags.replace(/ .*/u, '') ?? key;
}
