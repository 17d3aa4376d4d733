// Durations for people: at most three units, the smallest one with what decimals it needs.

const units = [
  { name: 'd', ms: 86_400_000 },
  { name: 'h', ms: 3_600_000 },
  { name: 'min', ms: 60_000 },
] as const;

/**
 * A duration in words, exact to the millisecond: `400 ms`, `1.2 s`, `3 min`, `6 min 0.8 s`, `1 h 30 min`, `2 d`.
 * @param ms whole milliseconds, of either sign.
 */
export function durationText(ms: number): string {
  if (ms < 0) return `−${durationText(-ms)}`;
  if (ms < 1_000) return `${String(ms)} ms`;
  const parts: string[] = [];
  let rest = ms;
  for (const unit of units) {
    const count = Math.floor(rest / unit.ms);
    rest -= count * unit.ms;
    if (count > 0) parts.push(`${String(count)} ${unit.name}`);
  }
  if (rest > 0) parts.push(`${String(rest / 1_000)} s`);
  return parts.join(' ');
}

/** Rounded so that what is said of it stays true: "at most" rounds up, "at least" rounds down. */
export type Said = 'about' | 'at most' | 'at least';

const rounding = { about: Math.round, 'at most': Math.ceil, 'at least': Math.floor } as const;

/** Whole seconds from a minute on, tenths of a second from a second on: what a sentence needs of a bound. */
export function roundedMs(ms: number, said: Said = 'about'): number {
  const size = Math.abs(ms);
  const grain = size < 1_000 ? 1 : size < 60_000 ? 100 : 1_000;
  return rounding[said](ms / grain) * grain;
}

/** A duration for a sentence, rounded so that what is said of it stays true. */
export function roundedDurationText(ms: number, said: Said = 'about'): string {
  return durationText(roundedMs(ms, said));
}

/** Rounded further, for long spans: seconds from a minute on, minutes from an hour on, hours from two days on. */
export function roughDurationText(ms: number, said: Said = 'about'): string {
  const size = Math.abs(ms);
  const grain =
    size < 1_000
      ? 1
      : size < 60_000
        ? 100
        : size < 3_600_000
          ? 1_000
          : size < 172_800_000
            ? 60_000
            : 3_600_000;
  return durationText(rounding[said](ms / grain) * grain);
}
