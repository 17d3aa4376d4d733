// The settings of a watch file on which bounds depend, a line for each row of the table: as a list, and compared between files.
import { durationText, ppmText } from '../base/index.js';
import { allSettings, type Setting, type ValueOfKind } from '../model/index.js';
import {
  boundValues,
  defaultWatchFile,
  type SettingValue,
  type Unbranded,
  type WatchFile,
} from '../scenarios/index.js';
import { clockErrorText, rangeText } from './bounds-settings.js';

/** A line of a list of settings. */
export interface SettingText {
  /** Its key within its section of the watch file, such as `retry.interval`. */
  readonly key: string;
  readonly text: string;
}

/** A setting that watch files do not have alike, with its text in each. */
export interface DifferingSetting {
  readonly key: string;
  readonly texts: readonly string[];
}

type ShownKind = ReturnType<typeof boundValues>[number]['kind'];

const writers: { readonly [K in ShownKind]: (value: Unbranded<ValueOfKind[K]>) => string } = {
  duration: durationText,
  durationOrOff: (ms) => (ms === null ? 'off' : durationText(ms)),
  timeRange: rangeText,
  count: String,
  threshold: ({ open, outOf }) =>
    open === outOf ? `${String(open)} in a row` : `${String(open)} of ${String(outOf)}`,
  flag: String,
  word: (word) => word,
  gap: (um) => `${String(um / 1_000)} mm`,
  share: ppmText,
  voltage: (mv) => `${String(mv / 1_000)} V`,
  clockError: clockErrorText,
};

/** The settings of a file, in its order. A section that is as if it were not there is one line. */
export function settingTexts(file: WatchFile): readonly SettingText[] {
  const { texts, given } = textsIn(file);
  const lines = new Map<string, string>();
  for (const { key, path, row, absentWith } of allSettings) {
    if (!texts.has(key)) continue;
    if (absentWith !== null && !given.has(absentWith)) {
      lines.set(absentWith.path.slice(-1).join(''), absentWith.text);
      continue;
    }
    const text = texts.get(key) ?? row.absent;
    if (text !== undefined) lines.set(shortKey(path), text);
  }
  return Array.from(lines, ([key, text]) => ({ key, text }));
}

/** The settings that differ between files, in the order of a file. */
export function differingSettings(files: readonly WatchFile[]): readonly DifferingSetting[] {
  const all = files.map(textsIn);
  return allSettings.flatMap(({ key, path, row, absentWith }) => {
    const [first] = all;
    if (all.every(({ texts }) => texts.get(key) === first?.texts.get(key))) return [];
    const texts = all.map(({ texts: found, given }) => {
      const isAbsent = absentWith !== null && !given.has(absentWith);
      return found.get(key) ?? (isAbsent ? absentWith.text : (row.absent ?? '–'));
    });
    return [{ key: shortKey(path), texts }];
  });
}

interface FileTexts {
  /** By key; null: it is absent. */
  readonly texts: ReadonlyMap<string, string | null>;
  /** The sections in which something is not as it is in a file without them. */
  readonly given: ReadonlySet<Setting['absentWith']>;
}

function textsIn(file: WatchFile): FileTexts {
  const usual = textsByKey(defaultWatchFile());
  const texts = textsByKey(file);
  const unusual = allSettings.filter(({ key }) => texts.get(key) !== usual.get(key));
  return { texts, given: new Set(unusual.map(({ absentWith }) => absentWith)) };
}

function textsByKey(file: WatchFile): FileTexts['texts'] {
  return new Map(boundValues(file).map((value) => [value.setting.key, textOf(value)]));
}

function textOf<K extends ShownKind>({ kind, value }: SettingValue<K>): string | null {
  const write: (value: Unbranded<ValueOfKind[K]>) => string = writers[kind];
  return value === undefined ? null : write(value);
}

/** `retry.interval` of `watch.retry.interval`. */
function shortKey(path: readonly string[]): string {
  return path.slice(1).join('.');
}
