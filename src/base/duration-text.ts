// Durations for people, the smallest unit with what decimals it needs; and as files write them.
import { dayMs, hourMs, minuteMs } from './units.js';

const units = [
  { name: 'd', written: 'd', ms: dayMs },
  { name: 'h', written: 'h', ms: hourMs },
  { name: 'min', written: 'm', ms: minuteMs },
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

/**
 * A duration for a sentence, rounded so that what is said of it stays true: of bounds, latencies and openings, so that every
 * command and picture prints the same of them.
 */
export function roundedDurationText(ms: number, said: Said = 'about'): string {
  return durationText(roundedMs(ms, said));
}

/** Instants that lie closer together than this, and are rounded to whole seconds, would seem to lie at another distance. */
const closeMs = 5_000;

/**
 * For several instants of one text: each rounded as above, but where two that differ lie close together, all keep tenths of a second,
 * or milliseconds.
 */
export function roundedApart(instantsMs: readonly number[]): (ms: number) => number {
  const sorted = [...new Set(instantsMs)].sort((a, b) => a - b);
  const gapsMs = sorted.slice(1).map((ms, index) => ms - (sorted[index] ?? ms));
  const isApart = (leastMs: number): boolean => gapsMs.every((gapMs) => gapMs >= leastMs);
  if (isApart(closeMs)) return (ms) => roundedMs(ms);
  return isApart(100)
    ? (ms) => (Math.abs(ms) < 1_000 ? ms : Math.round(ms / 100) * 100)
    : (ms) => ms;
}

/**
 * Rounded further, for spans of which seconds say nothing: lengths of logs, ages, averages, lives. Seconds from a minute on,
 * minutes from an hour on, hours from two days on. Not for what is proved, and not for what a setting or an opening has.
 */
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

/**
 * A duration as files write it, exact: `1h30m`, `1m0.5s`, `400ms`, `0s`. A reader of files gives it back.
 * @param ms whole milliseconds, 0 or more.
 */
export function writeDuration(ms: number): string {
  if (ms === 0) return '0s';
  if (ms < 1_000) return `${String(ms)}ms`;
  let rest = ms;
  let text = '';
  for (const unit of units) {
    const count = Math.floor(rest / unit.ms);
    rest -= count * unit.ms;
    if (count > 0) text += `${String(count)}${unit.written}`;
  }
  return rest > 0 ? `${text}${String(rest / 1_000)}s` : text;
}
