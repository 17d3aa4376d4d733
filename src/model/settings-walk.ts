// The table of settings as a list: its rows by their paths.
import { invariant } from '../base/index.js';
import { settings } from './settings.js';
import type { Heading, Row, Section } from './settings-kinds.js';

/** A row, and where it stands. */
export interface Setting {
  /** Where it stands in the file: `['watch', 'retry', 'interval']`. */
  readonly path: readonly string[];
  /** The same as people write it: `watch.retry.interval`. */
  readonly key: string;
  readonly row: Row;
  readonly heading: Heading;
  /** Whether it is absent unless a map around it is given. */
  readonly isInOptional: boolean;
  /** The nearest section around it whose absence is a line of a list, and that line; null: none is. */
  readonly absentWith: { readonly path: readonly string[]; readonly text: string } | null;
}

/** All settings, in the order of the file. */
export const allSettings: readonly Setting[] = Object.entries(settings).flatMap(([name, section]) =>
  settingsIn(section, { path: [name], heading: 'Watch', isInOptional: false, absentWith: null }),
);

function settingsIn(
  section: Section,
  around: Pick<Setting, 'path' | 'heading' | 'isInOptional' | 'absentWith'>,
): readonly Setting[] {
  const inside = {
    heading: section.heading ?? around.heading,
    isInOptional: around.isInOptional || section.isOptional === true,
    absentWith:
      section.absent === undefined
        ? around.absentWith
        : { path: around.path, text: section.absent },
  };
  return Object.entries(section.keys).flatMap(([name, part]): readonly Setting[] => {
    const path = [...around.path, name];
    if (part.kind === 'section') return settingsIn(part, { ...inside, path });
    const heading = part.heading ?? inside.heading;
    return [{ ...inside, path, key: path.join('.'), row: part, heading }];
  });
}

const byKey: ReadonlyMap<string, Setting> = new Map(allSettings.map((one) => [one.key, one]));

/** The setting of a key such as `watch.retry.interval`; undefined for any other path. */
export function settingAt(key: string): Setting | undefined {
  return byKey.get(key);
}

const byRow: ReadonlyMap<object, Setting> = new Map(allSettings.map((one) => [one.row, one]));

/** The setting of a row of the table: the row itself, no copy of it. */
export function settingOf(row: Pick<Row, 'kind' | 'help'>): Setting {
  const setting = byRow.get(row);
  invariant(setting !== undefined, 'a row stands in the table', { help: row.help });
  return setting;
}

/** The key of the setting whose value holds where this one is absent; null: none. */
export function followedKey({ path, row }: Setting): string | null {
  const { otherwise } = row;
  if (row.default !== undefined || typeof otherwise !== 'object') return null;
  const { like } = otherwise;
  return [...(like.includes('.') ? path.slice(0, 1) : path.slice(0, -1)), like].join('.');
}
