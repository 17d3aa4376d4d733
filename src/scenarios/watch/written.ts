// Settings as a file writes them: the one way from values back to what stands in a file, which reads the same values.
import { type Row, settingOf, type ValueOfKind } from '../../model/index.js';
import { writeDuration } from '../quantity/duration.js';
import type { WatchOverride } from './overrides.js';
import { flowText, typedText } from './short-form.js';

/** Kinds of which something finds other values than the file's. */
type Writable = 'duration' | 'durationOrOff' | 'threshold' | 'word';

/** Lengths count on either clock. */
type Value<K extends Writable> = Plain<ValueOfKind[K]>;
type Plain<Of> = Of extends number ? number : Of;

const writers: { readonly [K in Writable]: (value: Value<K>) => unknown } = {
  duration: writeDuration,
  durationOrOff: (ms) => (ms === null ? 'off' : writeDuration(ms)),
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

/** An override as a line of its section: `checkInterval: 2m`. */
export function settingLine({ path, value }: WatchOverride): string {
  return `${path.at(-1) ?? ''}: ${flowText(value)}`;
}
