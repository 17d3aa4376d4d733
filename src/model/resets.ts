// What a reset leaves of retained memory. Boards differ: on many, a reset by button clears memory that survives deep sleep.
// Time runs on through every reset: the device's clock loses its reading with its power only.

/** What resets a device: a person, a watchdog or crash, or its own software. */
export const resetKinds = ['button', 'watchdog', 'software'] as const;
export type ResetKind = (typeof resetKinds)[number];

/** What each kind of reset does to retained memory; null: the watch file does not say. */
export type ResetMemory = Readonly<Record<ResetKind, 'keeps' | 'clears' | null>>;

export const unknownResets: ResetMemory = { button: null, watchdog: null, software: null };

/**
 * What resets of any kind may do: which kind may keep memory, and which may clear it; null: none. Where the file does not say,
 * both are possible.
 */
export interface PossibleResets {
  readonly keeping: ResetKind | null;
  readonly clearing: ResetKind | null;
}

/** The file's word comes before its silence; and no kind is taken for both. */
export function possibleResets(memory: ResetMemory): PossibleResets {
  const silent = resetKinds.filter((kind) => memory[kind] === null);
  const that = (does: 'keeps' | 'clears') => resetKinds.find((kind) => memory[kind] === does);
  return {
    keeping: that('keeps') ?? silent.at(-1) ?? null,
    clearing: that('clears') ?? silent[0] ?? null,
  };
}
