// Settings as a file writes them: the one way from values back to what stands in a file, which reads the same values.
import { writeDuration } from '../../base/index.js';
import { type Row, settingOf, type ValueOfKind } from '../../model/index.js';
import type { Unbranded } from './carried.js';
import type { WatchOverride } from './overrides.js';
import { flowText, typedText } from './short-form.js';

/** Kinds of which something finds other values than the file's. */
type Writable = 'duration' | 'durationOrOff' | 'count' | 'threshold' | 'word';

type Value<K extends Writable> = Unbranded<ValueOfKind[K]>;

const writers: { readonly [K in Writable]: (value: Value<K>) => unknown } = {
  duration: writeDuration,
  durationOrOff: (ms) => (ms === null ? 'off' : writeDuration(ms)),
  count: (count) => count,
  threshold: ({ open, outOf }) => (open === outOf ? open : { open, outOf }),
  word: (word) => word,
};

/** A setting with a value that was found, in place of the file's. @param source what found it, for messages. */
export function overrideWith<K extends Writable>(
  row: Row<K>,
  value: Value<K>,
  source: string,
): WatchOverride {
  const write: (value: Value<K>) => unknown = writers[row.kind];
  const written = write(value);
  return { path: settingOf(row).path, value: written, text: typedText(written, row.kind), source };
}

/** Overrides as lines of their section: `checkInterval: 2m`, `retry: { interval: 1m, attempts: 5 }`. */
export function settingLines(overrides: readonly WatchOverride[]): readonly string[] {
  const lines = new Map<string, unknown>();
  for (const { path, value } of overrides) {
    const [, key = '', inner] = path;
    const around = lines.get(key);
    lines.set(
      key,
      inner === undefined
        ? value
        : { ...(typeof around === 'object' ? around : {}), [inner]: value },
    );
  }
  return Array.from(lines, ([key, value]) => `${key}: ${flowText(value)}`);
}
