// What was noted at the door, and the record that `drill --record` reads.

/** Messages of each step that was done to its end, by its index: instants from its power-on. */
export type Noted = ReadonlyMap<number, readonly number[]>;

/** Whole seconds as minutes:seconds; with a sign before the power-on. */
export function clockText(ms: number): string {
  const seconds = Math.abs(Math.trunc(ms / 1_000));
  const sign = ms <= -1_000 ? '−' : '';
  return `${sign}${String(Math.floor(seconds / 60))}:${String(seconds % 60).padStart(2, '0')}`;
}

export function recordText(noted: Noted): string {
  const steps = [...noted].sort(([one], [other]) => one - other);
  const rows = steps.flatMap(([index, seenMs]) => {
    const step = String(index + 1);
    if (seenMs.length === 0) return [`${step},none`];
    return seenMs.map((atMs) => `${step},${clockText(Math.round(atMs / 1_000) * 1_000)}`);
  });
  return `${['step,message', ...rows].join('\n')}\n`;
}
